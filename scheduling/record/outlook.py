"""What is to come, from the record: the cure, the firings left, and their days.

The model's plan and the rule of thumb stand side by side here; of each firing the lower aim and
the smaller fire is taken.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from scheduling.breakin.chance import Setting
from scheduling.breakin.climate import usual
from scheduling.breakin.judging import DayLimits
from scheduling.breakin.walltime import local_day, local_hour
from scheduling.breakin.weather import Source
from scheduling.choice import About
from scheduling.firing.aim import Aim
from scheduling.firing.rule import LADDER_C, Bounds, Past, remaining, steps_done
from scheduling.firing.session import completed
from scheduling.journal import (
    Capped,
    DaysSaid,
    FiringEnded,
    LimitsSet,
    Reopened,
    Repaired,
    RepeatOrdered,
    TroubleClosed,
    WeatherTold,
)
from scheduling.oven.maturity import Cure, DayTemperature, Standing, cure
from scheduling.record import wall
from scheduling.record.calendar import PLACE_UNKNOWN, Dated, Days, laid
from scheduling.record.facts import Facts
from scheduling.remark import Sky

READABLE_MARGIN_K = 25.0
"""An instrument is used up to this far below its end."""

FLOOR_D = 7
"""Calendar days that every mortar gets, whatever the weather (own choice); a builder's own
floor takes its place where it is longer."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """The firings left with their days; ``ready_on`` while the cure is still to come."""

    dated: tuple[Dated, ...]
    cure: Cure | None

    @property
    def next(self) -> Dated | None:
        """The next firing."""
        return self.dated[0] if self.dated else None

    @property
    def done_by(self) -> date | None:
        """The day of the last one, if all have one."""
        return self.dated[-1].day if self.dated else None


def limits_of(record: Facts) -> LimitsSet | None:
    """The builder's limits for this oven, of each the last that was set."""
    merged: dict[str, object] = {}
    last: LimitsSet | None = None
    for last in record.all_of(LimitsSet):
        merged |= {
            name: value
            for name in ("step_k", "climb_low_k_h", "climb_high_k_h", "stoke_min_minutes",
                         "stoke_max_minutes", "cure_floor_d", "session_h", "final_c")
            if (value := getattr(last, name)) is not None
        }  # fmt: skip
    return None if last is None else last.model_copy(update=merged)


def bounds_of(record: Facts) -> Bounds:
    """All that may only make a firing gentler."""
    limits, capped = limits_of(record), record.last_of(Capped)
    repeat = record.last_of(RepeatOrdered)
    caps = [capped.cap_c] if capped is not None and capped.cap_c is not None else []
    if repeat is not None and not _fired_since(record, repeat):
        caps.append(repeat.cap_c)
    instrument = record.makeup.instrument if record.makeup is not None else None
    return Bounds(
        cap_c=min(caps, default=None),
        readable_c=None if instrument is None else instrument.max_c - READABLE_MARGIN_K,
        session_h=None if limits is None else limits.session_h,
        stoke_min_minutes=(limits and limits.stoke_min_minutes) or 30.0,
        stoke_max_minutes=(limits and limits.stoke_max_minutes) or 60.0,
        climb_low_k_h=(limits and limits.climb_low_k_h) or 100.0,
        climb_high_k_h=(limits and limits.climb_high_k_h) or 170.0,
        final_c=None if limits is None else limits.final_c,
    )


def _fired_since(record: Facts, order: RepeatOrdered) -> bool:
    return any(entry.at > order.at and entry.completed for entry in record.all_of(FiringEnded))


def cure_of(record: Facts, now: datetime) -> Cure | None:
    """How the mortar stands; None until the oven is described."""
    makeup = record.makeup
    if makeup is None:
        return None
    today, limits = record.today(now), limits_of(record)
    latitude, longitude = PLACE_UNKNOWN
    if makeup.latitude is not None and makeup.longitude is not None:
        latitude, longitude = makeup.latitude, makeup.longitude
    first = makeup.wet_work_ended
    span = min(400, (today - first).days + 60)
    days: dict[date, DayTemperature] = {}
    for index in range(max(1, span)):
        day = first + timedelta(days=index)
        days[day] = DayTemperature(day, usual(latitude, longitude, day).mean_c, None, "climate")
    days |= _foretold_days(record, now)
    return cure(
        first,
        makeup.cement_class,
        tuple(days.values()),
        today,
        floor_d=max(FLOOR_D, (limits and limits.cure_floor_d) or 0),
        frost_cleared=any(one.what == "mortar" for one in record.all_of(TroubleClosed)),
    )


