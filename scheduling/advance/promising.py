"""Promising days: what the owner is told of the firings to come, and when to speak of them."""

from dataclasses import replace
from datetime import date, datetime, timedelta

from scheduling.advance import showing
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.breakin.walltime import instant
from scheduling.journal import Asked, Promised, PromisedFiring
from scheduling.oven.maturity import Standing
from scheduling.record.outlook import Outlook, cure_of, look_ahead

EVE_HOUR = 18.0
COUNTDOWN_HOUR = 17.0
BEFORE_START = timedelta(minutes=45)
LATEST_START_HOUR = 15.0
MORNING_AFTER_HOUR = 8.0
COUNTDOWN_D = (28, 21, 14, 7, 3, 1)


def promise(turn: Turn, why: str, outlook: Outlook | None = None) -> Outlook:
    """Write down the days to come, if they differ from those promised, and set the alarms."""
    outlook = outlook or look_ahead(turn.record, turn.now)
    if turn.record.stopped_for_now:
        outlook = replace(outlook, dated=())
    firings = tuple(
        PromisedFiring(**one.aim.model_dump(), day=one.day, start=one.start)
        for one in outlook.dated
        if one.day is not None and one.start is not None
    )
    if firings != turn.record.promise:
        turn.write(Promised(at=turn.now, firings=firings, why=why))
    remind(turn, outlook)
    return outlook


def differs(turn: Turn, outlook: Outlook) -> bool:
    """Whether these days are others than those promised."""
    return bool(showing.changes(turn.record, outlook))


def remind(turn: Turn, outlook: Outlook | None = None) -> None:
    """Set the alarms of the days to come by what is promised now."""
    record, now = turn.record, turn.now
    turn.drop(AlarmName.DAY_BEFORE, AlarmName.MORNING, AlarmName.DAYS, AlarmName.CURE)
    if record.makeup is None:
        return
    today = record.today(now)
    cured = cure_of(record, now) if outlook is None else outlook.cure
    if cured is not None and cured.standing is not Standing.READY and not record.finished:
        turn.set(AlarmName.CURE, _countdown(turn, cured.ready_on, today))
    coming = [one for one in record.promise if one.start > now or one.day >= today]
    fired_today = record.last_day_fired() == today
    coming = [one for one in coming if not (one.day == today and fired_today)]
    if coming and record.session is None:
        _before(turn, coming[0])
    elif record.sessions and not record.finished and fired_today:
        turn.set(AlarmName.MORNING, _at(turn, today + timedelta(days=1), MORNING_AFTER_HOUR))


def _before(turn: Turn, firing: PromisedFiring) -> None:
    """Alarms of the next firing: the evening before, the morning, and the last moment."""
    record, now = turn.record, turn.now
    eve = _at(turn, firing.day - timedelta(days=1), EVE_HOUR)
    told = any(asked.what == f"eve:{firing.day}" for asked in record.all_of(Asked))
    promised = record.last_of(Promised)
    # An evening that has come went its own way; only a day promised since then still wants one.
    told = told or (eve <= now and promised is not None and promised.at < eve)
    morning = firing.start - BEFORE_START
    if not told and now < morning:
        turn.set(AlarmName.DAY_BEFORE, eve)
    after_fire = record.last_day_fired() == record.today(now) and record.today(now) != firing.day
    next_morning = _at(turn, record.today(now) + timedelta(days=1), MORNING_AFTER_HOUR)
    turn.set(AlarmName.MORNING, min(morning, next_morning) if after_fire else morning)
    turn.set(AlarmName.DAYS, last_moment(turn, firing))


def last_moment(turn: Turn, firing: PromisedFiring) -> datetime:
    """After this it is too late to light that firing on its day."""
    return max(_at(turn, firing.day, LATEST_START_HOUR), firing.start + timedelta(hours=2))


def _countdown(turn: Turn, ready_on: date | None, today: date) -> datetime:
    """When to tell next how the mortar stands."""
    if ready_on is None:
        return _at(turn, today + timedelta(days=7), COUNTDOWN_HOUR)
    for before in COUNTDOWN_D:
        at = _at(turn, ready_on - timedelta(days=before), COUNTDOWN_HOUR)
        if at > turn.now + timedelta(hours=1):
            return at
    return max(turn.now + timedelta(hours=1), _at(turn, ready_on, 9.0))


def _at(turn: Turn, day: date, hour: float) -> datetime:
    return instant(day, hour, turn.record.zoneinfo)
