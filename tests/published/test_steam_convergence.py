"""Steam and water at the steps that the program takes, against an independent solver.

The plan steps 300 s, a fire that is being read 120 s, a forecast 300 s: that is where the figures
have to hold, not in the limit. On the cells in use, plane and spherical, over four decades of
permeability: 3 % in the highest pressure, 2 % of the water.
"""

from functools import cache, partial

import numpy as np
import numpy.typing as npt
import pytest

from scheduling.breakin.trial import SEARCH_STEP_S, STEP_S
from scheduling.firing.forecast import STEP_S as FORECAST_STEP_S
from scheduling.oven.mesh import Mesh, Stuff, dome, shell_cells_mm, slab
from scheduling.oven.passage import COOLING_STEP_S, FIRING_STEP_S
from scheduling.oven.saturation import boiling_point_c
from scheduling.oven.wall import ColdFaces, HotFaces, at_rest, stepped, water_kg
from tests.published.drying_solver import Dried, dry_out

Floats = npt.NDArray[np.float64]

PERMEABILITIES = [1e-17, 1e-16, 1e-15, 1e-14]
WATER = 60.0
COLD = ColdFaces(np.full((1, 2), 5.0), 10.0)
SHAPES = pytest.mark.parametrize("radius_m", [None, 0.5], ids=["plane", "spherical"])


def climbed_c(top_c: float, seconds: float) -> float:
    """100 K/h from 20 °C up, then held."""
    return min(top_c, 20.0 + 100.0 * seconds / 3600.0)


def walls(radius_m: float | None) -> Mesh:
    """A shell of 90 mm, one member for each permeability."""
    sizes = np.tile(np.array(shell_cells_mm(90.0)) * 1e-3, (len(PERMEABILITIES), 1))

    def same(value: float) -> Floats:
        return np.full_like(sizes, value)

    kappa = np.array(PERMEABILITIES)[:, np.newaxis] * np.ones_like(sizes)
    stuff = Stuff(sizes, same(1.1), same(2200.0), same(1000.0), kappa, same(WATER))
    count = sizes.shape[1]
    shell, coat = np.ones(count, dtype=bool), np.zeros(count, dtype=bool)
    depth = (np.cumsum(sizes[0]) - sizes[0] / 2) * 1e3
    if radius_m is None:
        return slab(stuff, shell, coat, depth)
    return dome(stuff, radius_m, shell, coat, depth)


def ours(radius_m: float | None, top_c: float, hold_h: float, step_s: float) -> Dried:
    mesh = walls(radius_m)
    state = at_rest(mesh, 20.0, np.full_like(mesh.volume_m3, WATER))
    begun, peak = water_kg(mesh, state), state.pressure_pa
    end, seconds = ((top_c - 20.0) / 100.0 + hold_h) * 3600.0, 0.0
    while seconds < end - 1e-6:
        step = min(step_s, end - seconds)
        seconds += step
        face = np.full((1, 2), climbed_c(top_c, seconds))
        state, _ = stepped(mesh, state, step, HotFaces(np.asarray(np.inf), face, np.zeros(2)), COLD)
        peak = np.maximum(peak, state.pressure_pa)
    return Dried(peak[:, 1], (water_kg(mesh, state) / begun)[:, 1])


@cache
def theirs(radius_m: float | None, top_c: float, hold_h: float) -> Dried:
    face = partial(climbed_c, top_c)
    hours = (top_c - 20.0) / 100.0 + hold_h
    return dry_out(face, hours, PERMEABILITIES, inner_radius_m=radius_m)


def test_these_are_the_steps_in_use() -> None:
    assert {STEP_S, SEARCH_STEP_S, FORECAST_STEP_S, FIRING_STEP_S} == {120.0, 300.0}
    assert COOLING_STEP_S == 900.0


@SHAPES
@pytest.mark.parametrize(
    ("top_c", "hold_h"), [(155.0, 4.0), pytest.param(300.0, 1.0, marks=pytest.mark.slow)]
)
@pytest.mark.parametrize("step_s", [pytest.param(5.0, marks=pytest.mark.slow), 20.0, 120.0, 300.0])
def test_pressure_and_water_are_those_of_an_independent_solver(
    radius_m: float | None, top_c: float, hold_h: float, step_s: float
) -> None:
    exact = theirs(radius_m, top_c, hold_h)
    found = ours(radius_m, top_c, hold_h, step_s)
    np.testing.assert_allclose(found.peak_pa, exact.peak_pa, rtol=0.03)
    # Of what is left; where next to nothing is, of what the wall began with.
    np.testing.assert_allclose(found.left, exact.left, rtol=0.02, atol=0.0 if top_c < 200 else 0.02)


@SHAPES
def test_a_plan_s_step_gives_what_short_steps_give(radius_m: float | None) -> None:
    short, planned = (ours(radius_m, 155.0, 4.0, step_s) for step_s in (10.0, STEP_S))
    np.testing.assert_allclose(planned.peak_pa, short.peak_pa, rtol=0.03)
    np.testing.assert_allclose(planned.left, short.left, rtol=0.02)


@pytest.mark.parametrize("step_s", [60.0, 300.0, 900.0])
def test_no_wet_cell_is_hotter_than_its_steam_allows(step_s: float) -> None:
    """Behind a face that cools as well. The front's cell is left out: its dry part is hotter."""
    mesh = walls(0.5)
    n = mesh.cells
    state = at_rest(mesh, 20.0, np.full_like(mesh.volume_m3, WATER))
    shut = HotFaces(np.full((4, 2), 3.0), np.asarray(10.0), np.zeros(2), np.full(4, 12.0))
    hottest_wet_c = 0.0
    for index in range(round(8 * 3600 / step_s)):
        seconds = (index + 1) * step_s
        burning = HotFaces(
            np.asarray(np.inf), np.full((1, 2), climbed_c(300.0, seconds)), np.zeros(2)
        )
        hot = burning if seconds <= 3.5 * 3600 else shut
        state, _ = stepped(mesh, state, step_s, hot, COLD)
        wet = state.water_kg_m3 > 0
        behind = np.zeros_like(wet)
        behind[:, n:] = np.cumsum(wet[:, n:], axis=1) > 1
        behind[:, :n] = (np.cumsum(wet[:, n - 1 :: -1], axis=1) > 1)[:, ::-1]
        boiling_c = np.repeat(boiling_point_c(state.pressure_pa), n, axis=1)
        marked = wet & behind
        assert (state.temperature_c[marked] <= boiling_c[marked] + 0.01).all()
        hottest_wet_c = max(hottest_wet_c, float(state.temperature_c[marked].max(initial=0.0)))
    assert hottest_wet_c > 105.0, "nothing boiled: the test would show nothing"
