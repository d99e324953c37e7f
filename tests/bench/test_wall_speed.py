"""How fast the wall and the plan are: ratios and growth, printed and never asserted as seconds."""

import time
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from functools import partial

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.sparse import diags, kron

from scheduling.breakin.limits import USUAL
from scheduling.breakin.planner import plan_break_in
from scheduling.firing.forecast import FiringAim, forecast
from scheduling.oven.history import SurfaceRead
from scheduling.oven.mesh import Mesh
from scheduling.oven.prior import drawn, members_of
from scheduling.oven.saturation import HEAT_CAPACITY_WATER, latent_heat_j_kg
from scheduling.oven.steam import BOILS_C
from scheduling.oven.wall import ColdFaces, HotFaces, WallState, at_rest, stepped
from tests.scheduling.oven.domes import MILD, MORNING, a_first_fire, an_oven, fresh, hours

pytestmark = pytest.mark.bench


def spent(work: Callable[[], object], times: int = 1) -> float:
    """Least processor time of several runs, seconds."""
    least = float("inf")
    for _ in range(times):
        begin = time.process_time()
        work()
        least = min(least, time.process_time() - begin)
    return least


def _crown_c(seconds: float) -> float:
    return float(np.interp(seconds / 3600.0, [0, 2, 6, 8, 24], [20, 160, 160, 100, 50]))


def _day(
    mesh: Mesh, step_s: float, hours_long: float = 24.0, water: "np.ndarray | float" = 0.0
) -> WallState:
    """A day: up, held, cooling; both faces alike, dry unless told otherwise."""
    state = at_rest(mesh, 20.0, np.broadcast_to(water, mesh.volume_m3.shape))
    cold = ColdFaces(np.full((1, 2), 15.0), 10.0)
    for index in range(round(hours_long * 3600 / step_s)):
        face = _crown_c((index + 1) * step_s)
        hot = HotFaces(np.asarray(np.inf), np.full((1, 2), face), np.zeros(2))
        state, _ = stepped(mesh, state, step_s, hot, cold)
    return state


def _by_solver(mesh: Mesh, member: int, rtol: float, at_h: float = 24.0) -> np.ndarray:
    """Where the day passes ``at_h``: the same equations for one member's crown, by BDF with the
    sparsity of its banded Jacobian given."""
    n = mesh.cells
    heat = mesh.dry_heat_j_k[member, :n][::-1]
    bridge = mesh.bridge_w_k[member, : n - 1][::-1]
    inner = mesh.inner_w_k[member, 0]
    outer = 1.0 / (1.0 / (15.0 * mesh.outer_m2[member, 0]) + 1.0 / mesh.outer_w_k[member, 0])

    def slope(seconds: float, wall_c: np.ndarray) -> np.ndarray:
        along = bridge * np.diff(wall_c)
        net = np.zeros_like(wall_c)
        net[:-1] += along
        net[1:] -= along
        net[0] += inner * (_crown_c(seconds) - wall_c[0])
        net[-1] += outer * (10.0 - wall_c[-1])
        return net / heat

    banded = diags([1.0, 1.0, 1.0], [-1, 0, 1], shape=(n, n))
    solved = solve_ivp(
        slope, (0, 86400), np.full(n, 20.0), method="BDF", jac_sparsity=banded,
        rtol=rtol, atol=10 * rtol, max_step=1800.0, t_eval=[at_h * 3600.0],
    )  # fmt: skip
    return np.asarray(solved.y[:, -1])


