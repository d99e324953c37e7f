"""Heat and water in the walls of an ensemble, one step at a time.

Heat is stepped implicitly (backward Euler) on all members and walls at once: their tridiagonal
systems lie end to end in one with zero couplings, solved by one LAPACK call. Water evaporates by
the enthalpy method at its wall's steam pressure, which is found together with the temperatures
(``boiling``) and from where the front stands in its cell (``front``); energy and water balance to
rounding. Within 3 % in pressure and 2 % in water of an independent solver at steps up to 300 s.

Not followed: drying below the boiling point inside the shell, steam that goes deeper into the
wall and condenses there, and the heat that steam takes up on its way out. Steam going deeper would
leave the wall wetter and its pressure lower; damp stone lets little of it through.
"""

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from scheduling.oven.boiling import BOILS_C, Begun, Steamed, steamed
from scheduling.oven.linear import Equations, solved
from scheduling.oven.mesh import Mesh
from scheduling.oven.saturation import ATMOSPHERE_PA, HEAT_CAPACITY_WATER

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
Columns = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class HotFaces:
    """What the inside faces of crown and side meet for a step; each value (M, 2) or (2,) or ().

    A face exchanges heat with ``to_c`` over ``film_w_m2k`` (infinite: the face has that
    temperature) and takes in ``flux_w_m2`` besides. ``link_w_m2k`` is the radiation between
    crown and side (scalar or (M,)), on the crown's area.
    """

    film_w_m2k: Floats
    to_c: Floats
    flux_w_m2: Floats
    link_w_m2k: Floats | float = 0.0


@dataclass(frozen=True, slots=True)
class ColdFaces:
    """What the outer faces meet: film coefficient (M, 2) and air temperature."""

    film_w_m2k: Floats
    air_c: Floats | float


@dataclass(frozen=True, slots=True)
class WallState:
    """Temperatures (°C) and water (kg/m³) of all cells (M, 2n), steam pressure (Pa) (M, 2)."""

    temperature_c: Floats
    water_kg_m3: Floats
    pressure_pa: Floats

    def of_members(self, chosen: Columns) -> "WallState":
        """The same state for some members, in that order."""
        return WallState(
            self.temperature_c[chosen], self.water_kg_m3[chosen], self.pressure_pa[chosen]
        )


@dataclass(frozen=True, slots=True)
class Crossed:
    """What crossed the boundaries in a step.

    ``heat_in_w`` (M, 2) through the inner faces, ``heat_out_w`` (M, 2) through the outer ones,
    ``steam_kg`` (M, 2) left, carrying ``steam_j`` (M, 2); ``face_c`` (M, 2) inner faces.
    """

    heat_in_w: Floats
    heat_out_w: Floats
    steam_kg: Floats
    steam_j: Floats
    face_c: Floats


def at_rest(mesh: Mesh, temperature_c: float | Floats, water_kg_m3: Floats) -> WallState:
    """A wall all of one temperature."""
    return WallState(
        np.broadcast_to(temperature_c, mesh.volume_m3.shape).astype(np.float64),
        np.broadcast_to(water_kg_m3, mesh.volume_m3.shape).astype(np.float64),
        np.full((mesh.members, 2), ATMOSPHERE_PA),
    )


def stored_j(mesh: Mesh, state: WallState) -> Floats:
    """Heat in each wall above 0 °C (M, 2), water included."""
    return mesh.wall_sums(_heat_j_k(mesh, state.water_kg_m3) * state.temperature_c)


def water_kg(mesh: Mesh, state: WallState, only: Bools | None = None) -> Floats:
    """Water in each wall (M, 2), or in the cells that ``only`` (2n,) marks."""
    held = state.water_kg_m3 * mesh.volume_m3
    return mesh.wall_sums(held if only is None else held * only)


def stepped(
    mesh: Mesh, state: WallState, seconds: float, hot: HotFaces, cold: ColdFaces
) -> tuple[WallState, Crossed]:
    """The walls ``seconds`` later, and what crossed their faces."""
    start_c, volume = state.temperature_c, mesh.volume_m3
    water_kg_now = state.water_kg_m3 * volume
    inner = _in_series(hot.film_w_m2k, mesh.inner_m2, mesh.inner_w_k)
    outer = _in_series(cold.film_w_m2k, mesh.outer_m2, mesh.outer_w_k)
    # A flux given at the face meets the half cell and the film side by side.
    into_cell = hot.flux_w_m2 * mesh.inner_m2 * _share_inward(hot, mesh)
    inertia = _heat_j_k(mesh, state.water_kg_m3) / seconds
    equations = _equations(
        start_c, inertia, _bridged(mesh, hot), mesh, inner, outer, hot, cold, into_cell
    )
    after, steam = _ended(mesh, state, seconds, equations, water_kg_now, hot)

    ended_c = after.temperature_c
    steam_kg = steam_j = np.zeros((mesh.members, 2))
    node_c, inward = ended_c[:, mesh.hot_cells], inner
    if steam is not None:
        gone_kg = (state.water_kg_m3 - after.water_kg_m3) * volume
        # What leaves takes with it the heat that it held as water.
        carried = gone_kg * (steam.latent_j_kg + HEAT_CAPACITY_WATER * ended_c)
        steam_kg, steam_j = mesh.wall_sums(gone_kg), mesh.wall_sums(carried)
        node_c, inward = steam.hot_node_c, inner + steam.hot_gain_w_k
    heat_in = inward * (hot.to_c - node_c) + into_cell
    heat_out = outer * (ended_c[:, mesh.cold_cells] - cold.air_c)
    face_c = hot.to_c
    if not np.isinf(hot.film_w_m2k).all():
        face_c = node_c + heat_in / mesh.inner_w_k
    return after, Crossed(heat_in, heat_out, steam_kg, steam_j, face_c)


