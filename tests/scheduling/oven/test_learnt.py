"""What finished ovens of a model teach of the next: narrower, never wider, and still true."""

import numpy as np
import pytest

from scheduling.breakin.limits import Limits
from scheduling.breakin.planner import plan_break_in
from scheduling.oven.history import FireLit, FireOut, SurfaceRead, WoodPut
from scheduling.oven.learnt import APART, LEAST_OVENS, LOWEST, learnt_from, narrowed
from scheduling.oven.lesson import Led, Told
from scheduling.oven.prior import QUANTITIES, SPREAD, Narrowed, drawn
from tests.scheduling.oven.domes import MILD, MORNING, fresh, hours

WOOD = SPREAD["taken_up"]


def told(*means: float, sd: float = 0.1, quantity: str = "taken_up") -> list[Told]:
    return [Told(quantity=quantity, mean=mean, sd=sd) for mean in means]


def test_nothing_is_learnt_until_five_have_finished() -> None:
    ovens = [told(0.1) for _ in range(LEAST_OVENS)]
    assert learnt_from(ovens[1:]) == ()
    (one,) = learnt_from(ovens)
    assert one.quantity == "taken_up"


def test_ovens_that_agree_narrow_and_move_the_next_but_no_further_than_ovens_differ() -> None:
    few, many = narrowed("taken_up", told(*[0.2] * 5)), narrowed("taken_up", told(*[0.2] * 200))
    assert APART[0] <= many.width < few.width < 0.8
    assert 0.2 / WOOD * 0.6 < few.shift < many.shift <= 0.2 / WOOD + 0.01


def test_however_many_tell_nothing_they_teach_nothing() -> None:
    one = narrowed("taken_up", told(*[0.3, -0.3] * 20, sd=50.0))
    assert one.width > 0.99
    assert abs(one.shift) < 0.1


def test_ovens_that_have_nothing_in_common_narrow_little_and_never_widen() -> None:
    alike = narrowed("taken_up", told(-0.02, 0.0, 0.02, 0.01, -0.01, 0.0))
    apart = narrowed("taken_up", told(-0.5, 0.5, -0.4, 0.45, 0.6, -0.6))
    assert alike.width < apart.width <= 1.0


def test_one_oven_in_the_wrong_unit_does_not_rule() -> None:
    sane, wild = told(0.0, 0.02, -0.02, 0.05, -0.05, 0.01), told(9.0)
    assert narrowed("taken_up", [*sane, *wild]).shift < 0.6
    assert narrowed("taken_up", [*sane, *wild]).width > narrowed("taken_up", sane).width


def test_what_would_lead_to_more_wood_or_drier_walls_counts_only_so_far() -> None:
    low, high = narrowed("taken_up", told(*[-0.9] * 9)), narrowed("taken_up", told(*[0.9] * 9))
    assert low.shift == -1.0
    assert low.width == 1.0
    assert high.shift == 2.0


def test_the_next_oven_lies_within_nine_times_in_ten_and_the_interval_is_narrower() -> None:
    """400 fleets drawn by the model's own assumption, with ovens as far apart as not."""
    rng = np.random.default_rng(11)
    within, widths = [], []
    for _ in range(400):
        tau, sd = rng.uniform(0.4, 1.0), rng.uniform(0.1, 0.3)
        common = rng.normal(0.0, WOOD * (1.0 - tau**2) ** 0.5)
        ovens = common + WOOD * tau * rng.standard_normal(8)
        seen = ovens[:7] + sd * rng.standard_normal(7)
        one = narrowed("taken_up", told(*seen, sd=sd))
        within.append(abs(ovens[7] - WOOD * one.shift) <= 1.645 * WOOD * one.width)
        widths.append(one.width)
    share = float(np.mean(within))
    error = (share * (1.0 - share) / len(within)) ** 0.5
    assert share > 0.9 - 3.0 * error
    assert np.mean(widths) < 0.9


def test_a_peak_that_nobody_read_is_no_evidence_once_the_fire_is_out() -> None:
    out = FireOut(at=MORNING + hours(2))
    facts = (FireLit(at=MORNING, aim_c=150.0), WoodPut(at=MORNING, kg=2.0), out)
    believed = fresh().carried((*facts, peak(between=True)), MORNING + hours(3), MILD)
    np.testing.assert_array_equal(
        believed.weights, fresh().carried(facts, MORNING + hours(3), MILD).weights
    )
    for between, mornings in ((True, 0), (False, 1)):
        led = Led(fresh(), MILD)
        for fact in (*facts, peak(between=between)):
            led.meets(fact)
        assert len(led.mornings) == mornings


def peak(*, between: bool) -> SurfaceRead:
    """Half an hour after the flames."""
    return SurfaceRead(at=MORNING + hours(2.5), top_c=160.0, between=between)


@pytest.mark.parametrize("spread", [1.0, 1.4])
def test_only_what_was_learnt_is_drawn_otherwise(spread: float) -> None:
    learnt = (Narrowed(quantity="door_on", shift=-1.5, width=0.5),)
    usual, after = drawn(200, 1, spread), drawn(200, 1, spread, learnt)
    row = QUANTITIES.index("door_on")
    others = [index for index in range(len(QUANTITIES)) if index != row]
    np.testing.assert_array_equal(after.normals[others], usual.normals[others])
    np.testing.assert_allclose(after.of("door_on"), -1.5 + 0.5 * usual.of("door_on"))


def test_steam_and_limits_are_what_they_were_whatever_was_learnt() -> None:
    """Neither strength nor permeability nor water is learnt, and every fire of a plan stays within
    the steam that nineteen of twenty members bear."""
    learnt = tuple(
        Narrowed(quantity=one, shift=LOWEST, width=0.4) for one in ("taken_up", "door_on")
    )
    limits, starts = Limits(), (MORNING + hours(1),)
    usual, after = fresh(members=40), fresh(members=40, learnt=learnt)
    np.testing.assert_array_equal(after.allowed_pa(3.0), usual.allowed_pa(3.0))
    np.testing.assert_array_equal(after.shell_water_l(), usual.shell_water_l())
    plan = plan_break_in(after, limits, MILD, starts)
    assert plan.finished
    for one, before in zip(plan.firings, (None, *plan.firings), strict=False):
        assert one.steam_share <= 1.0
        assert one.plateau_c <= limits.final_c
        step_from = limits.first_c if before is None else before.plateau_c + limits.step_k
        assert one.plateau_c <= step_from
