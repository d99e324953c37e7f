"""Laying calendars by dynamic programming, many ovens at once.

State of a day: firings left × days since the last firing. Going backward from the horizon,
``V_d(k, g) = day + min(wait, fire)`` with

    wait: told-day dropped + V_{d+1}(k, g + 1)
    fire: poor·p_d + lost_g + moved + V_{d+1}(k - 1 + extra_g, 1)

and V_d(0, ·) is the price of the told days from d on. All ovens of a batch are the leading axis
of every array, so the cost is linear in ovens × days × firings. Exact for the costs of
``scheduling.breakin.days``: the tests compare it with every possible calendar of small cases.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import islice, permutations

import numpy as np
import numpy.typing as npt

from scheduling.breakin.days import LONGEST_GAP_D, DayProblem, Laid

CHUNK = 1000
"""Ovens worked on together: keeps the tables of a batch within the processor's cache."""

MOST_ORDERS = 24
"""Orders tried when one person tends several ovens: all of them up to four ovens."""

_Floats = npt.NDArray[np.float64]
_GAPS = LONGEST_GAP_D + 1


def lay(problem: DayProblem) -> Laid:
    """The cheapest calendar for one oven. Of equal ones that with the earlier fire."""
    return lay_many((problem,))[0]


def lay_many(problems: Sequence[DayProblem]) -> tuple[Laid, ...]:
    """The cheapest calendar for each of many ovens, as ``lay`` would for each alone."""
    laid: list[Laid] = []
    for start in range(0, len(problems), CHUNK):
        laid += _lay_chunk(problems[start : start + CHUNK])
    return tuple(laid)


def lay_together(problems: Mapping[str, DayProblem]) -> dict[str, Laid]:
    """Calendars for the ovens of one person, who cannot tend two fires on one day.

    Every order of ovens is tried (the first ``MOST_ORDERS`` of many), each oven taking the days
    that those before it left; the cheapest sum wins, of equal ones the first by oven id. Ovens
    are laid one after another, so with three or more the sum may not be the least possible.
    """
    best: dict[str, Laid] = {}
    least = float("inf")
    for order in islice(permutations(sorted(problems)), MOST_ORDERS):
        laid = _lay_in_order(problems, order)
        total = sum(one.cost for one in laid.values())
        if not best or total < least - 1e-9:
            best, least = laid, total
    return best


def _lay_in_order(problems: Mapping[str, DayProblem], order: Sequence[str]) -> dict[str, Laid]:
    taken: set[object] = set()
    laid: dict[str, Laid] = {}
    for oven in order:
        problem = problems[oven]
        hours = tuple(
            0.0 if problem.first + timedelta(days=index) in taken else free
            for index, free in enumerate(problem.hours)
        )
        laid[oven] = lay(replace(problem, hours=hours))
        taken.update(laid[oven].days)
    return laid


@dataclass(frozen=True, slots=True)
class _Tables:
    """A chunk of problems as arrays: N ovens, D days, K firings at most, G gaps."""

    hours: _Floats  # N D
    poor: _Floats  # N D, as cost
    dropped: _Floats  # N D, cost of waiting on a told day
    moved: _Floats  # N D, cost of firing on a day not told
    needed: _Floats  # N K, hours of the firing when k are left, at k - 1
    lost: _Floats  # N G
    extra: npt.NDArray[np.bool_]  # N G
    day: _Floats  # N
    unplaced: _Floats  # N


