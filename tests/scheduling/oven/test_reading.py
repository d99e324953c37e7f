"""A reading is judged before it is believed; a doubtful one is asked about."""

import dataclasses
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduling.oven.makeup import Instrument
from scheduling.oven.preset import shipped
from scheduling.oven.reading import Ask, Known, Sample, Suspicion, judge, shell_effusivity

NOON = datetime(2026, 5, 30, 12, tzinfo=UTC)
DENSE = shell_effusivity(
    shipped().make_up(
        "cast-dense", name="A", inner_diameter_mm=800, wet_work_ended=date(2026, 5, 1)
    )
)
LIGHT = shell_effusivity(
    shipped().make_up(
        "cast-light", name="B", inner_diameter_mm=800, wet_work_ended=date(2026, 5, 1)
    )
)


def read(top_c: float | None, *sides_c: float, minutes: float = 0, **more: Any) -> Sample:
    return Sample(NOON + timedelta(minutes=minutes), top_c, sides_c, **more)


def known(**changes: Any) -> Known:
    base = Known(now=NOON + timedelta(hours=3), burning=True, air_c=12.0, effusivity=DENSE)
    return dataclasses.replace(base, **changes)


def suspicion(sample: Sample, **changes: Any) -> Suspicion | None:
    return judge(sample, known(**changes)).suspicion


def test_an_ordinary_reading_in_a_fire_is_believed() -> None:
    verdict = judge(read(152, 140, 138, minutes=30), known(before=read(95)))
    assert verdict.believed
    assert verdict.ask is None


def test_a_jump_within_two_minutes_is_a_flame_in_the_spot() -> None:
    verdict = judge(read(230, minutes=2), known(before=read(152)))
    assert verdict.suspicion is Suspicion.FLAME_IN_SPOT
    assert verdict.ask is Ask.AIM_BESIDE_THE_FLAME
    assert verdict.at_least


def test_the_same_climb_over_half_an_hour_is_possible() -> None:
    assert suspicion(read(230, minutes=30), before=read(152)) is None


def test_a_light_dome_warms_faster_than_a_dense_one() -> None:
    assert suspicion(read(260, minutes=3), before=read(152)) is Suspicion.FLAME_IN_SPOT
    assert suspicion(read(260, minutes=3), before=read(152), effusivity=LIGHT) is None


def test_a_second_look_bears_a_doubtful_reading_out() -> None:
    first = read(230, minutes=2)
    assert suspicion(read(226, minutes=5), before=read(152), doubted=first) is None
    assert suspicion(first, before=read(152), doubted=first) is Suspicion.FLAME_IN_SPOT


def test_a_dome_does_not_warm_without_a_fire() -> None:
    verdict = judge(read(90, minutes=30), known(before=read(45), burning=False))
    assert verdict.suspicion is Suspicion.ROSE_UNLIT
    assert verdict.ask is Ask.IS_IT_LIT


def test_a_dome_does_not_lose_half_its_heat_in_a_minute() -> None:
    assert suspicion(read(180, minutes=1), before=read(300)) is Suspicion.FELL_TOO_FAST


def test_fahrenheit_taken_for_celsius_is_asked_about() -> None:
    verdict = judge(read(320, minutes=10), known(before=read(152), expected_c=(140, 175)))
    assert verdict.suspicion is Suspicion.OTHER_UNIT
    assert verdict.ask is Ask.WHICH_UNIT
    assert verdict.likely_c == pytest.approx(160)
    assert not verdict.at_least


def test_the_hotter_unit_is_believed_when_it_is_said_again() -> None:
    doubted = read(318, minutes=8)
    assert suspicion(read(320, minutes=10), before=read(152), doubted=doubted) is None


def test_celsius_taken_for_fahrenheit_never_counts_as_cooler_however_often_it_is_said() -> None:
    again = replace(read(67, minutes=10), taken_in="F")
    for doubted in (None, replace(read(66, minutes=8), taken_in="F")):
        verdict = judge(again, known(before=read(150), doubted=doubted, expected_c=(140, 175)))
        assert verdict.suspicion is Suspicion.OTHER_UNIT
        assert verdict.likely_c == pytest.approx(152.6)
        assert verdict.at_least


