"""A drying wall solved another way, to hold the program's against. No code is shared with it.

Explicit steps of tenths of a second on cells of half a millimetre, many walls side by side. Water
is in equilibrium with its steam (saturation by CoolProp, IAPWS-95): the wet cell nearest to the
fire has the pressure p_sat(T) and gives steam by Darcy's law for an ideal gas,
m = κ (P² - P0²)/(2 μ (R/M) T x), through all that is dry before it; what it gives cools it.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from CoolProp.CoolProp import PropsSI

Floats = npt.NDArray[np.float64]

AIR_PA = 101_325.0
STEAM_J_KGK = 8.314462618 / 0.01801528
WATER_J_KGK = 4186.0

_C = np.linspace(1.0, 370.0, 1500)
_PA = np.array([PropsSI("P", "T", c + 273.15, "Q", 1, "Water") for c in _C])
_J_KG = np.array(
    [
        PropsSI("H", "T", c + 273.15, "Q", 1, "Water")
        - PropsSI("H", "T", c + 273.15, "Q", 0, "Water")
        for c in _C
    ]
)


@dataclass(frozen=True)
class Dried:
    """Highest pressure (Pa) and share of the water left, for each wall (W,)."""

    peak_pa: Floats
    left: Floats


def dry_out(
    face_c: Callable[[float], float],
    hours: float,
    permeability_m2: list[float],
    *,
    inner_radius_m: float | None = None,
    thickness_m: float = 0.090,
    cell_m: float = 0.0005,
    conductivity: float = 1.1,
    heat_capacity: float = 2.2e6,
    water_kg_m3: float = 60.0,
    start_c: float = 20.0,
    outer_w_m2k: float = 5.0,
    air_c: float = 10.0,
    viscosity: Callable[[Floats], Floats] = lambda c: 12.27e-6 + 4.01e-8 * (c - 100.0),
) -> Dried:
    """Walls alike but for their permeability, heated at ``face_c`` of the seconds passed; plane,
    or a half sphere from ``inner_radius_m`` on. Their backs lose heat to the air, no steam."""
    count, walls = round(thickness_m / cell_m), len(permeability_m2)
    kappa = np.array(permeability_m2)[:, np.newaxis]
    if inner_radius_m is None:
        volume = np.full(count, cell_m)
        apart = np.full(count - 1, cell_m)
        to_face, out_m2, way = cell_m / 2, 1.0, np.full(count, cell_m)
    else:
        radius = inner_radius_m + cell_m * np.arange(count + 1)
        centre = 0.5 * (radius[1:] + radius[:-1])
        volume = 2 / 3 * np.pi * np.diff(radius**3)
        apart = (1 / centre[:-1] - 1 / centre[1:]) / (2 * np.pi)
        to_face = (1 / inner_radius_m - 1 / centre[0]) / (2 * np.pi)
        out_m2 = 2 * np.pi * radius[-1] ** 2
        way = (1 / radius[:-1] - 1 / radius[1:]) / (2 * np.pi)
    joined, entry = conductivity / apart, conductivity / to_face
    path = np.cumsum(way) - 0.5 * way
    step_s = 0.4 * cell_m**2 * heat_capacity / conductivity

    wall_c = np.full((walls, count), start_c)
    water = np.tile(water_kg_m3 * volume, (walls, 1))
    begun, peak = water.sum(axis=1), np.full(walls, AIR_PA)
    dry_j_k, rows = heat_capacity * volume, np.arange(walls)
    net = np.empty_like(wall_c)
    for index in range(round(hours * 3600 / step_s)):
        face = face_c((index + 1) * step_s)
        along = joined * (wall_c[:, :-1] - wall_c[:, 1:])
        net[:, 1:] = along
        net[:, 0] = entry * (face - wall_c[:, 0])
        net[:, :-1] -= along
        net[:, -1] -= outer_w_m2k * out_m2 * (wall_c[:, -1] - air_c)
        front = np.argmax(water > 0, axis=1)
        front_c = wall_c[rows, front]
        steam = np.zeros(walls)
        if front_c.max() > 99.0:
            pressure = np.maximum(np.interp(front_c, _C, _PA), AIR_PA)
            pressure[water[rows, front] <= 0] = AIR_PA
            mean = 0.5 * (face + front_c)
            drag = 2 * viscosity(mean) * STEAM_J_KGK * (mean + 273.15)
            steam = kappa[:, 0] * (pressure**2 - AIR_PA**2) / (drag * path[front])
            steam = np.minimum(steam * step_s, water[rows, front])
            net[rows, front] -= steam / step_s * np.interp(front_c, _C, _J_KG)
            peak = np.maximum(peak, pressure)
        wall_c += step_s * net / (dry_j_k + WATER_J_KGK * water)
        water[rows, front] -= steam
    return Dried(peak, water.sum(axis=1) / begun)
