"""Wind against the Beaufort scale (WMO-No. 306 Code table 1100) and exact SI ratios."""

import math

import pytest

from scheduling.breakin.wind import (
    LOWER_BOUNDS_MS,
    NOT_WORTH_LIGHTING_MS,
    TO_DOME_HEIGHT,
    beaufort,
    to_ms,
)

UPPER_MS = (0.2, 1.5, 3.3, 5.4, 7.9, 10.7, 13.8, 17.1, 20.7, 24.4, 28.4, 32.6)


@pytest.mark.parametrize("force", range(13))
def test_each_force_begins_and_ends_where_the_table_says(force: int) -> None:
    assert beaufort(LOWER_BOUNDS_MS[force]) == force
    if force < 12:
        assert beaufort(UPPER_MS[force]) == force


@pytest.mark.parametrize("force", range(1, 13))
def test_the_empirical_law_lies_inside_each_force(force: int) -> None:
    """v = 0.836 B^1.5 (WMO; UK Met Office)."""
    assert beaufort(0.836 * force**1.5) == force


@pytest.mark.parametrize("force", range(1, 13))
def test_the_law_at_half_a_force_less_rounds_up_to_each_lower_bound(force: int) -> None:
    assert math.ceil(0.836 * (force - 0.5) ** 1.5 * 10) / 10 == LOWER_BOUNDS_MS[force]


def test_eight_metres_a_second_are_force_five_though_the_knot_table_says_four() -> None:
    assert round(8.0 / to_ms(1, "kn")) == 16
    assert beaufort(8.0) == 5


def test_units_are_the_exact_si_ratios() -> None:
    assert to_ms(1, "kn") == pytest.approx(0.514444, abs=1e-6)
    assert to_ms(1, "mph") == pytest.approx(0.44704, abs=1e-12)
    assert to_ms(1, "kmh") == pytest.approx(0.277778, abs=1e-6)


def test_thirty_knots_by_any_rounding_stop_a_firing() -> None:
    """Around 30 knots: common practice, no published source."""
    for thirty in (to_ms(30, "kn"), 30 * 0.514444, 30 * 0.5144, 15.4):
        assert thirty >= NOT_WORTH_LIGHTING_MS
    assert to_ms(29, "kn") < NOT_WORTH_LIGHTING_MS


def test_wind_at_two_metres_by_fao_56_equation_47() -> None:
    assert pytest.approx(0.748, abs=5e-4) == TO_DOME_HEIGHT


@pytest.mark.parametrize("nonsense", [-0.1, float("nan"), float("inf")])
def test_nonsense_is_no_wind(nonsense: float) -> None:
    with pytest.raises(ValueError, match="wind"):
        beaufort(nonsense)