def _ended(
    mesh: Mesh,
    state: WallState,
    seconds: float,
    equations: Equations,
    held_kg: Floats,
    hot: HotFaces,
) -> tuple[WallState, Steamed | None]:
    """The state at the end of the step, and what boiled (None: nothing)."""
    if state.pressure_pa.max() <= ATMOSPHERE_PA:
        plain = equations.copy()
        plain_c = solved(plain.middle.ravel(), plain.beside.ravel(), plain.right.reshape(1, -1))
        plain_c = plain_c.reshape(state.temperature_c.shape)
        if not ((plain_c > BOILS_C) & (held_kg > 0)).any():
            return replace(state, temperature_c=plain_c), None
    given = bool(np.isinf(hot.film_w_m2k).all())
    face_c = hot.to_c if given else state.temperature_c[:, mesh.hot_cells]
    steam = steamed(
        mesh,
        equations,
        seconds,
        Begun(
            temperature_c=state.temperature_c,
            water_kg=held_kg,
            inertia_w_k=_heat_j_k(mesh, state.water_kg_m3) / seconds,
            pressure_pa=state.pressure_pa,
            face_c=np.broadcast_to(face_c, state.pressure_pa.shape),
            given=given,
        ),
    )
    left = np.maximum(state.water_kg_m3 - steam.gone_kg / mesh.volume_m3, 0.0)
    left[left < 1e-9 * state.water_kg_m3] = 0.0
    return WallState(steam.temperature_c, left, steam.pressure_pa), steam


def _heat_j_k(mesh: Mesh, water: Floats) -> Floats:
    return mesh.dry_heat_j_k + HEAT_CAPACITY_WATER * water * mesh.volume_m3


def _in_series(film_w_m2k: Floats, area_m2: Floats, half_cell_w_k: Floats) -> Floats:
    with np.errstate(divide="ignore"):
        return np.asarray(1.0 / (1.0 / (film_w_m2k * area_m2) + 1.0 / half_cell_w_k))


def _share_inward(hot: HotFaces, mesh: Mesh) -> Floats:
    with np.errstate(invalid="ignore"):
        film = hot.film_w_m2k * mesh.inner_m2
        return np.where(np.isinf(film), 0.0, mesh.inner_w_k / (mesh.inner_w_k + film))


def _bridged(mesh: Mesh, hot: HotFaces) -> Floats:
    """Couplings between neighbours, with the radiation between the two hot faces."""
    link = np.asarray(hot.link_w_m2k, dtype=np.float64)
    if not link.any():
        return mesh.bridge_w_k
    bridge = mesh.bridge_w_k.copy()
    radiated = link * mesh.inner_m2[:, 0]
    with np.errstate(divide="ignore"):
        bridge[:, mesh.cells - 1] = 1.0 / (
            1.0 / radiated + 1.0 / mesh.inner_w_k[:, 0] + 1.0 / mesh.inner_w_k[:, 1]
        )
    return bridge


def _equations(
    start_c: Floats,
    inertia: Floats,
    bridge: Floats,
    mesh: Mesh,
    inner: Floats,
    outer: Floats,
    hot: HotFaces,
    cold: ColdFaces,
    into_cell: Floats,
) -> Equations:
    """The step's heat balance of every cell, nothing boiling."""
    beside = np.zeros(start_c.shape)
    np.negative(bridge, out=beside[:, :-1])
    middle = inertia.copy()
    middle[:, :-1] += bridge
    middle[:, 1:] += bridge
    right = inertia * start_c
    middle[:, mesh.hot_cells] += inner
    right[:, mesh.hot_cells] += inner * hot.to_c + into_cell
    middle[:, mesh.cold_cells] += outer
    right[:, mesh.cold_cells] += outer * cold.air_c
    return Equations(middle, beside, right)