def test_against_a_general_solver_at_equal_error() -> None:
    mesh = members_of(an_oven(), drawn(200, 1)).mesh
    begin = time.process_time()
    _day(mesh, 60.0)
    batched = time.process_time() - begin
    # The error is taken where it is greatest, at the end of the climb.
    climbed = _day(mesh, 60.0, 2.0).temperature_c[0, mesh.cells - 1 :: -1]
    exact = _by_solver(mesh, 0, 1e-9, 2.0)
    our_error = float(np.abs(climbed - exact).max())
    kept, alone = 0.0, float("nan")
    for rtol in (1e-6, 1e-5, 1e-4, 1e-3, 1e-2):
        error = float(np.abs(_by_solver(mesh, 0, rtol, 2.0) - exact).max())
        if error > our_error:
            break
        kept, alone = rtol, spent(partial(_by_solver, mesh, 0, rtol))
    # The batch holds two walls a member, the solver was timed for one.
    ratio = 2 * 200 * alone / batched
    print(f"\n200 members, 24 h at 60 s: {batched:.2f} s, error {our_error:.4f} K")
    print(f"BDF, rtol {kept:g}: {1e3 * alone:.1f} ms a wall; 400 are {ratio:.0f} times slower")
    assert ratio > 1.0


WET_HOURS = (2.0, 5.0, 24.0)
SWITCH_K = 0.05
"""The general solver gets the onset of boiling as a ramp this narrow, not as a step."""


def _wet_by_solver(
    mesh: Mesh, water: np.ndarray, member: int, rtol: float, switch_k: float = SWITCH_K
) -> np.ndarray:
    """The wet day of one crown at ``WET_HOURS`` (hours, n) by BDF: temperature and water of each
    cell, boiling cells giving all they get to steam; the Jacobian is banded and its bands given."""
    n = mesh.cells
    dry = mesh.dry_heat_j_k[member, :n][::-1]
    held_kg = (water * mesh.volume_m3)[member, :n][::-1]
    bridge = mesh.bridge_w_k[member, : n - 1][::-1]
    inner = mesh.inner_w_k[member, 0]
    outer = 1.0 / (1.0 / (15.0 * mesh.outer_m2[member, 0]) + 1.0 / mesh.outer_w_k[member, 0])
    latent = float(latent_heat_j_kg(BOILS_C))
    last_drops = 1e-4 * np.maximum(held_kg, 1e-9)

    def slope(seconds: float, state: np.ndarray) -> np.ndarray:
        wall_c, left_kg = state[0::2], np.maximum(state[1::2], 0.0)
        along = bridge * np.diff(wall_c)
        net = np.zeros_like(wall_c)
        net[:-1] += along
        net[1:] -= along
        net[0] += inner * (_crown_c(seconds) - wall_c[0])
        net[-1] += outer * (10.0 - wall_c[-1])
        boils = np.clip((wall_c - BOILS_C + switch_k) / switch_k, 0.0, 1.0)
        steam = np.maximum(net, 0.0) / latent * boils * np.clip(left_kg / last_drops, 0.0, 1.0)
        changed = np.empty_like(state)
        changed[0::2] = (net - steam * latent) / (dry + HEAT_CAPACITY_WATER * left_kg)
        changed[1::2] = -steam
        return changed

    banded = kron(diags([1.0, 1.0, 1.0], [-1, 0, 1], shape=(n, n)), np.ones((2, 2)))
    solved = solve_ivp(
        slope, (0, 86400), np.ravel([np.full(n, 20.0), held_kg], order="F"), method="BDF",
        jac_sparsity=banded, rtol=rtol, atol=10 * rtol, max_step=1800.0,
        t_eval=[3600.0 * hour for hour in WET_HOURS],
    )  # fmt: skip
    return np.asarray(solved.y[0::2].T)


