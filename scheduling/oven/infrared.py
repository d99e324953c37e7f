"""What an infrared thermometer shows, and what the surface really is.

A thermometer sees the radiance of a band, here 8-14 µm, divides it by the emissivity that it
is set to and shows the temperature of a black body as bright. A surface of lower emissivity
shines less of its own and mirrors what surrounds it.
"""

from enum import StrEnum
from typing import Final

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

FIRST_RADIATION = 2.0 * 6.62607015e-34 * 299792458.0**2  # 2hc², W m² sr⁻¹ (CODATA 2018, exact)
SECOND_RADIATION = 6.62607015e-34 * 299792458.0 / 1.380649e-23  # hc/k, m K (CODATA 2018, exact)
STEFAN_BOLTZMANN = 5.670374419e-8  # W/m²K⁴ (CODATA 2018)
KELVIN = 273.15
BAND_M: Final = (8e-6, 14e-6)

_TERMS = np.arange(1, 41, dtype=np.float64)


class Surface(StrEnum):
    """How the dome looks where it is measured."""

    SOOTY = "sooty"
    CLEAN = "clean"  # soot burnt off: bare brick or castable


EMISSIVITY: Final = {Surface.SOOTY: 0.95, Surface.CLEAN: 0.85}
"""Soot 0.95 (handbook tables). Bare masonry lies from 0.75 (firebrick, hot) to 0.94 (concrete);
0.85 is its middle (own choice)."""

EMISSIVITY_SPREAD: Final = {Surface.SOOTY: 0.02, Surface.CLEAN: 0.06}
"""Standard deviation of the above (own choice)."""

SOOT_CLEARS_C: Final = 380.0
"""Surface temperature above which a dome burns clean: common practice, no published source."""


def black_fraction(product_mk: npt.ArrayLike) -> Floats:
    """Share of a black body's radiation below a wavelength; ``product_mk`` is λT in m·K.

    The series of Chang & Rhee (1984): 15/π⁴ Σ e^(-nx)/n (x³ + 3x²/n + 6x/n² + 6/n³).
    """
    x = SECOND_RADIATION / np.asarray(product_mk, dtype=np.float64)[..., np.newaxis]
    n = _TERMS
    series = np.exp(-n * x) / n * (x**3 + 3 * x**2 / n + 6 * x / n**2 + 6 / n**3)
    return np.asarray(15.0 / np.pi**4 * series.sum(axis=-1), dtype=np.float64)


def band_fraction(temperature_c: npt.ArrayLike) -> Floats:
    """Share of a black body's radiation that lies within 8-14 µm."""
    kelvin = np.asarray(temperature_c, dtype=np.float64) + KELVIN
    short, long = BAND_M
    return black_fraction(long * kelvin) - black_fraction(short * kelvin)


def band_radiance(temperature_c: npt.ArrayLike) -> Floats:
    """Radiance of a black body within 8-14 µm, in W/m²sr: Planck's law integrated."""
    kelvin = np.asarray(temperature_c, dtype=np.float64) + KELVIN
    return STEFAN_BOLTZMANN * kelvin**4 / np.pi * band_fraction(temperature_c)


def temperature_of(radiance: npt.ArrayLike) -> Floats:
    """Temperature in °C of a black body of that radiance within 8-14 µm (W/m²sr > 0).

    Newton on ln S over 1/T, which is nearly a straight line (Wien), from a grey start.
    Raises ValueError for a radiance of 0 or less, which no surface has.
    """
    bright = np.asarray(radiance, dtype=np.float64)
    if not np.all(np.isfinite(bright) & (bright > 0)):
        raise ValueError("no surface is as dark as that: the background outshines the reading")
    aim = np.log(bright)
    inverse = np.full(bright.shape, 1.0 / 450.0)
    for _ in range(30):
        step = 1e-4 * inverse
        here = np.log(band_radiance(1.0 / inverse - KELVIN))
        slope = (np.log(band_radiance(1.0 / (inverse + step) - KELVIN)) - here) / step
        moved = np.clip(inverse + (aim - here) / slope, 1.0 / 3000.0, 1.0 / 100.0)
        done = np.max(np.abs(moved - inverse)) < 1e-12
        inverse = moved
        if done:
            break
    return np.asarray(1.0 / inverse - KELVIN, dtype=np.float64)


def corrected_c(
    shown_c: npt.ArrayLike,
    set_emissivity: npt.ArrayLike,
    emissivity: npt.ArrayLike,
    background_c: npt.ArrayLike,
) -> Floats:
    """The surface's own temperature in °C; all four broadcast.

    S(T) = [e_set S(T_shown) + (e - e_set) S(T_background)] / e, with S the band radiance. The
    background is what the surface mirrors: the rest of the dome, which is nearly as hot, or the
    sky when it is seen from outside. Raises ValueError where that leaves no radiance at all.
    """
    e = np.asarray(emissivity, dtype=np.float64)
    e_set = np.asarray(set_emissivity, dtype=np.float64)
    if not (np.all((e > 0) & (e <= 1)) and np.all((e_set > 0) & (e_set <= 1))):
        raise ValueError("an emissivity lies above 0 and is at most 1")
    own = e_set * band_radiance(shown_c) + (e - e_set) * band_radiance(background_c)
    return temperature_of(own / e)


def surface_looked_at(hottest_so_far_c: float) -> Surface:
    """Whether a dome that has been this hot (°C) has burnt its soot off."""
    return Surface.CLEAN if hottest_so_far_c >= SOOT_CLEARS_C else Surface.SOOTY
