"""The weather over an invented oven: a small function from an instant to the air there.

The stochastic generator lives next door; ``PlainSky`` is the least that an oven can stand
under, a daily wave with rain and wind where they are asked for, and serves tests.
"""

import math
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from scipy.constants import zero_Celsius


@dataclass(frozen=True, slots=True)
class Air:
    """The air at the oven. ``wind_ms`` is at the dome, ``rain_mm_h`` on level ground."""

    temperature_c: float
    humidity: float
    wind_ms: float
    rain_mm_h: float


class Skies(Protocol):
    """Any weather that can be asked what it is like at an instant."""

    def at(self, instant: datetime) -> Air:
        """The air at ``instant``; the same answer whenever it is asked."""
        ...


@dataclass(frozen=True, slots=True)
class PlainSky:
    """A daily wave, coldest at 4 and warmest at 16 UTC, all else constant."""

    mean_c: float = 12.0
    swing_k: float = 5.0
    humidity: float = 0.75
    wind_ms: float = 2.0
    rain_mm_h: float = 0.0

    def at(self, instant: datetime) -> Air:
        """The air at ``instant``."""
        hour = instant.hour + instant.minute / 60 + instant.second / 3600
        wave = -math.cos((hour - 4) / 24 * 2 * math.pi)
        return Air(self.mean_c + self.swing_k * wave, self.humidity, self.wind_ms, self.rain_mm_h)


def vapour_pressure_pa(air: Air) -> float:
    """Pressure of the water vapour in the air (Antoine's equation, as in ``porewall``)."""
    saturated = 1e3 * math.exp(16.3872 - 3885.70 / (air.temperature_c + 230.170))
    return air.humidity * saturated


def kelvin(celsius: float) -> float:
    """°C to K."""
    return celsius + zero_Celsius
