"""Steam in the wall: how high its pressure may go, and what that allows at the surface.

Steam leaves toward the fire through the dry crust by Darcy's law for an ideal gas,
``P² - P0² = 2 μ (R/M) T m x/κ`` with m the evaporation (kg/m²s) behind a crust of thickness x
and permeability κ. The limit is the mortar's tensile strength over a safety factor.
"""

from functools import cache
from typing import Final

import numpy as np
import numpy.typing as npt

from scheduling.oven.materials import tensile_strength_mpa
from scheduling.oven.rows import SCALES, STEAM, Records
from scheduling.oven.saturation import (
    ATMOSPHERE_PA,
    GAS_CONSTANT_STEAM,
    HEAT_CAPACITY_WATER,
    HIGHEST_PA,
    KELVIN,
    boiling_point_c,
    latent_heat_j_kg,
    saturation_pressure_pa,
    steam_viscosity_pa_s,
)

Floats = npt.NDArray[np.float64]

BOILS_C: Final = float(boiling_point_c(ATMOSPHERE_PA))
_PLACES = 2000
_HOTTEST_CRUST_C = 1300.0


def allowed_overpressure_pa(
    characteristic_strength_mpa: npt.ArrayLike,
    strength_ratio: npt.ArrayLike,
    safety: float,
) -> Floats:
    """Steam pressure above the air's that a wall may carry.

    f_ctm = 0.30 f_ck^(2/3) (EN 1992-1-1 Table 3.1) times β_cc (Eq. (3.4), α = 1), over the
    safety factor.
    """
    strong = tensile_strength_mpa(1.0) * np.power(characteristic_strength_mpa, 2.0 / 3.0)
    return np.asarray(1e6 * strong * np.asarray(strength_ratio) / safety, dtype=np.float64)


def drag_pa2_s_m2(surface_c: Floats, front_c: Floats) -> Floats:
    """2 μ (R/M) T of the steam in the crust, at the mean of its two ends."""
    mean = 0.5 * (surface_c + front_c)
    return 2.0 * steam_viscosity_pa_s(mean) * GAS_CONSTANT_STEAM * (mean + KELVIN)


def surface_ceiling_c(
    overpressure_pa: npt.ArrayLike, conductivity_w_mk: npt.ArrayLike, permeability_m2: npt.ArrayLike
) -> Floats:
    """Hottest surface of a wet wall at which the steam stays within ``overpressure_pa``.

    If all heat that crosses the crust evaporates water, m = kΔT/(xL) and the thickness x
    cancels: ``P² - P0² = 2 μ (R/M) T k (T_surface - T_front)/(κL)``. Some heat always goes on
    into the wet part, so that the true pressure is lower and the ceiling on the safe side.
    """
    limit = ATMOSPHERE_PA + np.asarray(overpressure_pa, dtype=np.float64)
    front = boiling_point_c(limit)
    heat = latent_heat_j_kg(front) * np.asarray(permeability_m2) / np.asarray(conductivity_w_mk)
    surface = front + 10.0
    for _ in range(25):
        surface = front + heat * (limit**2 - ATMOSPHERE_PA**2) / drag_pa2_s_m2(surface, front)
        surface = np.minimum(surface, 900.0)
    return np.asarray(surface, dtype=np.float64)


@cache
def tables() -> tuple[Records, Records]:
    """What steam does, to be looked up (``rows.STEAM``), and the tables' scales (``rows.SCALES``):
    each within 1e-5 of its formula."""
    log_pa = np.linspace(np.log(ATMOSPHERE_PA), np.log(HIGHEST_PA), _PLACES)
    boils_c = np.linspace(BOILS_C, float(boiling_point_c(HIGHEST_PA)), _PLACES)
    crust_c = np.linspace(0.0, _HOTTEST_CRUST_C, _PLACES)
    steam = np.zeros(_PLACES, STEAM)
    steam["boils_c"] = boiling_point_c(np.exp(log_pa))
    steam["log_pa"] = np.log(saturation_pressure_pa(boils_c))
    steam["latent_j_kg"] = latent_heat_j_kg(boils_c)
    # Clausius and Clapeyron, steam ideal: d(P²)/dT over P².
    steam["steep"] = 2.0 * steam["latent_j_kg"] / (GAS_CONSTANT_STEAM * (boils_c + KELVIN) ** 2)
    steam["drag_pa2_s_m2"] = drag_pa2_s_m2(crust_c, crust_c)
    scales = np.zeros(1, SCALES)
    scales["first_log_pa"], scales["per_log_pa"] = log_pa[0], 1.0 / (log_pa[1] - log_pa[0])
    scales["first_c"], scales["per_c"] = BOILS_C, 1.0 / (boils_c[1] - boils_c[0])
    scales["last_c"], scales["per_crust_c"] = boils_c[-1], 1.0 / crust_c[1]
    scales["atmosphere_pa"], scales["heat_j_kgk"] = ATMOSPHERE_PA, HEAT_CAPACITY_WATER
    return steam, scales
