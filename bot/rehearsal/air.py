"""The weather over an invented oven: a small function from an instant to the air there.

The stochastic generator lives next door; ``PlainSky`` is the least that an oven can stand
under, a daily wave with rain and wind where they are asked for, and serves tests.
"""

import math
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

import numpy as np
import numpy.typing as npt


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


KINDS = {
    "dry": (0.0, 0.0, 2.5),
    "showery": (0.35, 1.6, 4.0),
    "gale": (0.30, 2.2, 9.0),
}
"""Share of three-hour spells with rain, its mean in mm/h, mean wind in m/s (own choice)."""


@dataclass(frozen=True, slots=True)
class SpellSky:
    """Spells of three hours from ``start`` on, each with its own wind, rain and warmth."""

    start: datetime
    mean_c: float
    wind_ms: npt.NDArray[np.float64]
    rain_mm_h: npt.NDArray[np.float64]
    offset_k: npt.NDArray[np.float64]

    def at(self, instant: datetime) -> Air:
        """The air at ``instant``; beyond both ends the nearest spell goes on."""
        place = (instant - self.start).total_seconds() / 10800.0
        spell = int(np.clip(place, 0, self.wind_ms.size - 1))
        rain = float(self.rain_mm_h[spell])
        air = PlainSky(self.mean_c, 5.0 if rain == 0 else 2.5).at(instant)
        return Air(
            air.temperature_c + float(self.offset_k[spell]),
            0.95 if rain else 0.7,
            float(self.wind_ms[spell]),
            rain,
        )


def invented_skies(
    kind: str, rng: np.random.Generator, start: datetime, days: int, mean_c: float = 13.0
) -> SpellSky:
    """Weather of a ``kind`` of ``KINDS``, rain and wind coming in runs (a first-order chain)."""
    share, rain, wind = KINDS[kind]
    count = days * 8
    noise = np.zeros(count)
    for i in range(1, count):
        noise[i] = 0.85 * noise[i - 1] + math.sqrt(1 - 0.85**2) * rng.normal()
    wet = noise > np.quantile(noise, 1 - share) if share else np.zeros(count, dtype=bool)
    gust = 0.6 * noise + 0.8 * rng.normal(size=count)
    return SpellSky(
        start,
        mean_c,
        wind * np.exp(0.35 * gust),
        np.where(wet, rng.exponential(max(rain, 1e-9), size=count), 0.0),
        -1.5 * noise,
    )
