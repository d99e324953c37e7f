"""What is to come, from the record: the cure, the firings left, and their days.

The model's plan and the rule of thumb stand side by side here; of each firing the lower aim and
the smaller fire is taken.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from scheduling.breakin.calendar import DayFacts
from scheduling.breakin.ready import curing_air
from scheduling.breakin.walltime import instant, local_day, local_hour
from scheduling.choice import About
from scheduling.firing.aim import Aim
from scheduling.firing.rule import LADDER_C, Bounds, Past, remaining, steps_done
from scheduling.firing.session import completed
from scheduling.journal import (
    DaysSaid,
    FiringEnded,
    HazardClosed,
    LimitsSet,
    PromisedFiring,
    Reopened,
    Repaired,
    RepeatOrdered,
    WeatherTold,
)
from scheduling.oven.maturity import Cure, Standing, cure
from scheduling.record import wall
from scheduling.record.calendar import Dated, day_facts, laid, place_of
from scheduling.record.facts import Facts
from scheduling.record.gap import gap_effect
from scheduling.remark import Sky

READABLE_MARGIN_K = 25.0
"""An instrument is used up to this far below its end."""

GAP_RECKONED_ANEW = timedelta(days=2)
"""The wall cools and dries little in two days more: a shorter delay keeps the aims computed."""

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
        merged |= last.told()
    return None if last is None else last.model_copy(update=merged)


def bounds_of(record: Facts) -> Bounds:
    """All that may only make a firing gentler."""
    limits, repeat = limits_of(record), record.last_of(RepeatOrdered)
    repeating = repeat is not None and not _fired_since(record, repeat)
    instrument = record.makeup.instrument if record.makeup is not None else None
    return Bounds(
        lid_c=record.lid_c,
        cap_c=repeat.cap_c if repeat is not None and repeating else None,
        readable_c=None if instrument is None else instrument.max_c - READABLE_MARGIN_K,
        session_h=None if limits is None else limits.session_h,
        stoke_min_minutes=(limits and limits.stoke_min_minutes) or 15.0,
        stoke_max_minutes=(limits and limits.stoke_max_minutes) or 60.0,
        climb_low_k_h=(limits and limits.climb_low_k_h) or 100.0,
        climb_high_k_h=(limits and limits.climb_high_k_h) or 170.0,
        final_c=None if limits is None else limits.final_c,
        step_k=None if limits is None else limits.step_k,
    )


def _fired_since(record: Facts, order: RepeatOrdered) -> bool:
    return any(entry.at > order.at and entry.completed for entry in record.all_of(FiringEnded))


def cure_of(record: Facts, now: datetime) -> Cure | None:
    """How the mortar stands; None until the oven is described."""
    makeup = record.makeup
    if makeup is None:
        return None
    today, limits = record.today(now), limits_of(record)
    if today not in record.cures:
        record.cures[today] = cure(
            makeup.wet_work_ended,
            makeup.cement_class,
            curing_air(
                makeup.wet_work_ended, today, place_of(record), record.zoneinfo, record.forecast
            ),
            today,
            floor_d=max(FLOOR_D, (limits and limits.cure_floor_d) or 0),
            frost_cleared=any(one.what == "mortar" for one in record.all_of(HazardClosed)),
        )
    return record.cures[today]


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
    """The firings left, the next one first; empty when the break-in is done, the oven is not
    described or stands indoors.

    While a fire burns it is what was promised before: what comes next shows when it is over.
    """
    if record.makeup is None or record.finished or record.indoors:
        return ()
    if record.session is not None and record.promise:
        return tuple(Aim(**one.model_dump(include=AIM_FIELDS)) for one in record.promise)
    return _aims_from(record, now, next_start(record, now))


def _aims_from(record: Facts, now: datetime, start: datetime) -> tuple[Aim, ...]:
    return wall.gentler(record, rule_of(record, now), bounds_of(record), now, start)


AIM_FIELDS = set(Aim.model_fields)


def rule_of(record: Facts, now: datetime) -> tuple[Aim, ...]:
    """The firings left by the rule of thumb alone."""
    if record.makeup is None or record.finished or record.indoors:
        return ()
    number = 1 + len(record.ended_sessions)
    past = past_of(record, record.today(now))
    return remaining(record.makeup, past, number, bounds_of(record))


def next_start(record: Facts, now: datetime) -> datetime:
    """When the next fire can be lit at the earliest: as promised, else some next morning."""
    promised = [one.start for one in record.promise if one.start > now]
    if promised:
        return promised[0]
    cured = cure_of(record, now)
    day = _first_day(record, now)
    if cured is not None and cured.ready_on is not None:
        day = max(day, cured.ready_on)
    return max(now, instant(day, wall.USUAL_START_HOUR, record.zoneinfo))


def days_of(
    record: Facts, now: datetime, cured: Cure | None, aims: Sequence[Aim], first: date | None = None
) -> DayFacts:
    """What the calendar stands on."""
    begin = first or _first_day(record, now)
    if record.not_before is not None:
        begin = max(begin, record.not_before)
    return day_facts(record, now, aims, None if cured is None else cured.ready_on, begin)


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


def laid_over(record: Facts, now: datetime) -> Outlook:
    """The firings that were promised, as they were planned, laid on the days that are left to
    them: what takes a hundredth of the time of planning them anew."""
    cured = cure_of(record, now)
    aims = tuple(Aim(**one.model_dump(include=AIM_FIELDS)) for one in record.promise)
    if cured is not None and cured.standing in (Standing.FROZEN, Standing.TOO_COLD):
        return Outlook(tuple(Dated(aim, None, None) for aim in aims), cured)
    facts = days_of(record, now, cured, aims)
    facts = replace(facts, gap=gap_effect(record, bounds_of(record)))
    return Outlook(laid(facts, aims, now), cured)


def gap_between(promise: Sequence[PromisedFiring], outlook: Outlook) -> timedelta:
    """By how much the next firing has moved; nothing where there was none, or is none."""
    after = outlook.next
    if not promise or after is None or after.start is None:
        return timedelta(0)
    return abs(after.start - promise[0].start)


def look_ahead(record: Facts, now: datetime, first: date | None = None) -> Outlook:
    """The firings left, each laid on its day. Empty of days while the mortar is in doubt.

    Where the days found lie beyond a longer gap than was reckoned with, the firings are computed
    anew for the oven as it will be by then, and laid again.
    """
    cured = cure_of(record, now)
    aims: Sequence[Aim] = aims_of(record, now)
    if cured is not None and cured.standing in (Standing.FROZEN, Standing.TOO_COLD):
        return Outlook(tuple(Dated(aim, None, None) for aim in aims), cured)
    facts = days_of(record, now, cured, aims, first)
    facts = replace(facts, gap=gap_effect(record, bounds_of(record)))
    dated = laid(facts, aims, now)
    start = dated[0].start if dated else None
    if (
        start is not None
        and record.session is None
        and start - next_start(record, now) > GAP_RECKONED_ANEW
    ):
        aims = _aims_from(record, now, start)
        facts = replace(facts, sessions_h=tuple(aim.session_h for aim in aims))
        dated = laid(facts, aims, now)
    return Outlook(dated, cured)
