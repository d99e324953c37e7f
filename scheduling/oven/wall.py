"""Heat and water in the walls of an ensemble, one step at a time.

Heat is stepped implicitly (backward Euler) on all members and walls at once: their tridiagonal
systems lie end to end in one with zero couplings, solved by one LAPACK call. Water evaporates by
the enthalpy method: a wet cell is held at the boiling point of its wall's steam pressure, and
what heat it gets beyond becomes steam. Pressure is found so that what evaporates is what the
crust lets through (see ``steam``); energy and water balance to rounding.

Not followed: drying below the boiling point inside the shell, and the heat that steam takes up
on its way out; both leave the wall wetter than it is.
"""

from dataclasses import dataclass, replace

import numpy as np
from scipy.linalg import lapack

from scheduling.oven.mesh import Mesh
from scheduling.oven.pressure import (
    BOILS_C,
    Bools,
    Columns,
    Floats,
    balanced_pressure,
    boiling_at,
    by_wall,
    per_cell,
)
from scheduling.oven.saturation import ATMOSPHERE_PA, HEAT_CAPACITY_WATER


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
    start_c, water = state.temperature_c, state.water_kg_m3
    heat_j_k = _heat_j_k(mesh, water)
    wet_columns = np.flatnonzero(water.any(axis=0))
    boiling, _ = boiling_at(state.pressure_pa)
    held = _held_at_boiling(mesh, start_c, water, boiling, wet_columns)

    inner = _in_series(hot.film_w_m2k, mesh.inner_m2, mesh.inner_w_k)
    outer = _in_series(cold.film_w_m2k, mesh.outer_m2, mesh.outer_w_k)
    # A flux given at the face meets the half cell and the film side by side.
    into_cell = hot.flux_w_m2 * mesh.inner_m2 * _share_inward(hot, mesh)
    bridge = _bridged(mesh, hot)
    solved_c = _solved(
        mesh, start_c, heat_j_k / seconds, bridge, inner, outer, hot, cold, into_cell, held
    )

    heat_in = inner * (hot.to_c - solved_c[:, mesh.hot_cells]) + into_cell
    heat_out = outer * (solved_c[:, mesh.cold_cells] - cold.air_c)
    along = bridge * np.diff(solved_c, axis=1)
    net_w = np.zeros_like(solved_c)
    net_w[:, :-1] += along
    net_w[:, 1:] -= along
    net_w[:, mesh.hot_cells] += heat_in
    net_w[:, mesh.cold_cells] -= heat_out

    face_c = solved_c[:, mesh.hot_cells] + heat_in / mesh.inner_w_k
    after, steam_kg, steam_j = _evaporated(
        mesh, state, seconds, heat_j_k, net_w, solved_c, bridge, face_c, wet_columns
    )
    return after, Crossed(heat_in, heat_out, steam_kg, steam_j, face_c)


def _heat_j_k(mesh: Mesh, water: Floats) -> Floats:
    return mesh.dry_heat_j_k + HEAT_CAPACITY_WATER * water * mesh.volume_m3


def _held_at_boiling(
    mesh: Mesh, start_c: Floats, water: Floats, boiling: Floats, columns: Columns
) -> tuple[Bools, Floats] | None:
    """Wet cells at their boiling point, and that temperature; None where nothing boils."""
    if not columns.size or float(start_c[:, columns].max()) < BOILS_C - 1e-6:
        return None
    mask = np.zeros(start_c.shape, dtype=np.bool_)
    at = np.zeros(start_c.shape)
    at[:, columns] = per_cell(mesh, boiling, columns)
    mask[:, columns] = (water[:, columns] > 0) & (start_c[:, columns] >= at[:, columns] - 1e-6)
    return mask, at


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


