"""The chance that a day turns out poor for a fire, from rain and wind; scalars or whole arrays."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import ndtr

from scheduling.breakin.climate import MM_ON_A_WET_DAY, ClimateDays
from scheduling.breakin.wind import NOT_WORTH_LIGHTING_MS, SHELTER_FACTOR
from scheduling.oven.makeup import Cover, Shelter

Numbers = npt.NDArray[np.float64] | float

RAIN_REACHING: dict[Cover, float] = {Cover.OPEN: 1.0, Cover.SHEET: 0.95, Cover.ROOF: 0.2}
"""Share of rain's harm that is left under a cover; a sheet cannot lie over a burning oven."""

SPOILING_MM = 1.0
"""Rain during a firing that spoils it about two times in three (own choice)."""

BREEZE_MS = 13.0
"""Open wind at which a fire behind no shelter is hard to hold at a temperature (own choice)."""

WIND_SPOILS = 0.8
"""Chance that such a wind spoils the firing (own choice)."""

DAY_TO_DAY_SPREAD = 0.35
"""Spread of a day's windiest hour about its mean, as a share of it (own choice)."""

WINDIEST_HOUR = 1.35
"""A day's windiest hour over its mean wind (own choice)."""


@dataclass(frozen=True, slots=True)
class Setting:
    """How an oven stands in the weather."""

    cover: Cover = Cover.OPEN
    shelter: Shelter = Shelter.PART


def poor_chance(
    rain_probability: Numbers,
    rain_mm: Numbers,
    wind_ms: Numbers,
    lead_d: Numbers,
    setting: Setting,
    wind_stop_ms: float = NOT_WORTH_LIGHTING_MS,
) -> npt.NDArray[np.float64]:
    """Chance from 0 to 1; ``rain_mm`` is what is expected, ``wind_ms`` the windiest hour's mean.

    Rain: its probability times 1 - exp(-amount if it rains / SPOILING_MM). Wind: a normal error
    about the forecast that grows with the lead, past the stop (whatever the shelter: sparks fly
    above a hedge) or past the breeze that reaches the dome.
    """
    probability = np.clip(np.asarray(rain_probability, dtype=np.float64), 0.0, 1.0)
    amount = np.asarray(rain_mm, dtype=np.float64) / np.maximum(probability, 0.05)
    wet = probability * RAIN_REACHING[setting.cover] * -np.expm1(-amount / SPOILING_MM)
    spread = 1.0 + 0.5 * np.minimum(np.asarray(lead_d, dtype=np.float64), 6.0)
    wind = np.asarray(wind_ms, dtype=np.float64)
    felt = SHELTER_FACTOR[setting.shelter]
    stopped = ndtr((wind - wind_stop_ms) / spread)
    fitful = WIND_SPOILS * ndtr((wind * felt - BREEZE_MS) / spread)
    calm = (1.0 - stopped) * (1.0 - fitful)
    chance = 1.0 - (1.0 - wet) * calm
    told_too_windy = np.maximum(chance, 0.9 - 0.08 * np.minimum(lead_d, 6.0))
    return np.asarray(np.where(wind >= wind_stop_ms, told_too_windy, chance))


def usual_poor_chance(
    days: ClimateDays, hours: Numbers, setting: Setting, wind_stop_ms: float
) -> npt.NDArray[np.float64]:
    """The same where only the climate is known, for a firing of so many hours."""
    probability = wet_in(days.wet_probability, hours)
    rain_mm = days.wet_probability * MM_ON_A_WET_DAY * np.asarray(hours) / 24.0
    windiest = days.wind_ms * WINDIEST_HOUR
    blowing = ndtr((windiest - wind_stop_ms) / (DAY_TO_DAY_SPREAD * windiest))
    calm = poor_chance(probability, rain_mm, 0.0, 0.0, setting, wind_stop_ms)
    return np.asarray(1.0 - (1.0 - calm) * (1.0 - blowing))


def wet_in(wet_day_probability: Numbers, hours: Numbers) -> npt.NDArray[np.float64]:
    """Chance of rain within some hours of a day, from that of a wet day.

    Rain is taken to come in spells that make a third of a wet day wet somewhere in it.
    """
    wet = np.asarray(wet_day_probability, dtype=np.float64)
    return np.asarray(wet * np.minimum(1.0, 1 / 3 + np.asarray(hours, dtype=np.float64) / 24.0))