def test_a_wet_wall_against_a_general_solver_at_equal_error() -> None:
    """What the tool really solves: a front of boiling water. Steam passes freely here, for its
    pressure ties all cells of a wall and would take the bands out of the solver's Jacobian."""
    drawn_walls = members_of(an_oven(), drawn(200, 1))
    water = drawn_walls.water_kg_m3
    freely = np.zeros_like(water)
    mesh = replace(drawn_walls.mesh, inward_m3=freely, outward_m3=freely + 1e-30, clog_m3=freely)
    begin = time.process_time()
    _day(mesh, 60.0, 24.0, water)
    batched = time.process_time() - begin
    some = (0, 50, 100, 150)

    def error(of: dict[int, np.ndarray]) -> float:
        """Root mean square over members, hours and cells, K."""
        return float(np.sqrt(np.mean([(of[member] - exact[member]) ** 2 for member in some])))

    exact = {member: _wet_by_solver(mesh, water, member, 1e-7, 0.01) for member in some}
    days = [_day(mesh, 60.0, hour, water).temperature_c for hour in WET_HOURS]
    ours = {m: np.stack([day[m, mesh.cells - 1 :: -1] for day in days]) for m in some}
    kept, theirs, alone = 0.0, float("nan"), float("nan")
    for rtol in (1e-6, 1e-5, 1e-4, 1e-3, 1e-2):
        begin = time.process_time()
        solved = {member: _wet_by_solver(mesh, water, member, rtol) for member in some}
        spent_s = (time.process_time() - begin) / len(some)
        if error(solved) > error(ours):
            break
        kept, theirs, alone = rtol, error(solved), spent_s
    ratio = 2 * 200 * alone / batched
    print(f"\nwet: 200 members, 24 h at 60 s: {batched:.2f} s, error {error(ours):.3f} K")
    print(f"BDF, rtol {kept:g}: {1e3 * alone:.0f} ms a wall, error {theirs:.3f} K; ", end="")
    print(f"400 are {ratio:.0f} times slower")
    assert ratio > 1.0


def test_a_full_plan_and_the_reply() -> None:
    belief = fresh(members=200)
    plan_s = spent(lambda: plan_break_in(belief, USUAL, MILD, [MORNING]), 2)
    facts = a_first_fire()
    now = facts[6].at
    burning = belief.carried(facts[:6], facts[5].at, MILD)
    aim = FiringAim(155.0, 140.0, 170.0, 3.0)
    read = [fact for fact in facts[:7] if isinstance(fact, SurfaceRead)]

    def reply() -> None:
        told = burning.carried([facts[6]], now, MILD)
        forecast(told, aim, read, now, now, MILD)

    reply_s = spent(reply, 5)
    step_s = spent(lambda: burning.carried([], now - timedelta(minutes=28), MILD), 5)
    print(f"\nfull plan, 200 members: {plan_s:.2f} s; reply: {1e3 * reply_s:.0f} ms")
    print(f"the plan costs {plan_s / reply_s:.0f} replies, a reply {reply_s / step_s:.0f} steps")
    assert plan_s > reply_s


def test_cost_grows_linearly_with_ovens() -> None:
    one = members_of(an_oven(), drawn(64, 1))
    cold = ColdFaces(np.full((1, 2), 15.0), 10.0)
    hot = HotFaces(np.asarray(np.inf), np.full((1, 2), 150.0), np.zeros(2))
    costs = {}
    for ovens in (10, 100, 1000):
        rows = np.tile(np.arange(64), ovens)
        mesh = one.mesh.of_members(rows)
        state = at_rest(mesh, 60.0, one.water_kg_m3[rows])

        def work(mesh: Mesh = mesh, state: WallState = state) -> None:
            for _ in range(3):
                state, _ = stepped(mesh, state, 60.0, hot, cold)

        costs[ovens] = spent(work, 2) / 3
        print(f"\n{ovens} ovens x 64 members: {1e6 * costs[ovens] / ovens:.0f} µs an oven and step")
    assert costs[1000] > costs[10]


def test_a_night_costs_less_than_a_fire() -> None:
    belief = fresh(members=200)
    facts = a_first_fire()
    fire_s = spent(lambda: belief.carried(facts, facts[-1].at, MILD))
    done = belief.carried(facts, facts[-1].at, MILD)
    night_s = spent(lambda: done.carried([], done.at + hours(16), MILD), 3)
    print(f"\na fire costs {fire_s / night_s:.1f} nights")
    assert fire_s > 0
