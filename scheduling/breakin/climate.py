"""What the weather usually is, by place and day of the year: the offline default.

A coarse table of zonal means, written from memory and rounded: good to some 4 K in the monthly
mean near sea level, less on mountains and in deserts, where it is too mild by night. It serves
where no forecast reaches and no owner has spoken, and never counts as something that happened.
Both hemispheres come from the same columns, since January and July are written as themselves.
"""

import math
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

import numpy as np
import numpy.typing as npt

LATITUDES = (-70, -60, -50, -40, -30, -20, -10, 0, 10, 20, 30, 40, 50, 60, 70)
JANUARY_C = (-3, 2, 8, 15, 22, 25, 26, 26, 26, 22, 14.5, 5, -7, -16, -26)
JULY_C = (-23, -9, 3, 9, 14.5, 20, 24, 25.5, 27, 28, 27, 24, 18, 14, 7)
"""Zonal mean surface air temperature of the two extreme months in °C (from memory)."""

JANUARY_WET = (0.3, 0.45, 0.45, 0.25, 0.22, 0.4, 0.5, 0.45, 0.1, 0.1, 0.2, 0.33, 0.37, 0.37, 0.3)
JULY_WET = (0.3, 0.45, 0.5, 0.4, 0.25, 0.1, 0.15, 0.35, 0.5, 0.4, 0.18, 0.22, 0.33, 0.35, 0.3)
"""Share of days with 1 mm of rain or more in the two months (from memory, coarse)."""

JANUARY_WIND_MS = (7, 8, 7.5, 5, 3.8, 3.5, 3, 2.5, 3.5, 3.5, 3.5, 4.2, 4.8, 4.8, 5)
JULY_WIND_MS = (7, 9, 8.5, 6, 4.2, 3.8, 3.5, 3, 3, 3.2, 3.2, 3.4, 3.6, 3.8, 4)
"""Mean wind at 10 m over open land in the two months, m/s (from memory, coarse)."""

MILD_COASTS = ((54.0, -5.0, 22.0, 45.0), (52.0, -130.0, 18.0, 14.0))
"""Centre latitude and longitude, half heights and half widths in degrees of the two west coasts
where the ocean lifts the winter far above the zonal mean (own fit to known cities)."""

WARMEST_DAY = 203.0
"""Day of the year about which July's extreme lies (some four weeks after the solstice)."""

HALF_RANGE_C = 5.0
"""Half the usual distance between a day's lowest and highest temperature (own choice)."""

MM_ON_A_WET_DAY = 6.0
"""Mean rain of a day that has 1 mm or more (from memory, coarse)."""

Days = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Climate:
    """Usual weather of one day: means, spread, and chances."""

    mean_c: float
    low_c: float
    high_c: float
    spread_c: float
    """Standard deviation of a day's mean from one year to the next."""
    wet_probability: float
    """Chance of 1 mm of rain or more in the 24 hours."""
    wet_day_mm: float
    wind_ms: float


@dataclass(frozen=True, slots=True)
class ClimateDays:
    """The same as ``Climate`` for many days at once, each field of the days' shape."""

    mean_c: Days
    spread_c: Days
    wet_probability: Days
    wind_ms: Days


@lru_cache(maxsize=8192)
def usual(latitude: float, longitude: float, day: date) -> Climate:
    """The usual weather of a day at a place. Raises ValueError off the globe."""
    days = usual_days(latitude, longitude, np.array([float(day.timetuple().tm_yday)]))
    mean_c = float(days.mean_c[0])
    return Climate(
        mean_c=mean_c,
        low_c=mean_c - HALF_RANGE_C,
        high_c=mean_c + HALF_RANGE_C,
        spread_c=float(days.spread_c[0]),
        wet_probability=float(days.wet_probability[0]),
        wet_day_mm=MM_ON_A_WET_DAY,
        wind_ms=float(days.wind_ms[0]),
    )


def usual_days(latitude: float, longitude: float, day_of_year: Days) -> ClimateDays:
    """The usual weather at a place for days of the year (1 to 366, any shape).

    A yearly cosine runs between the January and the July column, both read off linearly in
    latitude. Raises ValueError off the globe.
    """
    if not (-90 <= latitude <= 90 and -180 <= longitude <= 180):
        raise ValueError(f"{latitude}, {longitude} is not a place on the globe")
    july = (1.0 + np.cos(2 * math.pi * (day_of_year - WARMEST_DAY) / 365.25)) / 2.0
    mild = _mildness(latitude, longitude)
    january_c, july_c = _at(latitude, JANUARY_C), _at(latitude, JULY_C)
    middle, swing = (january_c + july_c) / 2, (july_c - january_c) / 2
    middle += mild * max(0.0, 0.45 * (latitude - 36.0))
    swing *= 1.0 - 0.5 * mild
    winter = 1.0 - july if latitude >= 0 else july
    return ClimateDays(
        mean_c=middle + swing * (2.0 * july - 1.0),
        spread_c=1.2 + min(abs(latitude), 60.0) / 60.0 * (1.6 + 2.2 * winter),
        wet_probability=_between(latitude, JANUARY_WET, JULY_WET, july),
        wind_ms=_between(latitude, JANUARY_WIND_MS, JULY_WIND_MS, july),
    )


def _at(latitude: float, column: tuple[float, ...]) -> float:
    return float(np.interp(latitude, LATITUDES, column))


def _between(
    latitude: float, january: tuple[float, ...], july: tuple[float, ...], share: Days
) -> Days:
    first, second = _at(latitude, january), _at(latitude, july)
    return first + (second - first) * share


def _mildness(latitude: float, longitude: float) -> float:
    """1 in the middle of a mild west coast, falling off to 0 at its edges, 0 elsewhere."""
    best = 0.0
    for centre_lat, centre_lon, half_height, half_width in MILD_COASTS:
        distance = math.hypot(
            (latitude - centre_lat) / half_height,
            _east_of(longitude, centre_lon) / half_width,
        )
        best = max(best, 1.0 - distance**1.5)
    return best


def _east_of(longitude: float, centre: float) -> float:
    return (longitude - centre + 180.0) % 360.0 - 180.0