def _solved(
    mesh: Mesh,
    start_c: Floats,
    inertia: Floats,
    bridge: Floats,
    inner: Floats,
    outer: Floats,
    hot: HotFaces,
    cold: ColdFaces,
    into_cell: Floats,
    held: tuple[Bools, Floats] | None,
) -> Floats:
    """Temperatures at the end of the step, boiling cells held."""
    rows, columns = start_c.shape
    beside = np.zeros((rows, columns))
    np.negative(bridge, out=beside[:, :-1])
    middle = inertia.copy()
    middle[:, :-1] += bridge
    middle[:, 1:] += bridge
    right = inertia * start_c
    middle[:, mesh.hot_cells] += inner
    right[:, mesh.hot_cells] += inner * hot.to_c + into_cell
    middle[:, mesh.cold_cells] += outer
    right[:, mesh.cold_cells] += outer * cold.air_c
    if held is not None:
        _hold(beside, middle, right, *held)
    # Symmetric and positive definite: factored without pivoting, half the work of the general
    # tridiagonal solver, and measured three times as fast as elimination looped over cells.
    solution, info = lapack.dptsv(
        middle.ravel(),
        beside.ravel()[:-1],
        right.ravel(),
        overwrite_d=1,
        overwrite_e=1,
        overwrite_b=1,
    )[2:]
    if info != 0:
        raise FloatingPointError(f"the wall's equations have no solution (LAPACK {info})")
    return np.asarray(solution, dtype=np.float64).reshape(rows, columns)


def _hold(beside: Floats, middle: Floats, right: Floats, mask: Bools, at: Floats) -> None:
    """Hold cells at a temperature: what they give their neighbours moves to the right side, so
    that the equations stay symmetric."""
    known = np.where(mask, at, 0.0)
    right[:, :-1] -= beside[:, :-1] * known[:, 1:]
    right[:, 1:] -= beside[:, :-1] * known[:, :-1]
    beside[:, :-1][mask[:, :-1] | mask[:, 1:]] = 0.0
    middle[mask] = 1.0
    right[mask] = at[mask]


def _evaporated(
    mesh: Mesh,
    state: WallState,
    seconds: float,
    heat_j_k: Floats,
    net_w: Floats,
    solved_c: Floats,
    bridge: Floats,
    face_c: Floats,
    columns: Columns,
) -> tuple[WallState, Floats, Floats]:
    """Turn what wet cells got beyond their boiling point into steam."""
    none = np.zeros((mesh.members, 2))
    columns = columns[solved_c[:, columns].max(axis=0) > BOILS_C]
    if not columns.size:
        calm = np.full((mesh.members, 2), ATMOSPHERE_PA)
        return replace(state, temperature_c=solved_c, pressure_pa=calm), none, none

    water, volume = state.water_kg_m3[:, columns], mesh.volume_m3[:, columns]
    capacity = heat_j_k[:, columns]
    start_c = state.temperature_c[:, columns]
    sides = np.zeros_like(solved_c)
    sides[:, 1:] += bridge
    sides[:, :-1] += bridge
    # Where a cell would end the step if nothing evaporated; held cells were solved as if they
    # could give or take any heat, so their own heat is added back over what would resist it.
    stiffness = capacity / seconds + sides[:, columns]
    spare_w = net_w[:, columns] - capacity / seconds * (solved_c[:, columns] - start_c)
    free_c = solved_c[:, columns] + spare_w / stiffness
    wet = water > 0
    pressure = balanced_pressure(
        mesh, state.pressure_pa, seconds, free_c, stiffness, water * volume, wet, face_c, columns
    )

    boiling, latent_by_wall = boiling_at(pressure)
    latent = per_cell(mesh, latent_by_wall, columns)
    at_c = per_cell(mesh, boiling, columns)
    heat_j = net_w[:, columns] * seconds - capacity * (at_c - start_c)
    gone_kg = np.where(wet, np.clip(heat_j / latent, 0.0, water * volume), 0.0)
    left = np.maximum(water - gone_kg / volume, 0.0)
    left[left < 1e-9 * water] = 0.0
    gone_kg = (water - left) * volume
    remaining = capacity - HEAT_CAPACITY_WATER * gone_kg
    plain_c = start_c + net_w[:, columns] * seconds / capacity
    ended_c = np.where(gone_kg > 0, at_c + (heat_j - gone_kg * latent) / remaining, plain_c)

    temperature = solved_c
    temperature[:, columns] = ended_c
    after_water = state.water_kg_m3.copy()
    after_water[:, columns] = left
    carried_j = gone_kg * (latent + HEAT_CAPACITY_WATER * at_c)
    steam_kg, steam_j = by_wall(mesh, gone_kg, columns), by_wall(mesh, carried_j, columns)
    return WallState(temperature, after_water, pressure), steam_kg, steam_j
