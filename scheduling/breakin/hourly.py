"""The weather at an oven hour by hour, as its wall takes it: told where it was, else usual."""

import math
from datetime import UTC, datetime

import numpy as np

from scheduling.breakin.climate import HALF_RANGE_C, usual_days
from scheduling.breakin.weather import HOUR, Forecast
from scheduling.oven.surroundings import Surroundings

WARMEST_SOLAR_HOUR = 15.0


def surroundings(
    first: datetime,
    last: datetime,
    place: tuple[float, float],
    forecast: Forecast | None = None,
    mean_c: float | None = None,
) -> Surroundings:
    """Hours from ``first`` to ``last``: the usual weather of ``place`` (latitude, longitude).

    The hours of ``forecast`` replace it where they tell anything. ``mean_c`` is a mean that was
    watched, in place of the usual one. Usual weather is dry: rain that may fall is no rain, and
    what did fall is told by its owner. Raises ValueError off the globe.
    """
    start = first.astimezone(UTC).replace(minute=0, second=0, microsecond=0)
    count = max(2, math.ceil((last - start) / HOUR) + 1)
    hours = start.hour + np.arange(count, dtype=np.float64)
    latitude, longitude = place
    day_of_year = (start.timetuple().tm_yday + np.floor(hours / 24.0) - 1.0) % 365.25 + 1.0
    days = usual_days(latitude, longitude, day_of_year)
    swing = np.cos(2 * math.pi * (hours + longitude / 15.0 - WARMEST_SOLAR_HOUR) / 24.0)
    air = (days.mean_c if mean_c is None else mean_c) + HALF_RANGE_C * swing
    wind, rain = days.wind_ms, np.zeros(count)
    for hour in () if forecast is None else forecast.hours:
        place_in_row = round((hour.at - start) / HOUR)
        if 0 <= place_in_row < count:
            for row, told in ((air, hour.air_c), (wind, hour.wind_ms), (rain, hour.rain_mm)):
                if told is not None:
                    row[place_in_row] = told
    return Surroundings(start, air, wind, rain)
