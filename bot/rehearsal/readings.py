"""What an infrared thermometer shows in an invented owner's hand.

Its physics is worked out here from Planck's law on its own grid, so that a fault in the bot's
correction cannot hide behind the same fault in the rehearsal.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bot.rehearsal.trueoven import TrueOven
from scheduling.oven.makeup import Instrument

Floats = npt.NDArray[np.float64]

_WAVES_M = np.linspace(8e-6, 14e-6, 61)
_TABLE_C = np.linspace(-60.0, 1600.0, 831)
FLAME_C = 850.0
FLAME_DEPTH_EMISSIVITY = 0.12
"""A thin wood flame in the line of sight (from memory, order of magnitude)."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What the display says: a number, or none above its range. ``spoilt`` by a flame."""

    celsius: float | None
    spoilt: bool = False


def _radiance(celsius: Floats) -> Floats:
    """Band radiance 8 to 14 µm by the trapezium rule on Planck's law, W/m²sr."""
    kelvin = celsius[..., np.newaxis] + 273.15
    spectral = 1.191042972e-16 / _WAVES_M**5 / np.expm1(1.438776877e-2 / (_WAVES_M * kelvin))
    return np.asarray(np.trapezoid(spectral, _WAVES_M, axis=-1))


_TABLE = _radiance(_TABLE_C)


def _bright(celsius: float) -> float:
    return float(np.interp(celsius, _TABLE_C, _TABLE))


class Thermometer:
    """An instrument, and the hand that points it."""

    def __init__(self, instrument: Instrument, rng: np.random.Generator, care: float = 1.0) -> None:
        self.instrument, self.rng, self.care = instrument, rng, care
        self.scale = 1 + float(np.clip(rng.normal(), -2, 2)) * 0.008

    def show(self, oven: TrueOven, zone: str = "crown") -> Shown:
        """A reading of ``zone`` (crown or sides). ``care`` below 1 aims worse."""
        rng = self.rng
        crown, sides = oven.crown_c, oven.sides_c
        aimed, other = (crown, sides) if zone == "crown" else (sides, crown)
        stray = abs(float(rng.normal())) * 0.08 / self.care
        spot = aimed + min(stray, 0.5) * (other - aimed)
        if oven.alight and rng.random() < 0.25:
            spot += float(rng.choice(oven.truth.spots_k)) * min(1.0, oven.burning.flame_w / 8e3)
        emissivity = oven.emissivity
        dome = (crown + sides + oven.hearth.surface) / 3
        seen = emissivity * _bright(spot) + (1 - emissivity) * _bright(dome)
        spoilt = oven.alight and rng.random() < 0.06 / self.care
        if spoilt:
            veil = FLAME_DEPTH_EMISSIVITY * float(rng.uniform(0.5, 1.5))
            seen = (1 - veil) * seen + veil * _bright(FLAME_C)
        air = oven.skies.at(oven.now).temperature_c
        told = self.instrument.emissivity
        own = max((seen - (1 - told) * _bright(air)) / told, 1e-3)
        shown = float(np.interp(own, _TABLE, _TABLE_C))
        shown = shown * self.scale + float(rng.normal()) * 1.2
        if shown > self.instrument.max_c:
            return Shown(None, spoilt)
        return Shown(max(shown, self.instrument.min_c), spoilt)
