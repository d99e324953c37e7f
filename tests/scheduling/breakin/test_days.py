"""The layout against every possible calendar, and what must never happen."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduling.breakin.days import DayProblem, GapEffect, change, cost_of
from scheduling.breakin.laying import lay, lay_many, lay_together

FIRST = date(2026, 3, 27)


@st.composite
def problems(draw: st.DrawFn, most_days: int = 9) -> DayProblem:
    days = draw(st.integers(1, most_days))
    told = draw(st.sets(st.integers(0, days - 1)))
    promised = told & draw(st.sets(st.integers(0, days - 1)))
    hundredths = st.integers(0, 100).map(lambda n: n / 100)
    return DayProblem(
        FIRST,
        tuple(draw(st.lists(st.sampled_from([0.0, 4.0, 8.0]), min_size=days, max_size=days))),
        tuple(draw(st.lists(hundredths, min_size=days, max_size=days))),
        tuple(draw(st.lists(st.sampled_from([3.0, 5.0]), max_size=4))),
        draw(st.sampled_from([None, 1, 2, 6, 12, 13, 14, 40])),
        frozenset(FIRST + timedelta(days=n) for n in told),
        frozenset(FIRST + timedelta(days=n) for n in promised),
    )


@settings(max_examples=150, derandomize=True, deadline=None)
@given(problems())
def test_no_calendar_at_all_is_cheaper(problem: DayProblem) -> None:
    indices = range(len(problem.hours))
    least = min(
        cost_of(problem, some) for n in range(len(indices) + 1) for some in combinations(indices, n)
    )
    laid = lay(problem)
    assert laid.cost == pytest.approx(least, abs=1e-9)
    fired = [(day - FIRST).days for day in laid.days]
    assert cost_of(problem, fired) == pytest.approx(least, abs=1e-9)


@settings(max_examples=150, derandomize=True, deadline=None)
@given(problems(most_days=40))
def test_no_fire_falls_on_a_closed_or_too_short_day(problem: DayProblem) -> None:
    laid = lay(problem)
    done = 0
    for day in laid.days:
        hours = problem.hours[(day - FIRST).days]
        assert hours > 0
        assert hours >= problem.sessions_h[done]
        done += day not in laid.warm_ups
    assert done + laid.unplaced == len(problem.sessions_h)
    assert list(laid.days) == sorted(set(laid.days))


@settings(max_examples=150, derandomize=True, deadline=None)
@given(problems(most_days=40))
def test_asking_again_after_telling_the_days_changes_nothing(problem: DayProblem) -> None:
    laid = lay(problem)
    firm = (problem.promised & set(laid.days)) | laid.firm(FIRST)
    told = replace(problem, told=frozenset(laid.days), promised=firm)
    if laid.unplaced == 0:
        assert lay(told).days == laid.days
        assert change(told.told, lay(told), FIRST).nothing


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.lists(problems(most_days=15), min_size=1, max_size=6))
def test_a_batch_lays_each_oven_as_if_it_were_alone(batch: list[DayProblem]) -> None:
    for together, problem in zip(lay_many(batch), batch, strict=True):
        assert together == lay(problem)


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.lists(problems(most_days=20), min_size=2, max_size=3))
def test_one_person_never_tends_two_fires_on_one_day(batch: list[DayProblem]) -> None:
    laid = lay_together({f"oven{n}": problem for n, problem in enumerate(batch)})
    days = [day for one in laid.values() for day in one.days]
    assert len(days) == len(set(days))


def dry(days: int = 20, **changes: object) -> DayProblem:
    plain = DayProblem(FIRST, (8.0,) * days, (0.1,) * days, (5.0,) * 5)
    return replace(plain, **changes)  # type: ignore[arg-type]


def at(*indices: int) -> tuple[date, ...]:
    return tuple(FIRST + timedelta(days=n) for n in indices)


def test_a_dry_spell_gets_five_days_in_a_row() -> None:
    assert lay(dry()).days == at(0, 1, 2, 3, 4)


def test_nothing_is_lit_before_the_cure() -> None:
    assert lay(dry(hours=(0.0,) * 6 + (8.0,) * 14)).days == at(6, 7, 8, 9, 10)


def test_a_wet_day_is_stepped_over() -> None:
    poor = (0.1, 0.1, 0.95, *(0.1,) * 17)
    assert lay(dry(poor=poor)).days == at(0, 1, 3, 4, 5)


def test_a_promised_day_is_kept_when_little_is_gained_and_left_when_much_is() -> None:
    promised = frozenset(at(1))
    kept = dry(poor=(0.0, 0.3, *(0.0,) * 18), told=promised, promised=promised)
    assert at(1)[0] in lay(kept).days
    left = replace(kept, poor=(0.0, 0.95, *(0.0,) * 18))
    assert at(1)[0] not in lay(left).days


def test_after_a_long_idle_time_a_warm_up_comes_first() -> None:
    laid = lay(dry(since_last=60))
    assert laid.warm_ups == at(0)
    assert len(laid.days) == 6


def test_without_any_free_day_it_says_how_many_firings_found_none() -> None:
    laid = lay(dry(hours=(0.0,) * 20))
    assert (laid.days, laid.unplaced) == ((), 5)


def test_taking_a_word_back_gives_the_very_same_days() -> None:
    before = dry()
    away = replace(before, hours=(8.0, 0.0, 0.0, *(8.0,) * 17))
    assert lay(away).days != lay(before).days
    assert lay(replace(away, hours=before.hours)) == lay(before)


def test_a_change_names_what_went_and_what_came() -> None:
    told = frozenset(at(0, 1, 2, 3, 4))
    moved = change(told, lay(dry(hours=(8.0, 0.0, *(8.0,) * 18))), FIRST)
    assert (moved.dropped, moved.added) == (at(1), at(5))
    assert (moved.finish_before, moved.finish_now) == (at(4)[0], at(5)[0])


def test_the_wall_is_asked_what_a_gap_does_and_the_longer_gap_counts_between() -> None:
    asked: list[int] = []

    def firings_after(gap: int) -> int:
        asked.append(gap)
        return 3 if gap < 7 else 4

    gap = GapEffect.from_wall(firings_after)
    assert asked == [1, 3, 7, 15]
    assert gap.extra == (0, 0, 0, 0, *(1,) * 12)


def test_a_promise_that_was_never_told_is_refused() -> None:
    with pytest.raises(ValueError, match="among the days told"):
        dry(promised=frozenset(at(1)))
