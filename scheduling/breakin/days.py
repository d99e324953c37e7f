"""The remaining break-in on the calendar: what is weighed, and what came out.

A told day that is not fired on costs its price even when all is finished before it: so the
price of leaving one calendar for another is a distance between them, and days that have been
told stand when nothing else changes. The layout is found by ``scheduling.breakin.laying``;
``cost_of`` here adds the same costs up for any calendar, line by line. Costs are in days: one is
a day later to finish.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

FIRM_D = 1
"""Days ahead that are told as firm: a forecast reaches that far; later days are pencilled in."""

LONGEST_GAP_D = 15
"""Gaps are told apart up to this many days since the last firing; longer counts as this."""


@dataclass(frozen=True, slots=True)
class Weights:
    """What things cost, in days of finishing later (own choices, tried over seasons)."""

    day: float = 1.0
    """Each day on which the break-in is not finished yet."""
    poor: float = 4.5
    """Lighting on a day that is sure to be poor."""
    dropped: float = 0.05
    """Not firing on a day that was pencilled in."""
    promised: float = 2.0
    """Not firing on a day that was promised."""
    moved: float = 0.02
    """Firing on a day that was neither, once days have been told."""
    unplaced: float = 40.0
    """A firing that finds no day within the horizon."""


@dataclass(frozen=True, slots=True)
class GapEffect:
    """What days without a fire do, by days since the last firing (index 1 to LONGEST_GAP_D).

    ``lost[g]`` is the cost of the heat that is gone, in days. ``extra[g]`` is 1 where the firing
    after such a gap does not count, because the wall needs a warm-up or a repeat first; that is
    taken from the wall by ``from_wall``. Index 0, no firing yet, is 0 in both.
    """

    lost: tuple[float, ...] = (0.0, 0.0, 0.15, 0.25, *(0.35,) * (LONGEST_GAP_D - 3))
    extra: tuple[int, ...] = (*(0,) * 14, *(1,) * (LONGEST_GAP_D - 13))
    """After two weeks a short warm-up comes first (common practice, no published source)."""

    def __post_init__(self) -> None:
        if len(self.lost) != LONGEST_GAP_D + 1 or len(self.extra) != LONGEST_GAP_D + 1:
            raise ValueError(f"a gap table has {LONGEST_GAP_D + 1} entries")

    @staticmethod
    def from_wall(
        firings_after: Callable[[int], int], ask_at: Sequence[int] = (1, 3, 7, LONGEST_GAP_D)
    ) -> "GapEffect":
        """Ask the planner how many firings are left after some gaps, and fill in between.

        ``firings_after(gap_d)`` runs the wall over the gap. Between two asked gaps the longer
        one's answer counts, which is the gentler.
        """
        asked = sorted({1, LONGEST_GAP_D, *ask_at})
        base = firings_after(asked[0])
        more = {gap: min(1, max(0, firings_after(gap) - base)) for gap in asked[1:]}
        extra = (
            more[min(longer for longer in more if longer >= gap)]
            for gap in range(2, LONGEST_GAP_D + 1)
        )
        return GapEffect(extra=(0, 0, *extra))


@dataclass(frozen=True, slots=True)
class DayProblem:
    """One oven's calendar to be laid, day 0 being ``first``.

    ``hours[i]`` is how long somebody can tend a fire on day i (0: cure, absence, restriction),
    ``poor[i]`` the chance that the day is poor. ``sessions_h`` are the remaining firings in
    order. ``since_last`` is days from the last firing to day 0, None before any firing.
    ``told`` are all days that the owner was told, ``promised`` those of them told as firm.
    """

    first: date
    hours: tuple[float, ...]
    poor: tuple[float, ...]
    sessions_h: tuple[float, ...]
    since_last: int | None = None
    told: frozenset[date] = frozenset()
    promised: frozenset[date] = frozenset()
    gap: GapEffect = field(default_factory=GapEffect)
    weights: Weights = field(default_factory=Weights)

    def __post_init__(self) -> None:
        if len(self.hours) != len(self.poor):
            raise ValueError("hours and poor must be of the same days")
        if self.since_last is not None and self.since_last < 1:
            raise ValueError("the last firing lies at least a day back")
        if not self.promised <= self.told:
            raise ValueError("a promised day must be among the days told")

    def told_on(self, index: int) -> bool:
        """Whether the owner was told of a firing on day ``index``."""
        return self.first + timedelta(days=index) in self.told

    @property
    def any_told(self) -> bool:
        """Whether any told day lies within the horizon."""
        return any(0 <= (day - self.first).days < len(self.hours) for day in self.told)


@dataclass(frozen=True, slots=True)
class Laid:
    """The days of the remaining firings, in order.

    ``warm_ups`` are those among them that do not count as a firing of the plan. ``unplaced`` is
    how many firings found no day. ``poor`` is the chance of each day.
    """

    days: tuple[date, ...]
    warm_ups: tuple[date, ...]
    unplaced: int
    cost: float
    poor: tuple[float, ...] = ()

    def firm(self, today: date, ahead_d: int = FIRM_D) -> frozenset[date]:
        """The days near enough to be promised; the others are told as pencilled in.

        A day that was promised before stays promised for as long as it is laid.
        """
        return frozenset(day for day in self.days if (day - today).days <= ahead_d)


@dataclass(frozen=True, slots=True)
class Change:
    """What differs between the days told before and the days laid now."""

    dropped: tuple[date, ...]
    added: tuple[date, ...]
    finish_before: date | None
    finish_now: date | None

    @property
    def nothing(self) -> bool:
        """True if every told day stands and none came in."""
        return not self.dropped and not self.added


def change(told: frozenset[date], laid: Laid, today: date) -> Change:
    """What to tell the owner. Days before today are history, not changes."""
    before = {day for day in told if day >= today}
    now = set(laid.days)
    return Change(
        tuple(sorted(before - now)),
        tuple(sorted(now - before)),
        max(before, default=None),
        max(now, default=None),
    )


def cost_of(problem: DayProblem, fired: Sequence[int]) -> float:
    """Cost of firing on these day indices, in order; infinite where that cannot be done.

    Written as a walk through the calendar, apart from the optimiser, to check it.
    """
    weights, wanted = problem.weights, set(fired)
    left, gap, cost = len(problem.sessions_h), problem.since_last, 0.0
    for index, (hours, poor) in enumerate(zip(problem.hours, problem.poor, strict=True)):
        cost += weights.day if left else 0.0
        told = problem.told_on(index)
        if index in wanted:
            if left == 0 or hours <= 0.0 or hours < problem.sessions_h[-left]:
                return float("inf")
            known = 0 if gap is None else min(gap, LONGEST_GAP_D)
            cost += weights.poor * poor + problem.gap.lost[known]
            cost += weights.moved if problem.any_told and not told else 0.0
            left -= 1 - problem.gap.extra[known]
            gap = 1
        else:
            if told:
                firm = problem.first + timedelta(days=index) in problem.promised
                cost += weights.promised if firm else weights.dropped
            gap = None if gap is None else gap + 1
    return cost + weights.unplaced * left