def _foretold_days(record: Facts, now: datetime) -> dict[date, DayTemperature]:
    """Means of the days that a forecast covers well."""
    forecast = record.forecast
    if forecast is None or forecast.source is Source.CLIMATE:
        return {}
    airs: dict[date, list[float]] = {}
    for hour in forecast.hours:
        if hour.air_c is not None:
            airs.setdefault(local_day(hour.at, record.zoneinfo), []).append(hour.air_c)
    today = record.today(now)
    return {
        day: DayTemperature(
            day,
            sum(seen) / len(seen),
            min(seen),
            "measured" if day < today else "forecast",
        )
        for day, seen in airs.items()
        if len(seen) >= 18
    }


def past_of(record: Facts, today: date) -> Past:
    """What the rule of thumb goes by."""
    since = _counted_from(record)
    counted = [
        one for one in completed(record.sessions) if one.ended is not None and one.lit_at >= since
    ]
    reached = [
        one.peak_c if one.peak_c is not None else (one.aim.plateau_c if one.aim else 0.0)
        for one in counted
    ]
    fired = [one.lit_at for one in record.ended_sessions]
    soaked = any(
        entry.what is Sky.SOAKED and (not counted or entry.at > counted[-1].lit_at)
        for entry in record.all_of(WeatherTold)
    )
    gap = (today - local_day(fired[-1], record.zoneinfo)).days if fired else 0
    steps = steps_done(reached)
    reopened = record.last_of(Reopened)
    if reopened is not None and record.last_of(Repaired) is None:
        # A finished oven that idled or was soaked: two gentle fires before real ones.
        steps = min(len(LADDER_C), 3 + len(counted))
        soaked, gap = False, 0
    return Past(steps, soaked, gap)


def _counted_from(record: Facts) -> datetime:
    """Firings before a repair or a reopening no longer count."""
    marks = [entry.at for entry in record.facts if isinstance(entry, Repaired | Reopened)]
    return max(marks, default=min(entry.at for entry in record.facts))


def aims_of(record: Facts, now: datetime) -> tuple[Aim, ...]:
    """The firings left, the next one first; empty when the break-in is done or not described."""
    if record.makeup is None or record.finished:
        return ()
    bounds = bounds_of(record)
    number = 1 + len(completed(record.sessions))
    by_rule = remaining(record.makeup, past_of(record, record.today(now)), number, bounds)
    return wall.gentler(record, by_rule, bounds, now)


def days_of(record: Facts, now: datetime, cured: Cure | None, first: date | None = None) -> Days:
    """What the calendar stands on."""
    makeup, today = record.makeup, record.today(now)
    promise = record.promise
    begin = first or _first_day(record, now)
    if cured is not None and cured.ready_on is not None:
        begin = max(begin, cured.ready_on)
    if record.not_before is not None:
        begin = max(begin, record.not_before)
    told = frozenset(one.day for one in promise)
    return Days(
        zone=record.zoneinfo,
        now=now,
        first=begin,
        availability=record.availability,
        setting=Setting(makeup.cover, makeup.shelter) if makeup is not None else Setting(),
        limits=DayLimits(),
        latitude=None if makeup is None else makeup.latitude,
        longitude=None if makeup is None else makeup.longitude,
        forecast=record.forecast,
        words=record.words,
        last_firing=record.last_day_fired(),
        told=told,
        promised=frozenset(day for day in told if (day - today).days <= 1),
    )


def _first_day(record: Facts, now: datetime) -> date:
    """Today while it is early and nothing has burnt today, else tomorrow."""
    today = record.today(now)
    early = local_hour(now, record.zoneinfo) < 9.0
    told_today = any(one.day == today for one in record.promise)
    wanted = About.DAYS in record.answers and _wanted_today(record, today)
    if record.last_day_fired() == today:
        return today + timedelta(days=1)
    if early or wanted or (told_today and local_hour(now, record.zoneinfo) < 14.0):
        return today
    return today + timedelta(days=1)


def _wanted_today(record: Facts, today: date) -> bool:
    return any(one.firing and one.first <= today <= one.last for one in record.all_of(DaysSaid))


def look_ahead(record: Facts, now: datetime, first: date | None = None) -> Outlook:
    """The firings left, each laid on its day. Empty of days while the mortar is in doubt."""
    cured = cure_of(record, now)
    aims: Sequence[Aim] = aims_of(record, now)
    if cured is not None and cured.standing in (Standing.FROZEN, Standing.TOO_COLD):
        return Outlook(tuple(Dated(aim, None, None) for aim in aims), cured)
    return Outlook(laid(days_of(record, now, cured, first), aims), cured)
