"""The log of a fire row by row: what fell on one instant, and when it had been asked for."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from scheduling.firing.aim import Action
from scheduling.journal import (
    Advised,
    AllWell,
    Asked,
    CrackSeen,
    DoorMoved,
    Entry,
    FireDied,
    FireLit,
    FiringEnded,
    HazardClosed,
    HazardSeen,
    Hushed,
    Measured,
    Nudged,
    Order,
    Seen,
    Silent,
    Unheard,
    WeatherTold,
    WoodPutOn,
)
from scheduling.record.live import Numbered

Told = (
    FireLit | FireDied | DoorMoved | FiringEnded | Seen | CrackSeen | Silent | Hushed | Nudged
    | HazardSeen | Unheard | AllWell | HazardClosed | Order | WeatherTold
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Row:
    """What happened at one instant: a reading, wood, what was told, and what was then advised.

    ``asked_at`` is when that reading, wood or match was first asked for; None for what nobody had
    asked for.
    """

    at: datetime
    by: str = ""
    asked_at: datetime | None = None
    reading: Measured | None = None
    wood: WoodPutOn | None = None
    told: tuple[Told, ...] = ()
    advised: Advised | None = None


ANSWERED_WITHIN = timedelta(hours=12)
"""What comes later answers no question of the morning (own choice)."""


@dataclass(slots=True)
class _Questions:
    """What has been asked for and not been answered yet, by when it was first asked."""

    reading: datetime | None = None
    wood: datetime | None = None
    match: datetime | None = None
    door_on: bool | None = None

    def take(self, entry: Entry) -> datetime | None:
        """When this entry had been asked for, if it answers anything."""
        at: datetime | None = None
        match entry:
            case Nudged() | Asked(what="morning"):
                self.reading = self.reading or entry.at
            case Asked(what="light"):
                self.match = entry.at
            case Advised(action=Action.ADD):
                self.wood = entry.at
            case Measured():
                at, self.reading = self.reading, None
            case WoodPutOn(advised=True):
                at, self.wood = self.wood, None
            case FireLit():
                at, self.match = self.match, None
        return at if at is not None and entry.at - at <= ANSWERED_WITHIN else None

    def is_said_again(self, entry: Entry) -> bool:
        """Whether it tells of the door what was told before."""
        if isinstance(entry, FireLit):
            self.door_on = None
        if not isinstance(entry, DoorMoved):
            return False
        again, self.door_on = self.door_on is entry.on, entry.on
        return again


def rows_of(entries: Iterable[Numbered]) -> tuple[Row, ...]:
    """Entries as rows: what fell on one instant stands together, each kind once a row.

    A nudge that was answered gets no row of its own; one that had to be repeated does.
    """
    rows: list[Row] = []
    questions = _Questions()
    for one in sorted(entries, key=lambda one: (one.entry.at, one.seq)):
        entry = one.entry
        asked_at = questions.take(entry)
        if questions.is_said_again(entry) or (isinstance(entry, Nudged) and not entry.repeat):
            continue
        last = rows[-1] if rows and rows[-1].at == entry.at else Row(entry.at)
        added = _with(last, entry)
        if added is None:
            last, added = Row(entry.at), _with(Row(entry.at), entry)
        if added is None:
            continue
        added = replace(added, asked_at=added.asked_at or asked_at)
        if rows and rows[-1] is last:
            rows[-1] = added
        else:
            rows.append(added)
    return tuple(rows)


def _with(row: Row, entry: object) -> Row | None:
    """The row with one more entry in it; None where that place is taken."""
    match entry:
        case Measured() if row.reading is None and row.advised is None:
            return replace(row, reading=entry, by=row.by or entry.by)
        case WoodPutOn() if row.wood is None and row.advised is None:
            return replace(row, wood=entry, by=row.by or entry.by)
        case Advised() if row.advised is None:
            return replace(row, advised=entry)
        case (
            FireLit() | FireDied() | DoorMoved() | FiringEnded() | Seen() | CrackSeen() | Silent()
            | HazardSeen() | Unheard() | AllWell()
            | Hushed() | Nudged() | HazardClosed() | Order() | WeatherTold()
        ) if row.advised is None or not row.told:  # fmt: skip
            return replace(row, told=(*row.told, entry), by=row.by or entry.by)
    return None
