"""Made-up weather with wet and dry spells, and forecasts of it that err, for many places at once.

Days follow the scheme of Richardson (Water Resources Research 17, 1981): wet or dry by a
first-order Markov chain, rain amounts exponential, temperature autoregressive; wind here is
lognormal and autoregressive, livelier on wet days. All numbers are our own choices about the
means of ``scheduling.breakin.climate`` or about the ``Sort`` of climate asked for.
"""

import math
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from scheduling.breakin.climate import usual_days
from scheduling.breakin.walltime import instant
from scheduling.breakin.weather import HOUR, Forecast, HourWeather, Source

Floats = npt.NDArray[np.float64]

WARMTH_STAYS = 0.75
WIND_STAYS = 0.5
WIND_SPREAD = 0.38
WET_IS_WINDIER = 1.25
FORECAST_FADES_D = 7.0
"""A forecast's skill after this many days is 1/e."""


@dataclass(frozen=True, slots=True)
class Sort:
    """A sort of climate: a place, and how its weather departs from the zonal mean there."""

    name: str
    latitude: float
    longitude: float
    zone: str
    wetter: float = 1.0
    windier: float = 1.0
    spells: float = 0.35
    """How much today's wetness carries over to tomorrow, 0 to 0.9."""
    wet_mm: float = 6.0


SORTS = (
    Sort("wet west coast", 53.0, -8.0, "Europe/Dublin", 1.35, 1.3, 0.35, 5.0),
    Sort("mild inland", 48.5, 10.0, "Europe/Berlin", 1.0, 1.0, 0.35, 6.0),
    Sort("dry summer south", 38.0, -4.0, "Europe/Madrid", 0.45, 0.9, 0.45, 8.0),
    Sort("humid south-east", -31.0, 152.0, "Australia/Sydney", 1.2, 1.0, 0.45, 11.0),
    Sort("windy islands", -43.0, 172.0, "Pacific/Auckland", 0.9, 1.25, 0.3, 6.0),
)


@dataclass(frozen=True, slots=True)
class Seasons:
    """True daily weather, each array ovens × days, of the hours in which a fire would burn."""

    first: date
    wet: npt.NDArray[np.bool_]
    rain_mm: Floats
    wind_ms: Floats
    mean_c: Floats

    @property
    def days(self) -> int:
        """How many days are known."""
        return int(self.wet.shape[1])


def make(sort: Sort, first: date, days: int, ovens: int, rng: np.random.Generator) -> Seasons:
    """Weather of ``ovens`` separate places of one sort; equal ``rng`` states, equal weather."""
    of_year = first.timetuple().tm_yday + np.arange(days, dtype=np.float64)
    usual = usual_days(sort.latitude, sort.longitude, of_year)
    chance = np.clip(usual.wet_probability * sort.wetter, 0.02, 0.9)
    wet = np.zeros((ovens, days), dtype=np.bool_)
    warmth, gale = rng.standard_normal(ovens), rng.standard_normal(ovens)
    before = rng.random(ovens) < chance[0]
    mean_c, wind = np.empty((ovens, days)), np.empty((ovens, days))
    for day in range(days):
        # A chain whose long-run share of wet days is the climate's, whatever the spells.
        turn = np.where(
            before, chance[day] + sort.spells * (1 - chance[day]), chance[day] * (1 - sort.spells)
        )
        before = rng.random(ovens) < turn
        wet[:, day] = before
        warmth = _carry(warmth, WARMTH_STAYS, rng)
        gale = _carry(gale, WIND_STAYS, rng)
        mean_c[:, day] = usual.mean_c[day] + usual.spread_c[day] * warmth - 1.0 * before
        lively = np.where(before, WET_IS_WINDIER, 1.0)
        wind[:, day] = (
            usual.wind_ms[day]
            * sort.windier
            * 1.35
            * lively
            * np.exp(WIND_SPREAD * gale - WIND_SPREAD**2 / 2)
        )
    # Rain falls in the hours of a fire on three wet days in four.
    falls = wet & (rng.random((ovens, days)) < 0.75)
    rain = np.where(falls, rng.exponential(sort.wet_mm * 0.5, (ovens, days)), 0.0)
    return Seasons(first, wet, rain, np.minimum(wind, 60.0), mean_c)


