from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduling.firing.response import Known, first_guess_k_kg
from scheduling.firing.rule import LADDER_C, Bounds, Past, laid_for, remaining, steps_done
from scheduling.firing.wood import piece_kg, pieces_of
from scheduling.oven.makeup import Instrument
from scheduling.oven.preset import shipped

MAKEUP = shipped().make_up(
    "cast-dense", name="Oven", inner_diameter_mm=900, wet_work_ended=date(2026, 3, 1)
)


def heights(past: Past, bounds: Bounds | None = None) -> list[float]:
    return [aim.plateau_c for aim in remaining(MAKEUP, past, 1, bounds or Bounds())]


def test_a_new_oven_gets_the_whole_ladder() -> None:
    assert heights(Past()) == list(LADDER_C)


def test_the_first_is_near_150_and_the_last_near_400() -> None:
    """Common practice, no published source."""
    assert 140 <= LADDER_C[0] <= 160
    assert 175 <= LADDER_C[1] <= 200
    assert 390 <= LADDER_C[-1] <= 410


def test_a_step_counts_only_when_it_was_nearly_reached() -> None:
    assert steps_done([148, 120, 190]) == 2
    assert steps_done([]) == 0
    assert steps_done([100]) == 0


def test_a_soaking_steps_back_two_and_a_long_gap_one() -> None:
    assert heights(Past(steps=3, soaked=True))[0] == LADDER_C[1]
    assert heights(Past(steps=3, gap_d=20))[0] == LADDER_C[2]
    assert heights(Past(steps=3, gap_d=3))[0] == LADDER_C[3]


@settings(max_examples=100, derandomize=True, deadline=None)
@given(
    steps=st.integers(0, 5),
    cap=st.none() | st.floats(80, 480),
    readable=st.none() | st.floats(100, 700),
    session=st.none() | st.floats(1.5, 8),
    soaked=st.booleans(),
    gap=st.integers(0, 60),
)
def test_bounds_and_setbacks_only_make_it_gentler(
    steps: int,
    cap: float | None,
    readable: float | None,
    session: float | None,
    soaked: bool,
    gap: int,
) -> None:
    free = heights(Past(steps=steps))
    bounds = Bounds(cap_c=cap, readable_c=readable, session_h=session)
    bound = remaining(MAKEUP, Past(steps, soaked, gap), 1, bounds)
    assert bound[0].plateau_c <= free[0]
    for aim in bound:
        assert aim.plateau_c <= min(cap or 999, readable or 999, 400) + 0.1
        assert aim.session_h <= (session or 99) + 0.01
        assert bounds.stoke_min_minutes <= aim.stoke_minutes <= bounds.stoke_max_minutes
    assert sum(aim.last for aim in bound) == 1


@pytest.mark.parametrize(("kg", "mm"), [(0.1, 30), (0.5, 30), (1.0, 45), (3.0, 60)])
def test_pieces_come_nearest_from_below(kg: float, mm: float) -> None:
    count = pieces_of(kg, mm)
    assert count >= 1
    assert count == 1 or count * piece_kg(mm) <= kg + 0.3 * piece_kg(mm)


def standing(start_c: float) -> Known:
    return Known(first_guess_k_kg(MAKEUP), start_c=start_c)


@pytest.mark.parametrize("height", LADDER_C)
def test_a_warm_dome_is_laid_more_than_a_cold_one(
    height: float,
) -> None:
    aim = next(one for one in remaining(MAKEUP, Past(), 1, Bounds()) if one.plateau_c == height)
    laid = [laid_for(aim, Bounds(), standing(start_c)).lay_kg for start_c in (10.0, 60.0, 90.0)]
    assert laid == sorted(laid)
    assert laid[0] > 0


def test_a_gentler_climb_lays_less() -> None:
    aim = remaining(MAKEUP, Past(), 1, Bounds())[-1]
    slow = aim.model_copy(update={"climb_c_per_h": 50.0})
    laid = laid_for(slow, Bounds(), standing(60.0)).lay_kg
    assert laid < laid_for(aim, Bounds(), standing(60.0)).lay_kg


def test_who_cannot_read_the_dome_gets_less_wood_and_least_while_it_is_wet() -> None:
    read = MAKEUP.model_copy(update={"instrument": Instrument(max_c=550)})
    seen, blind = (remaining(one, Past(), 1, Bounds()) for one in (read, MAKEUP))
    shares = [round(b.wood_kg / s.wood_kg, 2) for b, s in zip(blind, seen, strict=True)]
    assert shares == sorted(shares)
    assert shares[0] == pytest.approx(0.5, abs=0.01)
    assert shares[-1] < 0.8
    assert all(b.climb_c_per_h < s.climb_c_per_h for b, s in zip(blind, seen, strict=True))
