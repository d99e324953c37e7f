"""The weather over an oven of a trial, made up hour by hour from its seed."""

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

import numpy as np

from bot.rehearsal.air import HourlySky
from bot.rehearsal.weathermaking import Sort, hourly, make
from tests.trials.unmet_ovens.oven import Weather

DAYS = 80
PLACE = (52.2, -1.5, "Europe/London")
CALM, WINDY = 0.8, 2.0
"""How much windier than usual there."""


def sky_over(rng: np.random.Generator, first: date, *, windy: bool) -> HourlySky:
    """Weather from the morning of ``first`` on; what is drawn is true, forecasts of it err."""
    latitude, longitude, zone = PLACE
    sort = Sort("there", latitude, longitude, zone, 0.3, WINDY if windy else CALM)
    seasons = make(sort, first, DAYS, 1, rng)
    begin = datetime.combine(first, time(12), ZoneInfo(zone))
    return HourlySky(hourly(seasons, 0, sort, begin, DAYS).hours)


class AtTheOven:
    """What of that weather reaches it."""

    def __init__(self, sky: HourlySky, sheltered: float) -> None:
        self._sky, self._sheltered = sky, sheltered

    def __call__(self, now: datetime) -> Weather:
        """The air there now."""
        air = self._sky.at(now)
        return Weather(air.temperature_c, air.wind_ms * self._sheltered)
