"""What the record of an oven holds: its journal in the order of a paper. Facts, no verdict.

Everything is derived from ``Record``; what was taken back is told as taken back. Temperatures
are °C as shown by the instrument, instants are aware, weights kilograms.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from itertools import zip_longest

from bot.papers.firing_log import FiringLog, firing_logs, grouped
from bot.papers.letterhead import Letterhead
from bot.papers.rows import Row, rows_of
from scheduling.journal import (
    Asked,
    CrackSeen,
    Entry,
    Finished,
    HazardClosed,
    HazardSeen,
    Jotted,
    LimitsSet,
    Noted,
    Order,
    PromisedFiring,
    Reopened,
    Repaired,
    Seen,
    TakenBack,
    TalkSaid,
    Undone,
    Worded,
    earliest,
)
from scheduling.oven.makeup import MakeUp
from scheduling.oven.maturity import Cure
from scheduling.record import Record
from scheduling.record.hazards import hazard_in
from scheduling.record.outlook import cure_of, limits_of
from scheduling.remark import CrackSize


@dataclass(frozen=True, slots=True)
class People:
    """Who is named, by their ids: those who tend the fire, and the builder's side."""

    names: Mapping[str, str]
    builder: frozenset[str] = frozenset()
    phones: Mapping[str, str] = field(default_factory=dict)
    """Where those who tend the fire can be rung: only on a builder's own paper."""

    def name(self, person: str) -> str:
        """Their name; "" for one who is no longer known, or for the house itself."""
        return self.names.get(person, "")


@dataclass(frozen=True, slots=True)
class SignOrCrack:
    """A crack or a danger that was reported, and what became of it."""

    seen: CrackSeen | Seen | HazardSeen
    firing: int | None
    """The fire it belongs to, by its number; None between fires."""
    closed: HazardClosed | Repaired | None = None


@dataclass(frozen=True, slots=True)
class Ordered:
    """An order by its number in the journal; ``back`` if it was taken back."""

    seq: int
    order: Order
    back: TakenBack | None = None


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """An entry that was taken back or replaced by an edited message, and the one that did it."""

    seq: int
    entry: Entry
    by: Undone


@dataclass(frozen=True, slots=True)
class DaysLaid:
    """Firing days as they were laid for the owner, and why they were laid anew. Days that come
    while a danger stands open are told once it is settled."""

    at: datetime
    firings: tuple[PromisedFiring, ...]
    why: str


@dataclass(frozen=True, slots=True)
class OvenRecord:
    """An oven's record as of an instant. ``entries`` counts the whole journal."""

    oven: str
    place: str
    letterhead: Letterhead
    unit: str
    record: Record
    people: People
    as_of: datetime
    opened_at: datetime
    entries: int
    makeup: MakeUp | None
    cure: Cure | None
    limits: LimitsSet | None
    finished_at: datetime | None
    firings: tuple[FiringLog, ...]
    signs: tuple[SignOrCrack, ...]
    orders: tuple[Ordered, ...]
    worded: tuple[Worded, ...]
    """The builder's own words, each as it was taken over."""
    days: tuple[DaysLaid, ...]
    between: tuple[Row, ...]
    """Readings and signs that belong to no fire."""
    notes: tuple[Noted | Jotted | TalkSaid, ...]
    """Remarks, notes that the owner was shown, and what both sides said through the bot. What the
    builder's side jotted down for itself stands in no record."""
    repairs: tuple[Repaired | Reopened, ...]
    withdrawn: tuple[Withdrawn, ...]

    @property
    def builder(self) -> str:
        """The builder as on their own papers; "" for an oven without one."""
        return self.letterhead.name

    @property
    def has_thermometer(self) -> bool:
        """Whether its people can read the dome at all."""
        return self.makeup is not None and self.makeup.instrument is not None

    @property
    def photos(self) -> tuple[str, ...]:
        """References of the pictures that belong to it, in the order they were sent."""
        cracks = [one.seen.photo for one in self.signs if isinstance(one.seen, CrackSeen)]
        notes = [one.photo for one in self.pictured]
        return tuple(reference for reference in (*cracks, *notes) if reference)

    @property
    def pictured(self) -> tuple[Noted | TalkSaid, ...]:
        """Notes and talk with a picture."""
        return tuple(one for one in self.notes if not isinstance(one, Jotted) and one.photo)


def record_of(
    record: Record,
    people: People,
    as_of: datetime,
    *,
    oven: str = "",
    place: str = "",
    letterhead: Letterhead | None = None,
    unit: str | None = None,
) -> OvenRecord:
    """The record of an oven as of an instant. Raises ValueError for a journal without entries."""
    firings = firing_logs(record)
    _, left = grouped(record)
    finished = record.last_of(Finished) if record.finished else None
    makeup = record.makeup
    return OvenRecord(
        oven=record.name or oven or (makeup.name if makeup is not None else ""),
        place=place or _on_the_globe(makeup),
        letterhead=letterhead or Letterhead(),
        unit=unit or record.unit,
        record=record,
        people=people,
        as_of=as_of,
        opened_at=earliest(record.entries),
        entries=len(record.entries),
        makeup=makeup,
        cure=cure_of(record, as_of),
        limits=limits_of(record),
        finished_at=None if finished is None else finished.at,
        firings=firings,
        signs=_signs(record, firings),
        orders=_orders(record),
        worded=tuple(record.all_of(Worded)),
        days=_days(record),
        between=rows_of(one for one in left if not isinstance(one.entry, Order)),
        notes=_notes(record),
        repairs=_repairs(record),
        withdrawn=_withdrawn(record),
    )


