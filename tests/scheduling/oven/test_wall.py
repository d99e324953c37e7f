import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduling.oven.mesh import CROWN, SIDE
from scheduling.oven.prior import Drawn, drawn, members_of
from scheduling.oven.wall import (
    ColdFaces,
    HotFaces,
    WallState,
    at_rest,
    stepped,
    stored_j,
    water_kg,
)
from tests.scheduling.oven.domes import an_oven

MEMBERS = 6


def walls(construction: str = "cast-dense") -> Drawn:
    return members_of(an_oven(construction), drawn(MEMBERS, 3))


def faces(top_c: float, side_c: float) -> HotFaces:
    return HotFaces(np.asarray(np.inf), np.array([[top_c, side_c]]), np.zeros(2))


AIR = ColdFaces(np.full((1, 2), 14.0), 10.0)


@settings(max_examples=15, derandomize=True, deadline=None)
@given(
    top_c=st.floats(20, 450),
    start_c=st.floats(0, 140),
    step_s=st.sampled_from([30.0, 120.0, 600.0]),
    construction=st.sampled_from(["cast-dense", "brick-perlite", "cast-light"]),
)
def test_heat_and_water_balance_to_rounding(
    top_c: float, start_c: float, step_s: float, construction: str
) -> None:
    made = walls(construction)
    mesh, state = made.mesh, at_rest(made.mesh, start_c, made.water_kg_m3)
    for hot in (
        faces(top_c, 0.9 * top_c),
        HotFaces(np.full((MEMBERS, 2), 3.0), np.full((1, 2), 10.0), np.full(2, 800.0), 9.0),
    ):
        for _ in range(25):
            heat, water = stored_j(mesh, state), water_kg(mesh, state)
            state, crossed = stepped(mesh, state, step_s, hot, AIR)
            gained = (crossed.heat_in_w - crossed.heat_out_w) * step_s - crossed.steam_j
            if np.any(hot.link_w_m2k):
                # Radiation carries heat from wall to wall: only their sum is kept.
                heat, gained = heat.sum(axis=1), gained.sum(axis=1)
                now = stored_j(mesh, state).sum(axis=1)
            else:
                now = stored_j(mesh, state)
            scale = float(np.abs(now).max()) + 1.0
            np.testing.assert_allclose(now - heat, gained, atol=1e-10 * scale)
            gone = water - water_kg(mesh, state)
            np.testing.assert_allclose(gone, crossed.steam_kg, atol=1e-12 * (1 + water.max()))
            assert (state.water_kg_m3 >= 0).all()


def test_members_and_order_do_not_touch_one_another() -> None:
    made = walls()
    state = at_rest(made.mesh, 60.0, made.water_kg_m3)
    order = np.array([4, 1, 5, 0, 3, 2])
    turned = state.of_members(order)
    mesh = made.mesh.of_members(order)
    for _ in range(60):
        state, _ = stepped(made.mesh, state, 60.0, faces(180.0, 160.0), AIR)
        turned, _ = stepped(mesh, turned, 60.0, faces(180.0, 160.0), AIR)
    np.testing.assert_allclose(turned.temperature_c, state.temperature_c[order], rtol=1e-12)
    np.testing.assert_allclose(turned.water_kg_m3, state.water_kg_m3[order], rtol=1e-9)


def test_crown_and_side_of_the_same_history_stay_the_same() -> None:
    made = walls()
    state = at_rest(made.mesh, 20.0, made.water_kg_m3)
    for _ in range(90):
        state, _ = stepped(made.mesh, state, 60.0, faces(160.0, 160.0), AIR)
    n = made.mesh.cells
    np.testing.assert_allclose(
        state.temperature_c[:, n - 1 :: -1], state.temperature_c[:, n:], rtol=1e-9
    )


def test_a_cooler_side_dries_later() -> None:
    made = walls()
    state = at_rest(made.mesh, 20.0, made.water_kg_m3)
    for _ in range(240):
        state, _ = stepped(made.mesh, state, 60.0, faces(160.0, 130.0), AIR)
    left = water_kg(made.mesh, state) / water_kg(
        made.mesh, at_rest(made.mesh, 0.0, made.water_kg_m3)
    )
    assert (left[:, SIDE] > left[:, CROWN] + 0.07).all()


def test_radiation_evens_the_two_faces_out() -> None:
    made = walls()
    shape = made.mesh.volume_m3.shape
    n = made.mesh.cells
    start = np.full(shape, 100.0)
    start[:, :n] = 200.0
    dry = WallState(start, np.zeros(shape), np.full((MEMBERS, 2), 101_325.0))
    apart = dry
    shut = np.zeros((1, 2))
    for _ in range(60):
        dry, _ = stepped(made.mesh, dry, 300.0, HotFaces(shut, shut, np.zeros(2), 15.0), AIR)
        apart, _ = stepped(made.mesh, apart, 300.0, HotFaces(shut, shut, np.zeros(2)), AIR)

    def gap(state: WallState) -> float:
        return float((state.temperature_c[:, n - 1] - state.temperature_c[:, n]).mean())

    assert abs(gap(dry)) < 0.25 * gap(apart)


def test_steam_builds_up_only_while_water_boils() -> None:
    made = walls()
    state = at_rest(made.mesh, 20.0, made.water_kg_m3)
    calm = made.water_kg_m3 * 0.0
    dry = at_rest(made.mesh, 20.0, calm)
    for _ in range(120):
        state, _ = stepped(made.mesh, state, 60.0, faces(170.0, 170.0), AIR)
        dry, _ = stepped(made.mesh, dry, 60.0, faces(170.0, 170.0), AIR)
    assert (state.pressure_pa > 105_000).all()
    assert dry.pressure_pa == pytest.approx(101_325.0)


def test_a_wetter_wall_stays_cooler_inside() -> None:
    made = walls()
    state = at_rest(made.mesh, 20.0, made.water_kg_m3)
    wetter = at_rest(made.mesh, 20.0, 1.5 * made.water_kg_m3)
    for _ in range(180):
        state, _ = stepped(made.mesh, state, 60.0, faces(160.0, 160.0), AIR)
        wetter, _ = stepped(made.mesh, wetter, 60.0, faces(160.0, 160.0), AIR)
    shell = made.mesh.shell
    assert (
        wetter.temperature_c[:, shell].mean(axis=1) < state.temperature_c[:, shell].mean(axis=1)
    ).all()
