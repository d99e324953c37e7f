"""Is this a day for a fire? Weather, shelter and free hours of a day, as a score with reasons.

All chances are rough on purpose: they rank days, they never allow a fire. What a person says of
the weather outranks any forecast, a fire restriction outranks everything.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from scheduling.breakin.availability import Availability, Closed, Window
from scheduling.breakin.chance import Setting, poor_chance
from scheduling.breakin.walltime import instant
from scheduling.breakin.weather import DayWeather, HourWeather
from scheduling.breakin.wind import NOT_WORTH_LIGHTING_MS, beaufort
from scheduling.oven.makeup import Cover
from scheduling.remark import Sky

RAIN_TELLING_MM = 0.5
HARD_FROST_C = -5.0
HOT_DAY_C = 33.0
DRY_AIR = 0.3
LIVELY_WIND_MS = 8.0
GUSTS_MS = 17.2
NOT_WORTH_CHANCE = 0.6
"""Own choices: when a number is worth telling, and from which chance a day is not worth it."""


class ReasonKind(StrEnum):
    """What speaks against a day; the amount's unit stands behind each."""

    RAIN = "rain"  # chance
    WIND = "wind"  # m/s, force 5 and up
    TOO_WINDY = "too_windy"  # m/s, 30 knots and up
    GUSTS = "gusts"  # m/s
    HARD_FROST = "hard_frost"  # °C
    HEAT = "heat"  # °C
    FIRE_WEATHER = "fire_weather"  # °C: hot, dry and windy; ask for local restrictions
    OWNERS_WORD = "owners_word"  # 1
    SHORT_DAYLIGHT = "short_daylight"  # hours of the firing in the dark
    UNKNOWN = "unknown"  # share of the day that only the climate speaks for


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason and its number."""

    kind: ReasonKind
    amount: float


@dataclass(frozen=True, slots=True)
class DayLimits:
    """Local hours between which a fire may burn, and the wind from which none is lit."""

    earliest_hour: float = 7.0
    latest_hour: float = 22.0
    wind_stop_ms: float = NOT_WORTH_LIGHTING_MS
    session_h: float = 5.0


@dataclass(frozen=True, slots=True)
class DayScore:
    """A day judged: closed, or with a start and the chance that it turns out poor."""

    weather: DayWeather
    closed: Closed | None
    poor: float
    reasons: tuple[Reason, ...]
    hours: float = 0.0
    start: datetime | None = None
    finish: datetime | None = None

    @property
    def worth_lighting(self) -> bool:
        """Open, and more likely than not to let the firing reach its aim."""
        return self.closed is None and self.poor < NOT_WORTH_CHANCE


def judge_day(
    weather: DayWeather,
    setting: Setting,
    availability: Availability,
    limits: DayLimits,
    zone: ZoneInfo,
    light: Window | None = None,
    hours: Sequence[HourWeather] = (),
) -> DayScore:
    """Judge one local day.

    ``light`` is daylight in local hours, ``hours`` the forecast's hours of that day, from which
    the best start is chosen; without them the fire starts as early as it may.
    """
    poor = _poor(weather, setting, limits)
    reasons = _weather_reasons(weather, setting, limits)
    free = availability.on(weather.day)
    if isinstance(free, Closed):
        return DayScore(weather, free, poor, reasons)
    window = free.within(Window(limits.earliest_hour, limits.latest_hour))
    if window.hours < limits.session_h:
        return DayScore(weather, Closed.TOO_SHORT, poor, reasons, window.hours)
    first = _start_hour(window, light, limits, weather, hours, zone)
    if light is not None:
        dark = max(0.0, light.first_hour - first) + max(
            0.0, first + limits.session_h - light.last_hour
        )
        if dark > 0.5:
            reasons += (Reason(ReasonKind.SHORT_DAYLIGHT, dark),)
    start = instant(weather.day, first, zone)
    return DayScore(
        weather,
        None,
        poor,
        reasons,
        window.hours,
        start,
        start + timedelta(hours=limits.session_h),
    )


def _poor(weather: DayWeather, setting: Setting, limits: DayLimits) -> float:
    chance = float(
        poor_chance(
            weather.rain_probability,
            weather.rain_mm,
            weather.wind_ms,
            weather.lead_d,
            setting,
            limits.wind_stop_ms,
        )
    )
    if weather.low_c < HARD_FROST_C:
        chance = 1.0 - (1.0 - chance) * 0.7
    if _is_fire_weather(weather):
        chance = 1.0 - (1.0 - chance) * 0.4
    for what in weather.said:
        chance = max(chance, _WORD_CHANCE.get(what, 0.0))
        if what is Sky.RAIN and setting.cover is Cover.ROOF:
            chance = min(chance, 0.5)
    if weather.said == (Sky.DRY,) and weather.wind_ms < limits.wind_stop_ms:
        chance = min(chance, 0.1)
    return chance


_WORD_CHANCE = {
    Sky.GALE: 1.0,
    Sky.RAIN: 0.9,
    Sky.SNOW: 0.8,
    Sky.SOAKED: 0.5,
    Sky.WIND: 0.5,
    Sky.FROST: 0.4,
    Sky.HEAT: 0.3,
}


def _weather_reasons(
    weather: DayWeather, setting: Setting, limits: DayLimits
) -> tuple[Reason, ...]:
    wind = weather.wind_ms
    found: list[tuple[bool, ReasonKind, float]] = [
        (bool(weather.said), ReasonKind.OWNERS_WORD, 1.0),
        (
            weather.rain_probability >= 0.3
            and weather.rain_mm >= RAIN_TELLING_MM
            and setting.cover is not Cover.ROOF,
            ReasonKind.RAIN,
            weather.rain_probability,
        ),
        (wind >= limits.wind_stop_ms, ReasonKind.TOO_WINDY, wind),
        (beaufort(wind) >= 5 and wind < limits.wind_stop_ms, ReasonKind.WIND, wind),
        (weather.gust_ms >= GUSTS_MS, ReasonKind.GUSTS, weather.gust_ms),
        (weather.low_c < HARD_FROST_C, ReasonKind.HARD_FROST, weather.low_c),
        (_is_fire_weather(weather), ReasonKind.FIRE_WEATHER, weather.high_c),
        (
            weather.high_c >= HOT_DAY_C and not _is_fire_weather(weather),
            ReasonKind.HEAT,
            weather.high_c,
        ),
        (weather.coverage < 0.5, ReasonKind.UNKNOWN, 1.0 - weather.coverage),
    ]
    return tuple(Reason(kind, amount) for holds, kind, amount in found if holds)


def _is_fire_weather(weather: DayWeather) -> bool:
    """Hot, dry and windy together. Says nothing about whether a restriction is in force."""
    return (
        weather.high_c >= HOT_DAY_C
        and weather.wind_ms >= LIVELY_WIND_MS
        and (weather.humidity is None or weather.humidity <= DRY_AIR)
    )


def _start_hour(
    window: Window,
    light: Window | None,
    limits: DayLimits,
    weather: DayWeather,
    hours: Sequence[HourWeather],
    zone: ZoneInfo,
) -> float:
    """The earliest of the best starts: little rain and wind, then by daylight."""
    last = window.last_hour - limits.session_h
    starts = [window.first_hour]
    while starts[-1] + 1.0 <= last:
        starts.append(math.floor(starts[-1]) + 1.0)

    def misery(start: float) -> float:
        begin = instant(weather.day, start, zone)
        burning = [h for h in hours if begin <= h.at < begin + timedelta(hours=limits.session_h)]
        wet = sum(min(h.rain_mm or 0.0, 3.0) for h in burning)
        windy = sum(max(0.0, (h.wind_ms or 0.0) - LIVELY_WIND_MS) for h in burning)
        dark = (
            0.0
            if light is None
            else max(0.0, light.first_hour - start)
            + max(0.0, start + limits.session_h - light.last_hour)
        )
        return round(wet + 0.3 * windy + 0.2 * dark, 1)

    return min(starts, key=lambda start: (misery(start), start))
