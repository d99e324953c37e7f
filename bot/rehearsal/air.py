"""The weather over an invented oven: from an instant to the air there.

``HourlySky`` is made of the stochastic weather next door. ``PlainSky`` is the least that an
oven can stand under, a daily wave with rain and wind where they are asked for.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Protocol
from zoneinfo import ZoneInfo

import numpy as np

from bot.rehearsal.weathermaking import Sort, hourly, make
from scheduling.breakin.weather import HourWeather
from scheduling.oven.makeup import MakeUp


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


CLIMATES = {
    "dry": {"wetter": 0.05, "windier": 0.7},
    "showery": {"wetter": 1.5, "windier": 1.1},
    "gale": {"wetter": 1.2, "windier": 2.0},
}
"""How much wetter and windier than usual for the place and season (own choice)."""

USUAL_PLACE = (52.2, -1.5, "Europe/London")


class HourlySky:
    """Made-up weather hour by hour; beyond both ends the nearest hour goes on.

    Raises ValueError for no hours at all, or one without temperature, wind or rain.
    """

    def __init__(self, hours: Sequence[HourWeather]) -> None:
        if not hours:
            raise ValueError("weather needs at least one hour")
        self.first = hours[0].at
        self.told = tuple(hours)
        self.hours = tuple(_air_of(hour) for hour in hours)

    def at(self, instant: datetime) -> Air:
        """The air at ``instant``."""
        place = int((instant - self.first).total_seconds() // 3600)
        return self.hours[min(max(place, 0), len(self.hours) - 1)]


def _air_of(hour: HourWeather) -> Air:
    if hour.air_c is None or hour.wind_ms is None or hour.rain_mm is None:
        raise ValueError(f"weather of {hour.at:%d %b %H:%M} has a hole in it")
    humidity = 0.95 if hour.rain_mm > 0 else 0.65 + 0.2 * (hour.cloud or 0.0)
    return Air(hour.air_c, humidity, hour.wind_ms, hour.rain_mm)


def made_up_sky(
    kind: str, make_up: MakeUp, rng: np.random.Generator, first: date, days: int
) -> HourlySky:
    """Weather of a kind of ``CLIMATES`` at the oven's place, from the morning of ``first``."""
    latitude, longitude, zone = USUAL_PLACE
    if make_up.latitude is not None and make_up.longitude is not None:
        latitude, longitude = make_up.latitude, make_up.longitude
    sort = Sort(kind, latitude, longitude, make_up.zone or zone, **CLIMATES[kind])
    seasons = make(sort, first, days, 1, rng)
    begin = datetime.combine(first, time(12), ZoneInfo(sort.zone))
    return HourlySky(hourly(seasons, 0, sort, begin, days).hours)