def _on_the_globe(makeup: MakeUp | None) -> str:
    """A place that has no name, by its degrees: 52.20° N, 1.50° W."""
    if makeup is None or makeup.latitude is None or makeup.longitude is None:
        return ""
    north, east = makeup.latitude, makeup.longitude
    across = f"{abs(north):.2f}° {'S' if north < 0 else 'N'}"
    return f"{across}, {abs(east):.2f}° {'W' if east < 0 else 'E'}"


def _notes(record: Record) -> tuple[Noted | Jotted | TalkSaid, ...]:
    return tuple(
        entry
        for entry in record.facts
        if isinstance(entry, Noted | Jotted | TalkSaid) and _is_told(entry) and not _is_empty(entry)
    )


def _is_told(entry: Entry) -> bool:
    """Whether somebody said it, and not for the builder's side alone."""
    return bool(entry.by) and not (isinstance(entry, Jotted) and not entry.shown)


def _is_empty(entry: Noted | Jotted | TalkSaid) -> bool:
    return not entry.text and (isinstance(entry, Jotted) or not entry.photo)


def _repairs(record: Record) -> tuple[Repaired | Reopened, ...]:
    return tuple(one for one in record.facts if isinstance(one, Repaired | Reopened))


def _signs(record: Record, firings: Iterable[FiringLog]) -> tuple[SignOrCrack, ...]:
    """Cracks and dangers in order, each with the first that closed its kind afterwards."""
    numbers = {id(seen): log.number for log in firings for row in log.rows for seen in row.told}
    found: list[SignOrCrack] = []
    facts = record.facts
    for index, entry in enumerate(facts):
        if isinstance(entry, CrackSeen):
            what = "crack"
        elif isinstance(entry, Seen | HazardSeen) and (hazard := hazard_in(entry)) is not None:
            what = hazard.value
        else:
            continue
        if isinstance(entry, CrackSeen) and entry.size is CrackSize.HAIRLINE:
            what = "hairline"  # nothing that anybody has to close
        closed = next((closing for e in facts[index:] if (closing := _closing(e, what))), None)
        found.append(SignOrCrack(entry, numbers.get(id(entry)), closed))
    return tuple(found)


def _closing(entry: Entry, what: str) -> HazardClosed | Repaired | None:
    """The entry, if it is one that settles a matter of that kind."""
    match entry:
        case HazardClosed() if entry.what == what:
            return entry
        case Repaired() if what in ("crack", "hairline"):
            return entry
    return None


def _orders(record: Record) -> tuple[Ordered, ...]:
    counted = {one.seq for one in record.live}
    backs = {one.entry.seq: one.entry for one in record.live if isinstance(one.entry, TakenBack)}
    return tuple(
        Ordered(seq, entry, backs.get(seq))
        for seq, entry in enumerate(record.entries, 1)
        if isinstance(entry, Order)
        and not isinstance(entry, TakenBack | Worded)
        and (seq in counted or seq in backs)
    )


def _days(record: Record) -> tuple[DaysLaid, ...]:
    """Each laying whose days differ from the one before. A day that was kept ready while the
    soot was asked after, and that nobody needed, was never told."""
    told: list[DaysLaid] = []
    looked_for_soot = {one.at for one in record.all_of(Asked) if one.what == "soot"}
    for one, after in zip_longest(record.promises, record.promises[1:]):
        if after is not None and after.why == "done" and one.at in looked_for_soot:
            continue
        days = [(f.number, f.day) for f in one.firings]
        before = [(f.number, f.day) for f in told[-1].firings] if told else []
        # A fire that was made leaves the list without any day having moved.
        if days and not set(days) <= set(before):
            told.append(DaysLaid(one.at, one.firings, one.why))
    return tuple(told)


def _withdrawn(record: Record) -> tuple[Withdrawn, ...]:
    counted = {one.seq for one in record.live}
    found: list[Withdrawn] = []
    for entry in record.entries:
        if not isinstance(entry, Undone):
            continue
        gone = [seq for seq in entry.seqs if 1 <= seq <= len(record.entries)]
        found += [
            Withdrawn(seq, record.entries[seq - 1], entry)
            for seq in gone
            if seq not in counted and _is_told(record.entries[seq - 1])
        ]
    return tuple(found)


__all__ = ["DaysLaid", "Ordered", "OvenRecord", "People", "SignOrCrack", "Withdrawn", "record_of"]
