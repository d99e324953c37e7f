"""Firings laid on days: weather judged, free hours counted, the cheapest calendar chosen."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from scheduling.breakin.availability import Availability
from scheduling.breakin.chance import Setting
from scheduling.breakin.climate import usual
from scheduling.breakin.days import DayProblem
from scheduling.breakin.judging import DayLimits, DayScore, judge_day
from scheduling.breakin.laying import lay
from scheduling.breakin.outlook import day_weather
from scheduling.breakin.walltime import instant
from scheduling.breakin.weather import Forecast, HourWeather, OwnersWord
from scheduling.firing.aim import Aim

HORIZON_D = 42
PLACE_UNKNOWN = (50.0, 8.0)
"""Until a place is known the climate is that of the temperate north (own choice)."""


@dataclass(frozen=True, slots=True)
class Days:
    """What the calendar of one oven stands on."""

    zone: ZoneInfo
    now: datetime
    first: date
    availability: Availability
    setting: Setting
    limits: DayLimits
    latitude: float | None = None
    longitude: float | None = None
    forecast: Forecast | None = None
    words: tuple[OwnersWord, ...] = ()
    last_firing: date | None = None
    told: frozenset[date] = frozenset()
    promised: frozenset[date] = frozenset()


@dataclass(frozen=True, slots=True)
class Dated:
    """A firing with its day; both None where none was found."""

    aim: Aim
    day: date | None
    start: datetime | None
    poor: float = 0.0


def score(days: Days, day: date, session_h: float) -> DayScore:
    """One day judged for a firing of so many hours."""
    latitude, longitude = PLACE_UNKNOWN
    if days.latitude is not None and days.longitude is not None:
        latitude, longitude = days.latitude, days.longitude
    weather = day_weather(
        day, days.zone, days.now, usual(latitude, longitude, day), days.forecast, days.words
    )
    limits = DayLimits(
        days.limits.earliest_hour, days.limits.latest_hour, days.limits.wind_stop_ms, session_h
    )
    hours: Sequence[HourWeather] = ()
    if days.forecast is not None:
        hours = days.forecast.between(instant(day, 0.0, days.zone), instant(day, 24.0, days.zone))
    return judge_day(weather, days.setting, days.availability, limits, days.zone, None, hours)


def laid(days: Days, aims: Sequence[Aim]) -> tuple[Dated, ...]:
    """The firings in order, each on its day. One that finds no day has none."""
    if not aims:
        return ()
    longest = max(aim.session_h for aim in aims)
    scores = [score(days, days.first + timedelta(days=i), longest) for i in range(HORIZON_D)]
    since = None if days.last_firing is None else (days.first - days.last_firing).days
    told = frozenset(day for day in days.told if day >= days.first)
    problem = DayProblem(
        first=days.first,
        hours=tuple(0.0 if one.closed is not None else one.hours for one in scores),
        poor=tuple(one.poor for one in scores),
        sessions_h=tuple(aim.session_h for aim in aims),
        since_last=None if since is None else max(1, since),
        told=told,
        promised=frozenset(day for day in days.promised if day in told),
    )
    layout = lay(problem)
    real = [day for day in layout.days if day not in layout.warm_ups]
    found: list[Dated] = []
    for index, aim in enumerate(aims):
        if index < len(real):
            one = scores[(real[index] - days.first).days]
            found.append(Dated(aim, real[index], one.start, one.poor))
        else:
            found.append(Dated(aim, None, None))
    return tuple(found)
