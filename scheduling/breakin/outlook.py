"""The days ahead summed up from all that is known: owner's words, forecast, climate."""

import math
from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from scheduling.breakin.availability import Window
from scheduling.breakin.chance import WINDIEST_HOUR, wet_in
from scheduling.breakin.climate import Climate
from scheduling.breakin.walltime import instant
from scheduling.breakin.weather import (
    DayWeather,
    Forecast,
    Freshness,
    HourWeather,
    OwnersWord,
    Source,
)
from scheduling.breakin.wind import NOT_WORTH_LIGHTING_MS
from scheduling.remark import Sky

SURE_D = 2.0
SKILL_FADES_D = 7.0
"""A forecast counts in full for two days, then fades into the climate by a factor e in a week
(own choice)."""

GUST_FACTOR = 1.6
"""Highest gust over mean wind on open land, where no gust is told (from memory, coarse)."""

BURNING = Window(8.0, 18.0)
"""Local hours that a day is summed up over."""


def day_weather(
    day: date,
    zone: ZoneInfo,
    now: datetime,
    usual: Climate,
    forecast: Forecast | None = None,
    words: Sequence[OwnersWord] = (),
    window: Window = BURNING,
) -> DayWeather:
    """Sum a local day up over ``window``.

    A forecast fades into the climate with its lead, and where it has holes; a stale one is not
    used. What the owner said of the day is laid over both.
    """
    first, last = instant(day, window.first_hour, zone), instant(day, window.last_hour, zone)
    climate_day = _by_climate(day, usual, window)
    if forecast is None or forecast.freshness(now) is Freshness.STALE:
        return _with_words(climate_day, words)
    hours = forecast.between(first, last)
    lead = max(0.0, (first - forecast.issued_at) / timedelta(days=1))
    told = [hour for hour in hours if hour.rain_mm is not None and hour.wind_ms is not None]
    coverage = min(1.0, len(told) / max(1.0, math.ceil((last - first) / timedelta(hours=1))))
    if not told:
        return _with_words(climate_day, words)
    fade = math.exp(-max(0.0, lead - SURE_D) / SKILL_FADES_D)
    mixed = _mix(climate_day, told, fade, coverage)
    whole_day = forecast.between(instant(day, 0.0, zone), instant(day, 24.0, zone))
    return _with_words(
        mixed.model_copy(
            update={
                "source": forecast.source,
                "coverage": coverage,
                "lead_d": lead,
                "day_rain_mm": sum(hour.rain_mm or 0.0 for hour in whole_day),
            }
        ),
        words,
    )


def _by_climate(day: date, usual: Climate, window: Window) -> DayWeather:
    windiest = usual.wind_ms * WINDIEST_HOUR
    return DayWeather(
        day=day,
        source=Source.CLIMATE,
        low_c=usual.low_c,
        mean_c=usual.mean_c,
        high_c=usual.high_c,
        wind_ms=windiest,
        gust_ms=windiest * GUST_FACTOR,
        rain_mm=usual.wet_probability * usual.wet_day_mm * window.hours / 24.0,
        rain_probability=float(wet_in(usual.wet_probability, window.hours)),
        day_rain_mm=usual.wet_probability * usual.wet_day_mm,
        lead_d=6.0,
        coverage=0.0,
    )


def _mix(
    usual: DayWeather, told: Sequence[HourWeather], fade: float, coverage: float
) -> DayWeather:
    def blend(forecast: float, climate: float, skill: float = fade * coverage) -> float:
        return skill * forecast + (1.0 - skill) * climate

    airs = [hour.air_c for hour in told if hour.air_c is not None] or [usual.mean_c]
    rain_mm = sum(hour.rain_mm or 0.0 for hour in told)
    wind = max(hour.wind_ms or 0.0 for hour in told)
    gust = max(hour.gust_ms or (hour.wind_ms or 0.0) * GUST_FACTOR for hour in told)
    humid = [hour.humidity for hour in told if hour.humidity is not None]
    return usual.model_copy(
        update={
            "low_c": blend(min(airs), usual.low_c),
            "mean_c": blend(sum(airs) / len(airs), usual.mean_c),
            "high_c": blend(max(airs), usual.high_c),
            # A gale in the hours that are known is not made milder by those that are not.
            "wind_ms": max(blend(wind, usual.wind_ms), blend(wind, usual.wind_ms, fade)),
            "gust_ms": max(blend(gust, usual.gust_ms), blend(gust, usual.gust_ms, fade)),
            "rain_mm": blend(rain_mm, usual.rain_mm),
            "rain_probability": blend(_rain_chance(told), usual.rain_probability),
            "humidity": sum(humid) / len(humid) if humid else None,
        }
    )


def _rain_chance(told: Sequence[HourWeather]) -> float:
    """The service's own highest hourly chance, or a guess from the amount where it gives none."""
    chances = [h.rain_probability for h in told if h.rain_probability is not None]
    by_amount = -math.expm1(-sum(hour.rain_mm or 0.0 for hour in told))
    return max(chances) if chances else by_amount


def _with_words(weather: DayWeather, words: Iterable[OwnersWord]) -> DayWeather:
    """Lay what was said of this day over it. Of one kind the later word holds."""
    about = sorted((w for w in words if w.day == weather.day), key=lambda w: w.said_at)
    if not about:
        return weather
    change: dict[str, object] = {}
    latest: dict[str, Sky] = {}
    for word in about:
        kind = "wind" if word.what in (Sky.WIND, Sky.GALE) else "sky"
        latest[kind] = word.what
        if word.what in (Sky.RAIN, Sky.SNOW, Sky.SOAKED):
            change |= {"rain_probability": 0.95, "rain_mm": max(6.0, weather.rain_mm)}
        elif word.what is Sky.DRY:
            change |= {"rain_probability": 0.0, "rain_mm": 0.0}
        elif word.what is Sky.FROST:
            change["low_c"] = min(-1.0, weather.low_c)
        elif word.what is Sky.HEAT:
            change["high_c"] = max(34.0, weather.high_c)
        wind = word.wind_ms or (NOT_WORTH_LIGHTING_MS if word.what is Sky.GALE else None)
        if wind is not None:
            change |= {"wind_ms": wind, "gust_ms": max(wind * GUST_FACTOR, wind)}
    said = tuple(latest.values())
    return weather.model_copy(
        update={**change, "said": said, "source": Source.OWNER, "lead_d": 0.0}
    )
