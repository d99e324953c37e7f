"""Troubles that stand open, and which of them keep an oven from being fired."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from scheduling.journal import (
    Alerted,
    CrackSeen,
    Entry,
    FireLit,
    FiringEnded,
    Repaired,
    Seen,
    TroubleClosed,
)
from scheduling.remark import CrackSize


class Trouble(StrEnum):
    """What is wrong, the most pressing first."""

    UNWELL = "unwell"
    POPPING = "popping"
    FLUE = "flue_flames"
    CRACK = "crack"
    CRACK_UNSAID = "crack_unsaid"  # nobody has said yet whether it is open
    LIT_EARLY = "lit_early"


STOPS_FIRE = frozenset(
    {Trouble.UNWELL, Trouble.POPPING, Trouble.FLUE, Trouble.CRACK, Trouble.LIT_EARLY}
)
"""With one of these open, a burning fire is left to die."""

BARS_FIRING = frozenset({Trouble.UNWELL, Trouble.POPPING, Trouble.FLUE, Trouble.CRACK})
"""With one of these open, no fire is lit until somebody has looked and closed it."""


@dataclass(frozen=True, slots=True)
class OpenTrouble:
    """A trouble and since when; ``alerted`` once the builder's side was told."""

    what: Trouble
    since: datetime
    alerted: bool = False
    photo: str | None = None


def open_troubles(entries: Iterable[Entry]) -> tuple[OpenTrouble, ...]:
    """What stands open after these entries, the most pressing first."""
    standing: dict[Trouble, OpenTrouble] = {}

    def arise(what: Trouble, entry: Entry, photo: str | None = None) -> None:
        standing.setdefault(what, OpenTrouble(what, entry.at, photo=photo))

    for entry in entries:
        match entry:
            case Seen(what="unwell"):
                arise(Trouble.UNWELL, entry)
            case Seen(what="popping"):
                arise(Trouble.POPPING, entry)
            case Seen(what="flue_flames"):
                arise(Trouble.FLUE, entry)
            case CrackSeen(size=CrackSize.OPEN):
                standing.pop(Trouble.CRACK_UNSAID, None)
                arise(Trouble.CRACK, entry, entry.photo)
            case CrackSeen(size=CrackSize.UNSAID):
                if Trouble.CRACK not in standing:
                    arise(Trouble.CRACK_UNSAID, entry, entry.photo)
            case CrackSeen():
                standing.pop(Trouble.CRACK_UNSAID, None)
            case FireLit(too_early=True):
                arise(Trouble.LIT_EARLY, entry)
            case FiringEnded():
                standing.pop(Trouble.LIT_EARLY, None)
                standing.pop(Trouble.CRACK_UNSAID, None)
            case TroubleClosed():
                standing.pop(Trouble(entry.what), None)
            case Alerted():
                _mark(standing, entry.needs)
            case Repaired():
                standing.pop(Trouble.CRACK, None)
            case _:
                pass
    order = list(Trouble)
    return tuple(sorted(standing.values(), key=lambda one: order.index(one.what)))


def _mark(standing: dict[Trouble, OpenTrouble], needs: str) -> None:
    for what, one in standing.items():
        if what.value == needs:
            standing[what] = OpenTrouble(one.what, one.since, True, one.photo)
