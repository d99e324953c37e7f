"""Hazards that stand open at an oven, and how far each reaches."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from scheduling.hazard import HAZARDS, SAFE_MINUTES, Hazard, Stops
from scheduling.journal import (
    Alerted,
    CrackSeen,
    Entry,
    FireLit,
    FiringEnded,
    HazardClosed,
    HazardSeen,
    Repaired,
    Seen,
)
from scheduling.remark import CrackSize

A_DAY_MINUTES = 24 * 60.0


@dataclass(frozen=True, slots=True)
class OpenHazard:
    """A hazard and since when; ``alerted`` once the builder's side was told. ``words`` are the
    owner's own, as they were first said."""

    what: Hazard
    since: datetime
    alerted: bool = False
    words: str = ""

    @property
    def stops(self) -> Stops:
        """How far it reaches."""
        return HAZARDS[self.what].stops


def hazard_in(entry: Entry) -> Hazard | None:
    """The hazard that this entry tells of; None if it tells of none."""
    match entry:
        case HazardSeen():
            return entry.hazard
        case Seen(what="unwell" | "popping" | "flue_flames"):
            return Hazard(entry.what)
        case CrackSeen(size=CrackSize.OPEN):
            return Hazard.CRACK
        case CrackSeen(size=CrackSize.UNSAID):
            return Hazard.CRACK_UNSAID
        case FireLit(too_early=True):
            return Hazard.LIT_EARLY
        case _:
            return None


def open_hazards(entries: Iterable[Entry]) -> tuple[OpenHazard, ...]:
    """What stands open after these entries, the gravest first."""
    standing: dict[Hazard, OpenHazard] = {}
    for entry in entries:
        match entry:
            case FiringEnded():
                standing = {what: one for what, one in standing.items() if HAZARDS[what].asked}
            case HazardClosed() if entry.what != "mortar":
                standing.pop(Hazard(entry.what), None)
            case Alerted():
                _mark(standing, entry.needs)
            case Repaired():
                standing.pop(Hazard.CRACK, None)
            case _:
                _arise(standing, entry)
    order = list(Hazard)
    return tuple(sorted(standing.values(), key=lambda one: order.index(one.what)))


def _arise(standing: dict[Hazard, OpenHazard], entry: Entry) -> None:
    if isinstance(entry, CrackSeen):
        if entry.size is not CrackSize.UNSAID:
            standing.pop(Hazard.CRACK_UNSAID, None)
        elif Hazard.CRACK in standing:
            return
    what = hazard_in(entry)
    if what is None:
        return
    if isinstance(entry, HazardSeen) and what is not Hazard.UNNAMED:
        # Whatever it was that nobody had named: it has a name now.
        standing.pop(Hazard.UNNAMED, None)
    words = entry.words if isinstance(entry, HazardSeen | CrackSeen) else ""
    standing.setdefault(what, OpenHazard(what, entry.at, words=words))


def _mark(standing: dict[Hazard, OpenHazard], needs: str) -> None:
    for what, one in standing.items():
        if what.value == needs:
            standing[what] = replace(one, alerted=True)


def keeps_away(hazards: Iterable[OpenHazard]) -> OpenHazard | None:
    """The gravest for which nobody may be asked to do anything near the oven; None of none."""
    return next((one for one in hazards if HAZARDS[one.what].keep_away), None)


def asked_next(hazard: OpenHazard, now: datetime) -> datetime:
    """When it is next asked after: whether they are safe, then how it is, twice as late each time,
    and once a day in the end."""
    described, minutes = HAZARDS[hazard.what], HAZARDS[hazard.what].ask_minutes
    safe_at = hazard.since + timedelta(minutes=SAFE_MINUTES)
    due = hazard.since + timedelta(minutes=minutes)
    while due <= now:
        minutes = min(2.0 * minutes, A_DAY_MINUTES)
        due += timedelta(minutes=minutes)
    return min(due, safe_at) if described.keep_away and safe_at > now else due


def bars_lighting(hazards: Iterable[OpenHazard]) -> bool:
    """Whether no fire may be lit before one of them is closed."""
    return any(HAZARDS[one.what].asked for one in hazards)


def reach(hazards: Iterable[OpenHazard]) -> Stops | None:
    """How far the furthest of them reaches; None of none."""
    return max((one.stops for one in hazards), default=None)
