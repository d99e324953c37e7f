"""One fire from match to shut door."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from statistics import median

from scheduling.firing.aim import Action, Aim
from scheduling.journal import (
    Advised,
    CrackSeen,
    FireLit,
    FiringEnded,
    Hushed,
    Measured,
    Nudged,
    Seen,
    Silent,
    Unheard,
    WoodPutOn,
)

SIDES_BELOW_CROWN_K = 20.0
"""The crown over the hottest side, where only sides are read (own choice, on the hot side)."""

LONGEST_LINK = timedelta(minutes=90)
"""Two readings further apart say nothing of what lay between."""

START_COUNTS = timedelta(hours=3)
"""A reading longer before the match says nothing of how it was lit."""

ANSWERED_WITHIN = timedelta(minutes=25)
"""Wood that went on later than this was not what had been asked for."""

ENDS_IT = (Action.HOLD_DONE, Action.STOP, Action.SHUT_DOOR)
"""Advice that a fire is to burn down."""

LATENESS_FROM, LATENESS_OF, LATEST_RECKONED = 5, 12, 25.0
"""So many readings tell of a habit, of the last so many; minutes that are reckoned with."""

LARGEST_CHARGE = 3.0
"""Of the planned one: more at once is asked for by nobody (own choice)."""

CHARGE_LASTS, CHARGE_GONE = timedelta(minutes=25), timedelta(minutes=45)
"""A charge of sticks has come and gone (own choice)."""

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

    ``aim`` is as it has been ordered since it was lit; ``lit_for`` as it was laid and lit.
    ``heard_at`` is the last time anybody said anything; ``silent`` the step of the silence that
    has been reached since. ``unheard`` is a message that could not be worked on, until somebody has
    told more of the fire. ``raked`` is set once it was advised to end the fire.
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
    unheard: Unheard | None = None
    """Words said here that nobody understood, and that nothing has settled since."""
    died_at: datetime | None = None
    ended: FiringEnded | None = None
    start: Measured | None = None
    """The last believed reading before it was lit."""
    lightings: tuple[FireLit, ...] = ()
    """What was said of its lighting: more than once where it was corrected, or lit again."""

    @property
    def lit_for(self) -> Aim | None:
        """The aim that it was laid for, whatever has been ordered since."""
        return self.lightings[0].aim if self.lightings else self.aim

    @property
    def tended(self) -> bool:
        """More is known of it than that it was lit."""
        return bool(self.readings or self.stokes or self.advised or self.ended is not None)

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
        """The last doubtful reading that no believed one of the crown has settled since."""
        for one in reversed(self.readings):
            if not one.believed:
                return one
            if one.top_c is not None:
                return None
        return None

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
        earlier = self.believed[:-1]
        if self.start is not None:
            earlier = (self.start.model_copy(update={"at": self.lit_at}), *earlier)
        for before in reversed(earlier):
            apart = self.last.at - before.at
            earlier_c = crown_c(before)
            if apart >= SHORTEST_LINK and earlier_c is not None:
                if apart > LONGEST_LINK:
                    return None
                return (self.top_c - earlier_c) / (apart / timedelta(hours=1))
        return None

    @property
    def steady_climb_k_h(self) -> float | None:
        """Kelvin an hour over the life of a charge: the crown swings with every charge, and only
        the wall's face with it. At most what the last two readings say."""
        climb, last, top_c = self.climb_k_h, self.last, self.top_c
        if climb is None or last is None or top_c is None:
            return climb
        apart = [
            (last.at - one.at, before_c)
            for one in self.believed[:-1]
            if (before_c := crown_c(one)) is not None
            and CHARGE_LASTS <= last.at - one.at <= CHARGE_GONE
        ]
        if not apart:
            return climb
        since, before_c = apart[-1]
        return min(climb, (top_c - before_c) / (since / timedelta(hours=1)))

    @property
    def ending(self) -> bool:
        """The fire is to burn down: held long enough, stopped, or left."""
        return any(one.action in ENDS_IT for one in self.advised)

    @property
    def stopped(self) -> bool:
        """It was stopped before its time."""
        return any(one.action is Action.STOP for one in self.advised)

    @property
    def last_fed_at(self) -> datetime:
        """When wood last went on, or was asked for; the lighting counts."""
        asked = [
            one.at for one in self.advised if one.action is Action.ADD and not self._declined(one)
        ]
        return max([one.at for one in self.stokes] + asked, default=self.lit_at)

    @property
    def embers_at(self) -> datetime | None:
        """When somebody last looked and found nothing but embers: of what went on before, no
        wood is left."""
        looked = [one.at for one in self.seen if getattr(one, "what", "") == "only_embers"]
        return max(looked, default=None)

    @property
    def soot_seen(self) -> tuple[str, ...]:
        """What was said of the soot, in order: ``soot_clear`` or ``soot_black``. In the first
        half of the climb nothing counts: a young fire lays soot on a bare wall."""
        if self.aim is None:
            return ()
        hot_from = self.lit_at + timedelta(hours=0.5 * (self.aim.session_h - self.aim.hold_h))
        said = (getattr(one, "what", "") for one in self.seen if one.at >= hot_from)
        return tuple(what for what in said if what in ("soot_clear", "soot_black"))

    @property
    def fed(self) -> tuple[WoodPutOn, ...]:
        """All wood since the lighting: what was told, and what was asked for and never answered
        for. Who never answers puts it on and says nothing; who mostly does, mostly did not. The
        last that was asked for counts in full: nothing has shown yet which it is."""
        asked = [one for one in self.advised if one.action is Action.ADD]
        silent = [one for one in asked if not self._answered_for(one)]
        share = len(silent) / max(1, len(asked))
        taken = [
            WoodPutOn(
                at=one.at,
                by=one.by,
                kg=(one.kg or 0.0) * (1.0 if one is asked[-1] else share),
                advised=True,
            )
            for one in silent
        ]
        return tuple(sorted((*self.stokes, *taken), key=lambda one: one.at))

    @property
    def lit_again_in_vain(self) -> bool:
        """Whether the last wood asked for was to light what smoulders, and went on: what is asked
        after it, the crown has not answered."""
        asked = next((one for one in reversed(self.advised) if one.action is Action.ADD), None)
        if asked is None or asked.why != "not_burning":
            return False
        return any(asked.at <= one.at <= asked.at + ANSWERED_WITHIN for one in self.stokes)

    @property
    def lateness(self) -> tuple[float, ...]:
        """Minutes by which each reading came after it was asked for; 0 if it came in time."""
        asked = [one for one in self.advised if one.minutes is not None]
        due = [(one.at, one.at + timedelta(minutes=one.minutes or 0.0)) for one in asked]
        late = []
        for read in self.believed:
            last = max((until for at, until in due if at < read.at), default=None)
            if last is not None:
                late.append(max(0.0, (read.at - last) / timedelta(minutes=1)))
        return tuple(late)

    def _answered_for(self, asked: Advised) -> bool:
        """Whether it was told that this wood went on, or that there is none."""
        until = asked.at + ANSWERED_WITHIN
        told = any(asked.at <= one.at <= until for one in self.stokes)
        return told or self._declined(asked)

    def _declined(self, asked: Advised) -> bool:
        """Whether it was said that this wood did not go on: there is none, or it was no use."""
        until = asked.at + ANSWERED_WITHIN
        return any(
            getattr(one, "what", "") in ("wood_out", "only_embers")
            and asked.at <= one.at <= until
            and not any(asked.at <= stoke.at <= one.at for stoke in self.stokes)
            for one in self.seen
        )

    def held_h(self, until: datetime | None = None) -> float:
        """Hours in the band or above, between believed readings.

        Without any reading it is the time beyond the climb that the aim allows for, until
        ``until`` (its end, or when somebody was last heard) or until it was advised to let it die.
        Everybody who tells a hold takes it from here.
        """
        if self.aim is None:
            return 0.0
        if not self.readings:
            over = None if self.ended is None else self.ended.at
            return self._kept_up_h(until or self.died_at or over or self.heard_at)
        spans = self.spans_held()
        return sum(((end - begin) / timedelta(hours=1) for begin, end in spans), start=0.0)

    def _kept_up_h(self, until: datetime) -> float:
        """Hours beyond the climb by the clock alone."""
        if self.aim is None:
            return 0.0
        over = min([until, *(one.at for one in self.advised if one.action in ENDS_IT)])
        climb_h = self.aim.session_h - self.aim.hold_h
        return max(0.0, (over - self.lit_at) / timedelta(hours=1) - climb_h)

    def spans_held(self) -> tuple[tuple[datetime, datetime], ...]:
        """When it was in the band or above, on the straight lines between believed readings;
        what touches is one span."""
        if self.aim is None:
            return ()
        spans: list[tuple[datetime, datetime]] = []
        for one, other in pairwise(self.believed):
            span = _above(self.aim.low_c, one, other)
            if span is not None and spans and spans[-1][1] == span[0]:
                spans[-1] = (spans[-1][0], span[1])
            elif span is not None:
                spans.append(span)
        return tuple(spans)


