import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from scheduling.breakin.limits import USUAL, Limits

GENTLE_WAY = {
    "first_c": -1, "step_k": -1, "climb_low_k_h": -1, "climb_high_k_h": -1, "cap_c": -1,
    "final_c": -1, "session_h": -1, "steam_safety": 1, "confidence": 1, "cure_floor_d": 1,
    "ready_ratio": 1,
}  # fmt: skip


@settings(max_examples=60, derandomize=True)
@given(
    step_k=st.floats(10, 500),
    cap_c=st.floats(60, 900),
    climb=st.floats(20, 600),
    safety=st.floats(1, 10),
    floor=st.integers(0, 60),
)
def test_a_builder_can_only_make_it_gentler(
    step_k: float, cap_c: float, climb: float, safety: float, floor: int
) -> None:
    wished = USUAL.gentled(
        step_k=step_k,
        cap_c=cap_c,
        climb_low_k_h=climb,
        climb_high_k_h=climb,
        steam_safety=safety,
        cure_floor_d=floor,
    )
    for name, way in GENTLE_WAY.items():
        assert way * (getattr(wished, name) - getattr(USUAL, name)) >= 0, name


def test_what_a_builder_does_not_say_stays() -> None:
    assert USUAL.gentled(step_k=None, cap_c=None) == USUAL


def test_a_limit_that_does_not_exist_is_refused() -> None:
    with pytest.raises(ValueError, match="no limit warp"):
        USUAL.gentled(warp=9.0)


def test_nobody_can_set_limits_above_our_own() -> None:
    for name, value in (("step_k", 150.0), ("steam_safety", 2.0), ("final_c", 500.0)):
        with pytest.raises(ValidationError):
            Limits(**{name: value})


def test_climbing_there_and_back_agree() -> None:
    for plateau in (150.0, 200.0, 320.0):
        assert USUAL.climbed_c(30.0, USUAL.climb_hours(30.0, plateau)) == pytest.approx(plateau)


def test_a_window_that_is_none_is_refused() -> None:
    with pytest.raises(ValidationError, match="leaves no time"):
        Limits(stoke_least_minutes=50, stoke_most_minutes=40)
