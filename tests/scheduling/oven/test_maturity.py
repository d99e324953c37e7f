"""When the mortar is ready, what holds it up, and what a frost does to it."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduling.oven.maturity import (
    HORIZON_D,
    DayTemperature,
    Standing,
    ageing_rate,
    cure,
    strength_ratio,
)

FINISHED = date(2026, 5, 1)


def days(*means_c: float, low_below: float = 0.0) -> list[DayTemperature]:
    return [
        DayTemperature(FINISHED + timedelta(days=i), mean_c, mean_c - low_below)
        for i, mean_c in enumerate(means_c)
    ]


@pytest.mark.parametrize(("mean_c", "wait_d"), [(20.0, 21), (14.0, 28)])
def test_the_usual_wait_comes_out_in_summer_and_in_winter(mean_c: float, wait_d: int) -> None:
    # common practice, no published source: about 21 days in summer, 28 in winter
    found = cure(FINISHED, "N", days(mean_c), today=FINISHED)
    assert found.standing is Standing.CURING
    assert found.ready_on == FINISHED + timedelta(days=wait_d)
    assert found.held_by == "strength"


def test_the_builders_floor_can_only_make_it_later() -> None:
    warm = cure(FINISHED, "R", days(30.0), today=FINISHED, floor_d=14)
    assert warm.ready_on == FINISHED + timedelta(days=14)
    assert warm.held_by == "floor"
    cool = cure(FINISHED, "N", days(14.0), today=FINISHED, floor_d=14)
    assert cool.ready_on == FINISHED + timedelta(days=28)


def test_it_is_ready_once_the_day_has_come() -> None:
    late = FINISHED + timedelta(days=40)
    assert cure(FINISHED, "N", days(20.0), today=late).standing is Standing.READY


def test_a_cold_week_costs_what_it_costs() -> None:
    cold_week = cure(FINISHED, "N", days(*[20.0] * 5, *[5.0] * 7, 20.0), today=FINISHED)
    warm = cure(FINISHED, "N", days(20.0), today=FINISHED)
    assert cold_week.ready_on is not None
    assert warm.ready_on is not None
    assert 3 <= (cold_week.ready_on - warm.ready_on).days <= 4


def test_a_light_frost_in_the_first_days_is_reported_not_averaged_away() -> None:
    found = cure(FINISHED, "N", days(4.0, 4.0, 12.0, low_below=6.0), today=FINISHED)
    assert [frost.low_c for frost in found.frosts] == [-2.0, -2.0]
    assert not any(frost.hard for frost in found.frosts)
    assert found.standing is Standing.CURING


def test_mortar_that_froze_through_gets_no_day_until_somebody_has_looked() -> None:
    frozen = days(2.0, 1.0, 12.0, low_below=7.0)
    found = cure(FINISHED, "N", frozen, today=FINISHED)
    assert found.standing is Standing.FROZEN
    assert found.ready_on is None
    assert found.held_by == "frost"
    looked = cure(FINISHED, "N", frozen, today=FINISHED, frost_cleared=True)
    assert looked.standing is Standing.CURING
    assert looked.frosts


def test_a_frost_on_hardened_mortar_is_no_news() -> None:
    found = cure(FINISHED, "N", days(*[15.0] * 10, -8.0, 15.0), today=FINISHED)
    assert found.frosts == ()
    assert found.ready_on is not None


def test_a_frost_that_the_climate_only_expects_has_not_happened() -> None:
    expected = [DayTemperature(FINISHED, -5.0, -9.0, "climate"), *days(0.0, 20.0)[1:]]
    assert cure(FINISHED, "N", expected, today=FINISHED).frosts == ()


def test_an_endless_winter_is_a_clear_result() -> None:
    polar = [
        DayTemperature(FINISHED + timedelta(days=i), -10.0, source="climate") for i in range(30)
    ]
    found = cure(FINISHED, "N", polar, today=FINISHED)
    assert found.standing is Standing.TOO_COLD
    assert found.ready_on is None
    assert found.strength(FINISHED + timedelta(days=400)) == 0.0


def test_strength_can_be_asked_for_any_day() -> None:
    found = cure(FINISHED, "N", days(20.0), today=FINISHED)
    assert found.strength(FINISHED - timedelta(days=1)) == 0.0
    assert found.strength(FINISHED + timedelta(days=28)) == pytest.approx(1.0, abs=1e-3)
    last = FINISHED + timedelta(days=HORIZON_D)
    assert found.strength(last + timedelta(days=900)) == found.strength(last)


def test_a_missing_day_counts_with_its_colder_neighbour() -> None:
    gap = [one for i, one in enumerate(days(20.0, 20.0, 20.0, 8.0, 8.0)) if i != 2]
    whole = days(20.0, 20.0, 8.0, 8.0, 8.0)
    today = FINISHED
    assert cure(FINISHED, "N", gap, today).ages_d == cure(FINISHED, "N", whole, today).ages_d


def test_without_any_temperature_nothing_is_promised() -> None:
    with pytest.raises(ValueError, match="at least one day"):
        cure(FINISHED, "N", [], today=FINISHED)


def test_what_is_no_temperature_is_refused() -> None:
    with pytest.raises(ValueError, match="not a temperature"):
        ageing_rate(float("nan"))


@settings(derandomize=True, max_examples=40)
@given(st.lists(st.floats(-15, 35), min_size=1, max_size=40), st.floats(0.1, 8))
def test_colder_never_makes_it_sooner(means_c: list[float], colder_k: float) -> None:
    warm = cure(FINISHED, "N", days(*means_c), today=FINISHED, frost_cleared=True)
    cold = cure(
        FINISHED, "N", days(*(c - colder_k for c in means_c)), today=FINISHED, frost_cleared=True
    )
    assert cold.ready_on is None or (warm.ready_on is not None and warm.ready_on <= cold.ready_on)


@settings(derandomize=True, max_examples=40)
@given(st.floats(0.01, 400), st.floats(0.01, 400))
def test_older_is_never_weaker(one: float, other: float) -> None:
    young, old = sorted((one, other))
    assert strength_ratio(young, "N") <= strength_ratio(old, "N")
