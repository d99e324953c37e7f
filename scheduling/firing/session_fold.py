"""The fires that a journal tells of, read entry by entry."""

from collections.abc import Iterable
from datetime import timedelta
from typing import Any

from scheduling.firing.aim import plateau_under
from scheduling.firing.session import START_COUNTS, Session
from scheduling.journal import (
    Advised,
    AllWell,
    Capped,
    CaseClosed,
    CaseHandedBack,
    CaseTaken,
    Constructed,
    CrackSeen,
    DoorMoved,
    Entry,
    FireDied,
    FireLit,
    FiringEnded,
    HazardClosed,
    Hushed,
    Jotted,
    LimitsSet,
    Measured,
    Nudged,
    Order,
    RepeatOrdered,
    Seen,
    Silent,
    TalkClosed,
    TalkOpened,
    TalkSaid,
    Unheard,
    WoodPutOn,
)

FROM_AFAR = (
    Order, CaseTaken, CaseHandedBack, CaseClosed, Constructed, Jotted, TalkOpened, TalkClosed,
    HazardClosed,
)  # fmt: skip
"""What a builder does: it says nothing of whether anybody is at the fire."""

SETTLES_UNHEARD_AFTER = timedelta(minutes=3)
"""A believed number that was read so much later settles words that nobody understood: whoever sent
it has seen the question."""


class _Open:
    """A session while the journal is being read."""

    def __init__(self, lit: FireLit, start: Measured | None) -> None:
        recent = start is not None and lit.at - start.at < START_COUNTS
        self.known: dict[str, Any] = {
            "start": start if recent else None,
            "lit_at": lit.at,
            "aim": lit.aim,
            "too_early": lit.too_early,
            "heard_at": lit.at,
        }
        self.lightings: list[FireLit] = [lit]
        self.readings: list[Measured] = []
        self.stokes: list[WoodPutOn] = []
        self.seen: list[Seen | CrackSeen] = []
        self.advised: list[Advised] = []
        self.lid_c: float | None = None
        self.repeat_c: float | None = None
        self.final_c: float | None = None

    def closed(self, number: int) -> Session:
        aim = self.known["aim"]
        aim = None if aim is None else aim.model_copy(update={"number": number})
        for most_c in (plateau_under(self.lid_c), self.repeat_c, self.final_c):
            aim = None if aim is None else aim.under(most_c)
        return Session(
            **(self.known | {"aim": aim}),
            readings=tuple(sorted(self.readings, key=lambda one: one.at)),
            stokes=tuple(sorted(self.stokes, key=lambda one: one.at)),
            seen=tuple(self.seen),
            advised=tuple(self.advised),
            lightings=tuple(self.lightings),
        )

    def take(self, entry: Entry) -> None:
        known = self.known
        if _from_the_fire(entry):
            known |= {
                "heard_at": max(known["heard_at"], entry.at),
                "silent": None,
                "nudged": None,
            }
        if isinstance(entry, Unheard):
            known["unheard"] = entry
        elif _settles(entry, known.get("unheard")):
            known["unheard"] = None
        match entry:
            case Measured():
                if entry.at >= known["lit_at"]:
                    self.readings.append(entry)
            case FireLit():
                known |= {"died_at": None, "lit_at": min(known["lit_at"], entry.at)}
                self.lightings.append(entry)
            case WoodPutOn():
                self.stokes.append(entry)
            case Seen() | CrackSeen():
                self.seen.append(entry)
            case Advised():
                self.advised.append(entry)
            case DoorMoved():
                known["door_on"] = entry.on
            case FireDied():
                known["died_at"] = entry.at
            case Nudged():
                known["nudged"] = entry
            case Silent():
                known["silent"] = entry
            case Hushed():
                known["hushed"] = entry
            case FiringEnded():
                known["ended"] = entry
            case Capped():
                self.lid_c = entry.cap_c
            case RepeatOrdered():
                self.repeat_c = entry.cap_c
            case LimitsSet(final_c=float(final_c)):
                self.final_c = final_c
            case _:
                pass


def _from_the_fire(entry: Entry) -> bool:
    """Whether somebody at the fire said it: what a builder does from afar breaks no silence."""
    if isinstance(entry, TalkSaid):
        return entry.side == "owner"
    return bool(entry.by) and not isinstance(entry, FROM_AFAR)


def _settles(entry: Entry, unheard: Unheard | None) -> bool:
    """Whether it answers what was asked about words that nobody understood."""
    match entry:
        case AllWell():
            return True
        case _ if unheard is not None and unheard.misread:
            return False
        case Measured() if unheard is not None:
            return entry.believed and entry.at >= unheard.at + SETTLES_UNHEARD_AFTER
        case Seen(what="back"):
            return True
        case _:
            return False


def sessions_of(entries: Iterable[Entry]) -> tuple[Session, ...]:
    """All fires that a journal tells of, in its order, its undone entries left out before.

    Each aim has the number of its fire in the order of lighting, whatever it was promised as. A
    fire lit again within a session stays in it.
    """
    done: list[Session] = []
    burning: _Open | None = None
    start: Measured | None = None
    for entry in entries:
        if isinstance(entry, Measured) and entry.believed and entry.top_c is not None:
            start = entry
        if isinstance(entry, FireLit) and burning is None:
            burning = _Open(entry, start)
        elif burning is not None:
            burning.take(entry)
            if isinstance(entry, FiringEnded):
                done.append(burning.closed(len(done) + 1))
                burning = None
    return (*done, burning.closed(len(done) + 1)) if burning is not None else tuple(done)