def _carry(state: Floats, stays: float, rng: np.random.Generator) -> Floats:
    return stays * state + math.sqrt(1.0 - stays**2) * rng.standard_normal(state.shape)


@dataclass(frozen=True, slots=True)
class Foreseen:
    """A forecast made on one day for days ahead, ovens × lead (0: that very day)."""

    rain_probability: Floats
    rain_mm: Floats
    wind_ms: Floats
    skill: Floats  # by lead


def foresee(
    seasons: Seasons, sort: Sort, today: int, leads: int, rng: np.random.Generator
) -> Foreseen:
    """What a service would say on day ``today``: honest chances that blur with the lead."""
    ahead = slice(today, min(today + leads, seasons.days))
    truth_rain, truth_wind = seasons.rain_mm[:, ahead], seasons.wind_ms[:, ahead]
    count = truth_rain.shape[1]
    skill = 0.95 * np.exp(-np.arange(count) / FORECAST_FADES_D)
    of_year = (seasons.first + timedelta(days=today)).timetuple().tm_yday + np.arange(count)
    usual = usual_days(sort.latitude, sort.longitude, of_year.astype(np.float64))
    base = np.clip(usual.wet_probability * sort.wetter * 0.75, 0.01, 0.9)
    seen = np.where(rng.random(truth_rain.shape) < skill, truth_rain > 0.0, -1.0)
    guess = rng.random(truth_rain.shape) < base
    says_wet = np.where(seen < 0.0, guess, seen > 0.0)
    # The chance that it is truly wet, given what is said: Bayes over the blur above.
    wet_if_said = np.where(says_wet, skill + (1 - skill) * base, (1 - skill) * base)
    amount = np.where(says_wet & (truth_rain > 0), truth_rain, sort.wet_mm * 0.5)
    amount *= np.exp(0.4 * rng.standard_normal(amount.shape))
    usual_wind = usual.wind_ms * sort.windier * 1.35
    blur = WIND_SPREAD * np.sqrt(1.0 - skill**2) * rng.standard_normal(truth_wind.shape)
    wind = usual_wind * (truth_wind / usual_wind) ** skill * np.exp(0.6 * blur)
    return Foreseen(wet_if_said, wet_if_said * amount, wind, skill)


def hourly(seasons: Seasons, oven: int, sort: Sort, issued_at: datetime, days: int) -> Forecast:
    """The true weather of one place as a flawless hourly forecast, for a rehearsal.

    Raises ValueError when it is asked for days that were not made.
    """
    zone = ZoneInfo(sort.zone)
    begin = (issued_at.astimezone(zone).date() - seasons.first).days
    if begin < 0 or begin + days > seasons.days:
        raise ValueError("weather was not made for those days")
    hours: list[HourWeather] = []
    at = instant(seasons.first + timedelta(days=begin), 0.0, zone)
    last = instant(seasons.first + timedelta(days=begin + days), 0.0, zone)
    while at < last:
        local = at.astimezone(zone)
        day = (local.date() - seasons.first).days
        swing = math.cos(2 * math.pi * (local.hour - 15) / 24)
        burning = 8 <= local.hour < 18
        rain = float(seasons.rain_mm[oven, day]) / 10.0 if burning else 0.0
        wind = float(seasons.wind_ms[oven, day]) * (0.85 + 0.15 * swing)
        hours.append(
            HourWeather(
                at=at,
                air_c=round(float(seasons.mean_c[oven, day]) + 5.0 * swing, 1),
                wind_ms=round(wind, 1),
                gust_ms=round(wind * 1.6, 1),
                rain_mm=round(rain, 2),
                rain_probability=0.95 if rain > 0.0 else 0.03,
                cloud=0.9 if seasons.wet[oven, day] else 0.3,
            )
        )
        at += HOUR
    return Forecast(
        source=Source.MADE_UP,
        issued_at=issued_at,
        fetched_at=issued_at,
        latitude=sort.latitude,
        longitude=sort.longitude,
        hours=tuple(hours),
    )
