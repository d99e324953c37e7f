"""When a new forecast is worth writing down, and how much of it.

Services renew every hour or so, and most renewals say the same. A journal that kept them all
would be mostly weather: what is kept is what may change a day, and one now and then so that the
kept one does not grow stale.
"""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from scheduling.breakin.climate import usual
from scheduling.breakin.outlook import day_weather
from scheduling.breakin.walltime import local_day
from scheduling.breakin.weather import (
    FRESH_FOR,
    HOUR,
    DayWeather,
    Forecast,
    Freshness,
    HourWeather,
    Source,
)

KEPT_D = 10
"""Days ahead that are kept: beyond them a forecast has faded into the climate."""

FAR_RENEWAL = timedelta(hours=24)
"""How old a kept forecast may grow while no firing is near; it is stale after 36 hours."""

NEAR_D = 3
RAIN_TELLS, WIND_TELLS_MS, AIR_TELLS_K = 0.2, 2.5, 4.0
"""A day differs where its chance of rain, wind or lowest air do by this much (own choices);
beyond ``NEAR_D`` days by twice as much, since far days waver from one renewal to the next."""


def worth_keeping(
    kept: Forecast | None, told: Forecast, now: datetime, zone: ZoneInfo, *, firing_near: bool
) -> bool:
    """Whether ``told`` should take the place of ``kept`` in an oven's journal.

    The climate is never kept: it is known without being told. ``firing_near``: a firing is
    promised within ``NEAR_D`` days, so that the forecast is to stay fresh.
    """
    if told.source is Source.CLIMATE or not told.hours or told.freshness(now) is Freshness.STALE:
        return False
    if kept is None or kept.source is not told.source or _elsewhere(kept, told):
        return True
    if told.issued_at <= kept.issued_at:
        return False
    if now - kept.issued_at >= (FRESH_FOR if firing_near else FAR_RENEWAL):
        return True
    # Only hours that both tell of: a day is no other because the older one reaches less far.
    last = min(kept.hours[-1].at, told.hours[-1].at) + HOUR if kept.hours else now
    before, after = (
        one.model_copy(update={"hours": one.between(now, last)}) for one in (kept, told)
    )
    return any(_differs(before, after, now, zone, ahead) for ahead in range(KEPT_D))


def bounded(forecast: Forecast, now: datetime) -> Forecast:
    """The hours that matter, rounded to what they mean: at most ``KEPT_D`` days, no clouds."""
    last = now + timedelta(days=KEPT_D)
    hours = tuple(_rounded(hour) for hour in forecast.between(now - HOUR, last))
    return forecast.model_copy(update={"hours": hours})


def _elsewhere(kept: Forecast, told: Forecast) -> bool:
    return (kept.latitude, kept.longitude) != (told.latitude, told.longitude)


def _differs(kept: Forecast, told: Forecast, now: datetime, zone: ZoneInfo, ahead: int) -> bool:
    before, after = (_day(one, now, zone, ahead) for one in (kept, told))
    far = 1.0 if ahead < NEAR_D else 2.0
    return (
        abs(after.rain_probability - before.rain_probability) >= far * RAIN_TELLS
        or abs(after.wind_ms - before.wind_ms) >= far * WIND_TELLS_MS
        or abs(after.low_c - before.low_c) >= far * AIR_TELLS_K
    )


def _day(forecast: Forecast, now: datetime, zone: ZoneInfo, ahead: int) -> DayWeather:
    day = local_day(now, zone) + timedelta(days=ahead)
    climate = usual(forecast.latitude, forecast.longitude, day)
    return day_weather(day, zone, now, climate, forecast)


def _rounded(hour: HourWeather) -> HourWeather:
    return HourWeather(
        at=hour.at,
        air_c=_round(hour.air_c, 1),
        wind_ms=_round(hour.wind_ms, 1),
        gust_ms=_round(hour.gust_ms, 1),
        rain_mm=_round(hour.rain_mm, 2),
        rain_probability=_round(hour.rain_probability, 2),
        humidity=_round(hour.humidity, 2),
    )


def _round(value: float | None, places: int) -> float | None:
    return None if value is None else round(value, places)
