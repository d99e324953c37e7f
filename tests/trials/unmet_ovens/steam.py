"""Saturated steam: its pressure, its boiling point, and what it takes to make it."""

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

KELVIN = 273.15
AIR_PA = 101_325.0
LATENT_J_KG = 2.26e6
WATER_J_KG_K = 4186.0
VAPOUR_J_KG_K = 461.5
"""Gas constant of water vapour."""
VAPOUR_PA_S = 1.3e-5
"""Viscosity of steam between 100 and 200 °C (order of magnitude)."""


def saturation_pa(celsius: Floats) -> Floats:
    """Pressure of saturated steam, a polynomial in 1 - 373.15 K / T."""
    ratio = 1.0 - 373.15 / (np.clip(celsius, -20.0, 330.0) + KELVIN)
    power = ratio * (13.3185 + ratio * (-1.9760 + ratio * (-0.6445 - 0.1299 * ratio)))
    return np.asarray(AIR_PA * np.exp(power))


_TABLE_C = np.linspace(60.0, 320.0, 521)
_TABLE_PA = saturation_pa(_TABLE_C)


def boiling_c(pascal: Floats) -> Floats:
    """Where water boils under that pressure."""
    return np.asarray(np.interp(pascal, _TABLE_PA, _TABLE_C))
