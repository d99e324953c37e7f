"""Sunrise and sunset, so that nobody lights a first fire in the dark.

Solar position by the low-precision formulas of the Astronomical Almanac, good to about a minute
between the polar circles.
"""

import math
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

HORIZON_DEG = -0.833
"""Altitude of the sun's centre at rise and set: 34' of refraction and 16' of radius."""

_J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Daylight:
    """Sunrise and sunset around the solar noon of a day (UTC).

    In the polar night both are solar noon, in the midnight sun 12 hours before and after it.
    """

    rise: datetime
    set: datetime

    @property
    def hours(self) -> float:
        """How long it is light, in hours."""
        return (self.set - self.rise) / timedelta(hours=1)


def daylight(latitude: float, longitude: float, day: date) -> Daylight:
    """Daylight of the local solar ``day`` at a place (degrees, east positive)."""
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=UTC) - timedelta(
        hours=longitude / 15.0
    )
    declination, equation = _sun((noon - _J2000) / timedelta(days=1))
    noon -= equation
    phi = math.radians(latitude)
    cosine = (math.sin(math.radians(HORIZON_DEG)) - math.sin(phi) * math.sin(declination)) / max(
        1e-9, math.cos(phi) * math.cos(declination)
    )
    half = timedelta(hours=math.degrees(math.acos(max(-1.0, min(1.0, cosine)))) / 15.0)
    return Daylight(noon - half, noon + half)


def _sun(days: float) -> tuple[float, timedelta]:
    """Declination (rad) and equation of time, ``days`` after J2000."""
    anomaly = math.radians((357.528 + 0.9856003 * days) % 360.0)
    mean = (280.460 + 0.9856474 * days) % 360.0
    ecliptic = math.radians(mean + 1.915 * math.sin(anomaly) + 0.020 * math.sin(2.0 * anomaly))
    tilt = math.radians(23.439 - 4e-7 * days)
    ascension = math.degrees(math.atan2(math.cos(tilt) * math.sin(ecliptic), math.cos(ecliptic)))
    behind = (mean - ascension + 180.0) % 360.0 - 180.0
    return math.asin(math.sin(tilt) * math.sin(ecliptic)), timedelta(hours=behind / 15.0)
