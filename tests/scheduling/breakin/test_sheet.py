"""A plan beside a maker's drying sheet, and the sheet put in as limits."""

import pytest

from bot.wording.plans import beside_sheet as told
from scheduling.breakin.limits import USUAL
from scheduling.breakin.plan import LimitedBy
from scheduling.breakin.planner import next_firing
from scheduling.breakin.sheet import beside_sheet
from scheduling.firing.rule import Bounds, Past, remaining
from tests.scheduling.breakin.test_planner import plan_of
from tests.scheduling.oven.domes import MILD, an_oven, fresh


def test_the_plan_says_how_it_differs_from_what_makers_print() -> None:
    """90 mm at an hour for each 25 mm: 3.6 hours; ramps of 5 to 56 K/h, of which ours is none."""
    beside = beside_sheet(plan_of().firings, 90.0)
    assert beside is not None
    assert beside.soak_h == pytest.approx(3.6)
    assert beside.faster
    assert beside.step_k <= USUAL.step_k
    said = told(beside)
    assert "5 to 56 K an hour" in said
    assert "3.6 hours" in said
    assert "the sheet comes first" in said
    assert "climb_low_k_h" in said


@pytest.mark.parametrize("ramp_k_h", [10.0, 28.0, 56.0])
def test_a_makers_ramp_put_in_as_a_limit_is_kept(ramp_k_h: float) -> None:
    """What the day is too short for is not climbed to."""
    limits = USUAL.gentled(climb_low_k_h=ramp_k_h, climb_high_k_h=ramp_k_h)
    belief = fresh()
    firing = next_firing(belief, limits, MILD, belief.at)
    assert firing is not None
    assert firing.climb_c_per_h <= ramp_k_h + 0.1
    assert firing.session_h <= USUAL.session_h + 0.1
    if ramp_k_h < 20.0:
        assert firing.limited_by is LimitedBy.SESSION
        assert firing.plateau_c < 90.0


@pytest.mark.parametrize("ramp_k_h", [5.0, 10.0, 28.0])
def test_the_rule_of_thumb_keeps_it_too(ramp_k_h: float) -> None:
    bounds = Bounds(climb_low_k_h=ramp_k_h, climb_high_k_h=ramp_k_h)
    for aim in remaining(an_oven(), Past(), 1, bounds):
        assert aim.climb_c_per_h <= ramp_k_h
        assert aim.session_h <= 8.01


def test_no_fire_is_no_comparison() -> None:
    assert beside_sheet((), 90.0) is None