def _above(low_c: float, one: Measured, other: Measured) -> tuple[datetime, datetime] | None:
    """From when to when it was above ``low_c`` on the straight line between two readings."""
    apart = other.at - one.at
    start, end = crown_c(one), crown_c(other)
    if apart > LONGEST_LINK or start is None or end is None or max(start, end) < low_c:
        return None
    if min(start, end) >= low_c or start == end:
        return one.at, other.at
    crossed = one.at + apart * ((low_c - start) / (end - start))
    return (crossed, other.at) if end > start else (one.at, crossed)


def usually_late(sessions: Sequence[Session]) -> float:
    """Minutes by which whoever tends these fires reads later than asked, in the middle of the last
    ones; 0 while there are too few to tell."""
    late = [one for session in sessions for one in session.lateness][-LATENESS_OF:]
    return min(median(late), LATEST_RECKONED) if len(late) >= LATENESS_FROM else 0.0


def burnt_kg_h(session: Session) -> float:
    """Wood that a fire took, by the hour, from its lighting to its last reading. A charge that was
    told as more than anybody asks for may be a slip, and counts as that."""
    if not session.believed or session.aim is None:
        return 0.0
    until = session.believed[-1].at
    hours = (until - session.lit_at) / timedelta(hours=1)
    most_kg = LARGEST_CHARGE * session.aim.charge_kg
    kg = session.aim.lay_kg + sum(
        min(one.kg or 0.0, most_kg) for one in session.stokes if one.at < until
    )
    return kg / hours if hours > 1.0 else 0.0


def completed(sessions: Sequence[Session]) -> tuple[Session, ...]:
    """Those that count as a firing of the plan."""
    return tuple(one for one in sessions if one.ended is not None and one.ended.completed)
