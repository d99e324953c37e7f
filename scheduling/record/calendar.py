"""Firings laid on days: what the calendar of one oven stands on, read out of its record."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from scheduling.breakin.availability import Closed, Rule
from scheduling.breakin.calendar import DayFacts, DaysAhead, days_ahead
from scheduling.breakin.chance import Setting
from scheduling.breakin.judging import DayScore
from scheduling.firing.aim import Aim
from scheduling.record.facts import Facts

PLACE_UNKNOWN = (50.0, 8.0)
"""Until a place is known the climate is that of the temperate north (own choice)."""


@dataclass(frozen=True, slots=True)
class Dated:
    """A firing with its day; both None where none was found."""

    aim: Aim
    day: date | None
    start: datetime | None
    poor: float = 0.0


def place_of(record: Facts) -> tuple[float, float]:
    """Latitude and longitude of the oven."""
    makeup = record.makeup
    if makeup is None or makeup.latitude is None or makeup.longitude is None:
        return PLACE_UNKNOWN
    return makeup.latitude, makeup.longitude


def day_facts(
    record: Facts, now: datetime, aims: Sequence[Aim], ready_on: date | None, first: date
) -> DayFacts:
    """What the calendar stands on; nothing before ``first``."""
    makeup, today = record.makeup, record.today(now)
    latitude, longitude = place_of(record)
    availability = record.availability
    if first > today:
        before = first - timedelta(days=1)
        availability = availability.with_rule(Rule(today, before, None, Closed.USUALLY_BUSY))
    told = frozenset(one.day for one in record.promise)
    return DayFacts(
        latitude=latitude,
        longitude=longitude,
        zone=record.zoneinfo,
        setting=Setting() if makeup is None else Setting(makeup.cover, makeup.shelter),
        ready_on=ready_on,
        sessions_h=tuple(aim.session_h for aim in aims),
        availability=availability,
        fired_on=record.last_day_fired(),
        forecast=record.forecast,
        words=record.words,
        told=told,
        promised=frozenset(day for day in told if (day - today).days <= 1),
    )


def laid(facts: DayFacts, aims: Sequence[Aim], now: datetime) -> tuple[Dated, ...]:
    """The firings in order, each on its day. One that finds no day has none."""
    if not aims:
        return ()
    ahead: DaysAhead = days_ahead(facts, now)
    real = [day for day in ahead.laid.days if day not in ahead.laid.warm_ups]
    found: list[Dated] = []
    for index, aim in enumerate(aims):
        judged = ahead.score(real[index]) if index < len(real) else None
        if judged is None or judged.start is None:
            found.append(Dated(aim, None, None))
        else:
            found.append(Dated(aim, real[index], judged.start, judged.poor))
    return tuple(found)


def judged(facts: DayFacts, now: datetime, day: date, session_h: float) -> DayScore | None:
    """One day judged for a firing of so many hours; None if it lies out of reach."""
    return days_ahead(replace(facts, sessions_h=(session_h,)), now).score(day)


def near(facts: DayFacts, now: datetime, session_h: float, most: int) -> tuple[date, ...]:
    """The next few days on which such a firing could well be lit."""
    scores = days_ahead(replace(facts, sessions_h=(session_h,)), now, 21).scores
    good = [one.weather.day for one in scores if one.worth_lighting]
    return tuple(good[:most])