def test_a_number_typed_in_celsius_is_not_suspected_to_have_been_converted() -> None:
    """As after a flame that was taken for the dome: the true readings look too low."""
    assert suspicion(read(182, minutes=18), before=read(354)) is Suspicion.FELL_TOO_FAST
    borne_out = suspicion(read(180, minutes=22), before=read(354), doubted=read(182, minutes=18))
    assert borne_out is None


def test_hotter_than_the_wood_can_have_made_it_is_a_flame_in_the_spot() -> None:
    verdict = judge(read(300, minutes=30), known(before=read(200), most_c=215.0))
    assert verdict.suspicion is Suspicion.FLAME_IN_SPOT
    assert verdict.at_least
    assert suspicion(read(250, minutes=30), before=read(200), most_c=215.0) is None


def test_the_unit_once_said_settles_it() -> None:
    verdict = judge(
        read(67, minutes=40, unit_certain=True),
        known(before=read(150), doubted=read(66, minutes=38), expected_c=(140, 175)),
    )
    assert verdict.believed


def test_a_reading_at_the_end_of_the_instrument_may_be_anything_above() -> None:
    short = Instrument(max_c=330)
    verdict = judge(read(330, minutes=60), known(before=read(280), instrument=short))
    assert verdict.suspicion is Suspicion.ABOVE_RANGE
    assert verdict.at_least
    assert suspicion(read(-31), instrument=short) is Suspicion.BELOW_RANGE


def test_no_wood_fire_makes_a_dome_so_hot() -> None:
    verdict = judge(read(900), known())
    assert verdict.suspicion is Suspicion.TOO_HOT
    assert verdict.likely_c == pytest.approx(482.2, abs=0.1)


def test_a_dome_is_no_colder_than_the_air() -> None:
    assert suspicion(read(-20), air_c=12.0, burning=False) is Suspicion.BELOW_AIR


def test_sides_far_from_the_crown_are_asked_about() -> None:
    assert suspicion(read(300, 120)) is Suspicion.CROWN_AGAINST_SIDES
    assert suspicion(read(150, 260)) is Suspicion.CROWN_AGAINST_SIDES
    assert suspicion(read(300, 250, 235)) is None
    assert suspicion(read(45, 40)) is None


def test_a_reading_of_the_future_or_before_the_last_one_has_the_wrong_time() -> None:
    assert suspicion(read(150, minutes=300)) is Suspicion.IN_THE_FUTURE
    assert suspicion(read(150, minutes=-5), before=read(150)) is Suspicion.OUT_OF_ORDER


def test_two_readings_of_one_instant_may_only_differ_by_their_aim() -> None:
    assert suspicion(read(155), before=read(152)) is None
    assert suspicion(read(190), before=read(152)) is Suspicion.TWO_AT_ONCE


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_what_is_no_number_is_never_believed(value: float) -> None:
    assert suspicion(read(value)) is Suspicion.NOT_A_NUMBER
    assert suspicion(read(150, value)) is Suspicion.NOT_A_NUMBER


def test_a_reading_of_nothing_is_no_reading() -> None:
    assert suspicion(read(None)) is Suspicion.NOTHING_READ


def test_without_a_reading_before_the_belief_gives_the_window() -> None:
    assert suspicion(read(300), expected_c=(20, 40), burning=False) is Suspicion.ROSE_UNLIT
    assert suspicion(read(60), expected_c=(20, 40), burning=False) is None


@settings(derandomize=True, max_examples=150)
@given(
    st.floats(-50, 1000),
    st.floats(0, 170),
    st.floats(10, 500),
    st.booleans(),
)
def test_what_is_believed_was_possible_and_what_is_not_asks_for_something(
    top_c: float, minutes: float, before_c: float, burning: bool
) -> None:
    verdict = judge(read(top_c, minutes=minutes), known(before=read(before_c), burning=burning))
    if verdict.believed:
        assert abs(top_c - before_c) <= 8 + 10000 * (minutes * 60 / 3.14159) ** 0.5 / DENSE + 0.01
        assert top_c <= 800
    else:
        assert verdict.ask is not None
