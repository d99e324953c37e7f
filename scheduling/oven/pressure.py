"""Steam pressure in every wall of an ensemble: what evaporates is what the crust lets through."""

import numpy as np
import numpy.typing as npt

from scheduling.oven.mesh import Mesh
from scheduling.oven.saturation import (
    ATMOSPHERE_PA,
    GAS_CONSTANT_STEAM,
    HIGHEST_PA,
    KELVIN,
    boiling_point_c,
    latent_heat_j_kg,
)
from scheduling.oven.steam import drag_pa2_s_m2

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
Columns = npt.NDArray[np.intp]

BOILS_C = float(boiling_point_c(ATMOSPHERE_PA))

_PRESSURE_ROUNDS = 12
_PRESSURE_MISS = 1e-3

# The solver asks for the boiling point ten times a step: a table is as good to 0.01 K.
_LOG_PA = np.linspace(np.log(0.9 * ATMOSPHERE_PA), np.log(1.1 * HIGHEST_PA), 400)
_BOILING_C = boiling_point_c(np.exp(_LOG_PA))
_LATENT_J_KG = latent_heat_j_kg(_BOILING_C)


def boiling_at(pressure_pa: Floats) -> tuple[Floats, Floats]:
    """Boiling point (°C) and latent heat (J/kg), by the table."""
    place = np.log(pressure_pa)
    return np.interp(place, _LOG_PA, _BOILING_C), np.interp(place, _LOG_PA, _LATENT_J_KG)


def per_cell(mesh: Mesh, by_wall: Floats, columns: Columns) -> Floats:
    """(M, 2) spread over cells (M, len(columns))."""
    spread = np.empty((by_wall.shape[0], columns.size))
    split = int(np.searchsorted(columns, mesh.cells))
    spread[:, :split] = by_wall[:, :1]
    spread[:, split:] = by_wall[:, 1:]
    return spread


def by_wall(mesh: Mesh, cells: Floats, columns: Columns) -> Floats:
    """Sums over the cells of each wall (M, 2), of (M, len(columns))."""
    split = int(np.searchsorted(columns, mesh.cells))
    sums = np.empty((cells.shape[0], 2))
    sums[:, 0] = cells[:, :split].sum(axis=1)
    sums[:, 1] = cells[:, split:].sum(axis=1)
    return sums


def balanced_pressure(
    mesh: Mesh,
    before_pa: Floats,
    seconds: float,
    free_c: Floats,
    stiffness: Floats,
    water_kg: Floats,
    wet: Bools,
    face_c: Floats,
    columns: Columns,
) -> Floats:
    """Pressure at which what evaporates is what the crust lets through.

    P² - P0² = Σ path·m(P): the right side falls with P and the left rises, so there is one
    answer. All wet cells of a wall boil at one pressure, the highest on the steam's way.
    """
    path = mesh.inward_m3[:, columns]
    behind_shell = ~mesh.shell[columns]
    if behind_shell.any():
        # Behind the shell steam takes the easier way, which may be outward.
        outward = mesh.outward_m3[:, columns]
        path = np.where(behind_shell, path * outward / (path + outward), path)
    ready = wet & (free_c > BOILS_C)
    weight = np.where(ready, path * stiffness, 0.0)
    most = path * water_kg / seconds
    pressure = before_pa
    boiling, latent = boiling_at(before_pa)
    drag = drag_pa2_s_m2(np.maximum(face_c, boiling), boiling)
    low = np.full_like(before_pa, ATMOSPHERE_PA)
    high = np.full_like(before_pa, HIGHEST_PA)
    for _ in range(_PRESSURE_ROUNDS):
        free_w = weight * (free_c - per_cell(mesh, boiling, columns))
        most_w = most * per_cell(mesh, latent, columns)
        driving = np.minimum(np.maximum(free_w, 0.0), most_w)
        moving = weight * (driving == free_w)
        per_heat = drag / latent
        square = pressure * pressure
        miss = square - ATMOSPHERE_PA**2 - per_heat * by_wall(mesh, driving, columns)
        if float(np.abs(miss / square).max()) < _PRESSURE_MISS:
            break
        low = np.where(miss < 0, pressure, low)
        high = np.where(miss > 0, pressure, high)
        # dT/dP by Clausius and Clapeyron, steam ideal.
        kelvin_pa = GAS_CONSTANT_STEAM * (boiling + KELVIN) ** 2 / (latent * pressure)
        slope = per_heat * by_wall(mesh, moving, columns)
        pressure = pressure - miss / (2.0 * pressure + slope * kelvin_pa)
        outside = (pressure < low) | (pressure > high)
        if outside.any():
            halved = np.sqrt(low * np.minimum(high, 4.0 * low))
            pressure = np.where(outside, halved, pressure)
        boiling, latent = boiling_at(pressure)
    return pressure
