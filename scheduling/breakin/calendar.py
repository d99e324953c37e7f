"""From the facts about one oven to its calendar: judge the days ahead, lay the firings on them."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from scheduling.breakin.availability import Availability, Closed, Window
from scheduling.breakin.chance import Setting
from scheduling.breakin.climate import usual
from scheduling.breakin.daylight import daylight
from scheduling.breakin.days import DayProblem, GapEffect, Laid, Weights
from scheduling.breakin.judging import DayLimits, DayScore, judge_day
from scheduling.breakin.laying import lay
from scheduling.breakin.outlook import day_weather
from scheduling.breakin.walltime import local_day
from scheduling.breakin.weather import Forecast, OwnersWord
from scheduling.oven.maturity import DayTemperature

HORIZON_D = 60


@dataclass(frozen=True, slots=True)
class DayFacts:
    """All that the days of one oven follow from. The same facts give the same calendar.

    ``sessions_h`` are the remaining firings in order. ``ready_on`` is None while the cure cannot
    tell: then nothing is laid. ``fired_on`` is the day of the last firing.
    """

    latitude: float
    longitude: float
    zone: ZoneInfo
    setting: Setting
    ready_on: date | None
    sessions_h: tuple[float, ...]
    availability: Availability = field(default_factory=Availability)
    limits: DayLimits = field(default_factory=DayLimits)
    fired_on: date | None = None
    forecast: Forecast | None = None
    words: tuple[OwnersWord, ...] = ()
    told: frozenset[date] = frozenset()
    promised: frozenset[date] = frozenset()
    gap: GapEffect = field(default_factory=GapEffect)
    weights: Weights = field(default_factory=Weights)


@dataclass(frozen=True, slots=True)
class DaysAhead:
    """The laid days, and every judged day of the horizon with its reasons."""

    laid: Laid
    scores: tuple[DayScore, ...]

    def score(self, day: date) -> DayScore | None:
        """How a day was judged; None beyond the horizon."""
        return next((one for one in self.scores if one.weather.day == day), None)


def days_ahead(facts: DayFacts, now: datetime, horizon_d: int = HORIZON_D) -> DaysAhead:
    """Lay the remaining firings, from today on, or from tomorrow once today has had its fire."""
    problem, scores = day_problem(facts, now, horizon_d)
    return DaysAhead(lay(problem), scores)


def day_problem(
    facts: DayFacts, now: datetime, horizon_d: int = HORIZON_D
) -> tuple[DayProblem, tuple[DayScore, ...]]:
    """The calendar to be laid, for ``lay``, ``lay_many`` or ``lay_together``."""
    first = local_day(now, facts.zone)
    if facts.fired_on is not None:
        first = max(first, facts.fired_on + timedelta(days=1))
    limits = replace(facts.limits, session_h=max(min(facts.sessions_h, default=0.0), 0.5))
    scores = tuple(_judged(facts, first + timedelta(days=n), now, limits) for n in range(horizon_d))
    coming = frozenset(day for day in facts.told if day >= first)
    # A promise that the weather or its owner has broken already holds nobody to that day.
    held = facts.promised & coming - {one.weather.day for one in scores if not one.worth_lighting}
    problem = DayProblem(
        first,
        tuple(score.hours if score.closed is None else 0.0 for score in scores),
        tuple(score.poor for score in scores),
        facts.sessions_h,
        None if facts.fired_on is None else (first - facts.fired_on).days,
        coming,
        held,
        facts.gap,
        facts.weights,
    )
    return problem, scores


def _judged(facts: DayFacts, day: date, now: datetime, limits: DayLimits) -> DayScore:
    climate = usual(facts.latitude, facts.longitude, day)
    weather = day_weather(day, facts.zone, now, climate, facts.forecast, facts.words)
    hours = () if facts.forecast is None else facts.forecast.hours
    light = daylight(facts.latitude, facts.longitude, day)
    score = judge_day(
        weather,
        facts.setting,
        facts.availability,
        limits,
        facts.zone,
        Window(_hour_on(light.rise, day, facts.zone), _hour_on(light.set, day, facts.zone)),
        hours if weather.coverage > 0.0 else (),
    )
    if score.closed is None and (facts.ready_on is None or day < facts.ready_on):
        return replace(score, closed=Closed.CURING, start=None, finish=None)
    if score.start is not None and score.start < now:
        return _later_today(score, now, limits)
    return score


def _later_today(score: DayScore, now: datetime, limits: DayLimits) -> DayScore:
    """A start that has passed becomes now, if the firing still ends within the free hours."""
    assert score.start is not None  # noqa: S101 - only called for an open day
    spare = timedelta(hours=score.hours - limits.session_h)
    late = now - score.start
    hours = score.hours - late / timedelta(hours=1)
    if late > spare:
        return replace(
            score, closed=Closed.TOO_SHORT, hours=max(0.0, hours), start=None, finish=None
        )
    return replace(score, hours=hours, start=now, finish=now + timedelta(hours=limits.session_h))


def _hour_on(at: datetime, day: date, zone: ZoneInfo) -> float:
    """An instant as hours after midnight of ``day`` on the wall, below 0 or past 24 if outside."""
    local = at.astimezone(zone)
    return (local.date() - day).days * 24.0 + local.hour + local.minute / 60.0


def temperatures(
    first: date,
    last: date,
    latitude: float,
    longitude: float,
    zone: ZoneInfo,
    forecasts: Sequence[Forecast] = (),
) -> tuple[DayTemperature, ...]:
    """Air by local day, for the cure: from forecasts (of two the later issued), else climate.

    A day counts as told when at least 18 of its hours are.
    """
    by_day: dict[date, list[float]] = {}
    for forecast in sorted(forecasts, key=lambda one: one.issued_at):
        fresh: dict[date, list[float]] = {}
        for hour in forecast.hours:
            if hour.air_c is not None:
                fresh.setdefault(local_day(hour.at, zone), []).append(hour.air_c)
        by_day |= {day: airs for day, airs in fresh.items() if len(airs) >= 18}
    days: list[DayTemperature] = []
    for n in range((last - first).days + 1):
        day = first + timedelta(days=n)
        airs = by_day.get(day)
        if airs:
            days.append(DayTemperature(day, sum(airs) / len(airs), min(airs), "forecast"))
        else:
            climate = usual(latitude, longitude, day)
            days.append(DayTemperature(day, climate.mean_c, climate.low_c, "climate"))
    return tuple(days)