def _tables(problems: Sequence[DayProblem]) -> _Tables:
    count = len(problems)
    days = max(len(problem.hours) for problem in problems)
    firings = max(1, max(len(problem.sessions_h) for problem in problems))
    hours, poor = np.zeros((count, days)), np.zeros((count, days))
    dropped, moved = np.zeros((count, days)), np.zeros((count, days))
    needed = np.full((count, firings), np.inf)
    for n, problem in enumerate(problems):
        weights, horizon = problem.weights, len(problem.hours)
        hours[n, :horizon] = problem.hours
        poor[n, :horizon] = problem.poor
        poor[n] *= weights.poor
        needed[n, : len(problem.sessions_h)] = problem.sessions_h[::-1]
        told = [i for day in problem.told if 0 <= (i := (day - problem.first).days) < horizon]
        if told:
            moved[n] = weights.moved
            moved[n, told] = 0.0
            dropped[n, told] = weights.dropped
            firm = [
                i for day in problem.promised if 0 <= (i := (day - problem.first).days) < horizon
            ]
            dropped[n, firm] = weights.promised
    return _Tables(
        hours,
        poor,
        dropped,
        moved,
        needed,
        np.array([problem.gap.lost for problem in problems], dtype=np.float64),
        np.array([problem.gap.extra for problem in problems], dtype=np.bool_),
        np.array([problem.weights.day for problem in problems]),
        np.array([problem.weights.unplaced for problem in problems]),
    )


def _lay_chunk(problems: Sequence[DayProblem]) -> list[Laid]:
    tables = _tables(problems)
    count, days = tables.hours.shape
    firings = tables.needed.shape[1]
    horizon = np.array([len(problem.hours) for problem in problems])
    end = tables.unplaced[:, None, None] * np.arange(firings + 1)[None, :, None]
    value = np.broadcast_to(end, (count, firings + 1, _GAPS)).copy()
    fires = np.zeros((days, count, firings, _GAPS), dtype=np.bool_)
    for day in range(days - 1, -1, -1):
        wait, fire = _step(tables, value, day)
        fires[day] = fire <= wait
        better = np.minimum(wait, fire) + tables.day[:, None, None]
        # A shorter horizon in the batch starts from its own end.
        within = (day < horizon)[:, None, None]
        value[:, 1:] = np.where(within, better, value[:, 1:])
        value[:, 0] += tables.dropped[:, day, None]
    return [_follow(n, problem, fires, value) for n, problem in enumerate(problems)]


def _step(tables: _Tables, value: _Floats, day: int) -> tuple[_Floats, _Floats]:
    """Cost of waiting and of firing on a day, each N × K × G."""
    later = np.empty_like(value[:, 1:])
    later[:, :, 1:-1] = value[:, 1:, 2:]
    later[:, :, -1] = value[:, 1:, -1]
    later[:, :, 0] = value[:, 1:, 0]
    wait = later + tables.dropped[:, day, None, None]
    counts, repeats = value[:, :-1, 1, None], value[:, 1:, 1, None]
    after = np.where(tables.extra[:, None, :], repeats, counts)
    own = (tables.poor[:, day] + tables.moved[:, day])[:, None] + tables.lost
    free = tables.hours[:, day, None]
    possible = (free > 0.0) & (free >= tables.needed)
    fire = np.where(possible[:, :, None], after + own[:, None, :], np.inf)
    return wait, fire


def _follow(n: int, problem: DayProblem, fires: npt.NDArray[np.bool_], value: _Floats) -> Laid:
    left = len(problem.sessions_h)
    gap = 0 if problem.since_last is None else min(problem.since_last, LONGEST_GAP_D)
    cost = float(value[n, left, gap])
    fired: list[int] = []
    warm_ups: list[int] = []
    for day in range(len(problem.hours)):
        if left == 0:
            break
        if fires[day, n, left - 1, gap]:
            fired.append(day)
            if problem.gap.extra[gap]:
                warm_ups.append(day)
            else:
                left -= 1
            gap = 1
        elif gap:
            gap = min(gap + 1, LONGEST_GAP_D)
    return Laid(
        tuple(problem.first + timedelta(days=day) for day in fired),
        tuple(problem.first + timedelta(days=day) for day in warm_ups),
        left,
        cost,
        tuple(problem.poor[day] for day in fired),
    )
