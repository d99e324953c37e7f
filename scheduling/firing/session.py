"""One fire from match to shut door, read out of the journal."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from itertools import pairwise

from scheduling.firing.aim import Action, Aim
from scheduling.journal import (
    Advised,
    CrackSeen,
    DoorMoved,
    Entry,
    FireDied,
    FireLit,
    FiringEnded,
    Hushed,
    Measured,
    Nudged,
    Seen,
    Silent,
    WoodPutOn,
)

SIDES_BELOW_CROWN_K = 20.0
"""The crown over the hottest side, where only sides are read (own choice, on the hot side)."""

LONGEST_LINK = timedelta(minutes=90)
"""Two readings further apart say nothing of what lay between."""

SHORTEST_LINK = timedelta(minutes=8)
"""Two readings nearer than this tell no climb."""


def crown_c(reading: Measured) -> float | None:
    """The crown as read, or as it must be at least where only sides were; None for neither."""
    if reading.top_c is not None:
        return max(reading.top_c, *reading.sides_c) if reading.sides_c else reading.top_c
    return max(reading.sides_c) + SIDES_BELOW_CROWN_K if reading.sides_c else None


@dataclass(frozen=True, slots=True)
class Session:
    """A fire. ``readings`` and ``stokes`` are in order of the time they tell of.

    ``heard_at`` is the last time anybody said anything; ``silent`` the step of the silence that
    has been reached since. ``raked`` is set once it was advised to end the fire.
    """

    lit_at: datetime
    aim: Aim | None
    too_early: bool
    heard_at: datetime
    readings: tuple[Measured, ...] = ()
    stokes: tuple[WoodPutOn, ...] = ()
    seen: tuple[Seen | CrackSeen, ...] = ()
    advised: tuple[Advised, ...] = ()
    door_on: bool = False
    nudged: Nudged | None = None
    silent: Silent | None = None
    hushed: Hushed | None = None
    died_at: datetime | None = None
    ended: FiringEnded | None = None

    @property
    def believed(self) -> tuple[Measured, ...]:
        """Believed readings of the crown since the fire was lit."""
        return tuple(one for one in self.readings if one.believed and crown_c(one) is not None)

    @property
    def last(self) -> Measured | None:
        """The last believed reading of the crown."""
        return self.believed[-1] if self.believed else None

    @property
    def doubted(self) -> Measured | None:
        """The last reading, if it is doubtful."""
        return self.readings[-1] if self.readings and not self.readings[-1].believed else None

    @property
    def top_c(self) -> float | None:
        """The crown by the last believed reading."""
        return None if self.last is None else crown_c(self.last)

    @property
    def peak_c(self) -> float | None:
        """The highest believed crown."""
        tops = [top for one in self.believed if (top := crown_c(one)) is not None]
        return max(tops, default=None)

    @property
    def climb_k_h(self) -> float | None:
        """Kelvin an hour between the last two believed readings that can tell it."""
        if self.last is None or self.top_c is None:
            return None
        for before in reversed(self.believed[:-1]):
            apart = self.last.at - before.at
            earlier_c = crown_c(before)
            if apart >= SHORTEST_LINK and earlier_c is not None:
                if apart > LONGEST_LINK:
                    return None
                return (self.top_c - earlier_c) / (apart / timedelta(hours=1))
        return None

    @property
    def ending(self) -> bool:
        """The fire is to burn down: held long enough, stopped, or left."""
        return any(
            one.action in (Action.HOLD_DONE, Action.STOP, Action.SHUT_DOOR) for one in self.advised
        )

    @property
    def stopped(self) -> bool:
        """It was stopped before its time."""
        return any(one.action is Action.STOP for one in self.advised)

    @property
    def last_fed_at(self) -> datetime:
        """When wood last went on, or was asked for; the lighting counts."""
        asked = [one.at for one in self.advised if one.action is Action.ADD]
        return max([one.at for one in self.stokes] + asked, default=self.lit_at)

    def held_h(self, until: datetime | None = None) -> float:
        """Hours in the band or above, between believed readings.

        Without any reading it is the time beyond the climb that the aim allows for, counted
        until ``until``.
        """
        if self.aim is None:
            return 0.0
        if not self.readings:
            climb_h = self.aim.session_h - self.aim.hold_h
            if until is None:
                return 0.0
            return max(0.0, (until - self.lit_at) / timedelta(hours=1) - climb_h)
        return sum(_above_h(self.aim.low_c, one, other) for one, other in pairwise(self.believed))

    def hold(self) -> tuple[datetime, datetime] | None:
        """From the first to the last believed reading in the band."""
        if self.aim is None:
            return None
        inside = [one.at for one in self.believed if (crown_c(one) or 0.0) >= self.aim.low_c]
        return (inside[0], inside[-1]) if len(inside) > 1 else None


def _above_h(low_c: float, one: Measured, other: Measured) -> float:
    """Hours above ``low_c`` on the straight line between two readings."""
    apart = other.at - one.at
    start, end = crown_c(one), crown_c(other)
    if apart > LONGEST_LINK or start is None or end is None or max(start, end) < low_c:
        return 0.0
    hours = apart / timedelta(hours=1)
    if min(start, end) >= low_c or start == end:
        return hours
    return hours * (max(start, end) - low_c) / abs(end - start)


@dataclass
class _Open:
    """A session while the journal is being read."""

    session: Session
    readings: list[Measured] = field(default_factory=list)
    stokes: list[WoodPutOn] = field(default_factory=list)
    seen: list[Seen | CrackSeen] = field(default_factory=list)
    advised: list[Advised] = field(default_factory=list)

    def closed(self) -> Session:
        return replace(
            self.session,
            readings=tuple(sorted(self.readings, key=lambda one: one.at)),
            stokes=tuple(sorted(self.stokes, key=lambda one: one.at)),
            seen=tuple(self.seen),
            advised=tuple(self.advised),
        )


def sessions_of(entries: Iterable[Entry]) -> tuple[Session, ...]:
    """All fires that a journal tells of, in its order, its undone entries left out before.

    A fire lit again within a session stays in it.
    """
    done: list[Session] = []
    open_: _Open | None = None
    for entry in entries:
        if isinstance(entry, FireLit) and open_ is None:
            open_ = _Open(Session(entry.at, entry.aim, entry.too_early, entry.at))
        elif open_ is not None:
            _take(open_, entry)
            if open_.session.ended is not None:
                done.append(open_.closed())
                open_ = None
    return (*done, open_.closed()) if open_ is not None else tuple(done)


def _take(into: _Open, entry: Entry) -> None:
    session = into.session
    if entry.by:
        session = replace(
            session, heard_at=max(session.heard_at, entry.at), silent=None, nudged=None
        )
    match entry:
        case Measured():
            if entry.at >= session.lit_at:
                into.readings.append(entry)
        case FireLit():
            session = replace(session, died_at=None, lit_at=min(session.lit_at, entry.at))
        case WoodPutOn():
            into.stokes.append(entry)
        case Seen() | CrackSeen():
            into.seen.append(entry)
        case Advised():
            into.advised.append(entry)
        case DoorMoved():
            session = replace(session, door_on=entry.on)
        case FireDied():
            session = replace(session, died_at=entry.at)
        case Nudged():
            session = replace(session, nudged=entry)
        case Silent():
            session = replace(session, silent=entry)
        case Hushed():
            session = replace(session, hushed=entry)
        case FiringEnded():
            session = replace(session, ended=entry)
        case _:
            pass
    into.session = session


def completed(sessions: Sequence[Session]) -> tuple[Session, ...]:
    """Those that count as a firing of the plan."""
    return tuple(one for one in sessions if one.ended is not None and one.ended.completed)
