"""Days that slip: what was said, what would change, done with one tap and undone with another."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta

from scheduling.advance import showing
from scheduling.advance.promising import promise, remind
from scheduling.advance.turn import Turn
from scheduling.breakin.availability import HINDRANCES, OUTRANKING, Closed, trouble_with
from scheduling.breakin.judging import DayScore
from scheduling.breakin.weather import Forecast
from scheduling.choice import Restricting
from scheduling.journal import (
    ENTRY,
    Asked,
    DaysSaid,
    Entry,
    Foretold,
    PromisedFiring,
    Reopened,
    RestrictionSaid,
    Settled,
    WeatherTold,
)
from scheduling.meaning import (
    DaysKept,
    DaysMoved,
    DaysProposed,
    DaysRefused,
    ForecastAgainst,
    IdleAsked,
    NoDayFound,
    SoakedNoted,
    StaleTap,
    WhichDay,
)
from scheduling.outcome import TENDERS, Urgency
from scheduling.record import Record
from scheduling.record.calendar import judged, near
from scheduling.record.outlook import Outlook, cure_of, days_of, look_ahead
from scheduling.remark import Available, FireBan, Remark, Sky, Unavailable, WeatherSaid

NEAR_DAYS = 3


def slips(turn: Turn, remark: Remark) -> bool:
    """Whether a remark moves days, to be proposed with the others of its message."""
    match remark:
        case Unavailable() | Available():
            return True
        case WeatherSaid():
            return remark.what is not Sky.SOAKED and not at_the_fire(turn, remark)
        case _:
            return False


def slipping(turn: Turn, remarks: Sequence[Remark]) -> None:
    """Days as somebody tells them, in one proposal however many they are."""
    entries: list[DaysSaid | WeatherTold] = []
    for remark in remarks:
        match remark:
            case Unavailable():
                entry: DaysSaid | WeatherTold | None = _unavailable(turn, remark)
            case Available():
                entry = _available(turn, remark)
            case WeatherSaid():
                entry = _weather(turn, remark)
            case _:
                entry = None
        if entry is not None:
            entries.append(entry)
    if entries:
        wanted = [one for one in entries if isinstance(one, DaysSaid) and one.firing]
        first = min((one.first for one in wanted), default=None)
        propose(turn, _why(entries), entries, first=first)


def _why(entries: Sequence[DaysSaid | WeatherTold]) -> str:
    """What the days are moved for, of several the first by weight."""
    reasons = {
        ("wanted" if one.firing else "unavailable")
        if isinstance(one, DaysSaid)
        else ("gale" if one.what is Sky.GALE else "weather")
        for one in entries
    }
    return next(one for one in ("unavailable", "wanted", "gale", "weather") if one in reasons)


def _unavailable(turn: Turn, said: Unavailable) -> DaysSaid | None:
    """Days on which nobody can tend a fire."""
    if not _possible(turn, said.first, said.last):
        return None
    today = turn.record.today(turn.now)
    return DaysSaid(
        at=turn.at,
        by=turn.by,
        first=max(said.first, today),
        last=said.last,
        free=said.before_hour is not None or said.after_hour is not None,
        from_hour=said.before_hour or 0.0,
        to_hour=said.after_hour or 24.0,
    )


def _available(turn: Turn, said: Available) -> DaysSaid | None:
    """A day that is free after all, or wanted."""
    if said.first is None:
        which_day(turn)
        return None
    last = said.last or said.first
    if not _possible(turn, said.first, last):
        return None
    record = turn.record
    free = record.availability.on(said.first)
    cured = look_ahead(record, turn.now).cure
    if cured is not None and cured.ready_on is not None and last < cured.ready_on:
        turn.say(DaysRefused(why=Closed.CURING, first=said.first, next_day=cured.ready_on))
        return None
    if free in OUTRANKING:
        turn.say(DaysRefused(why=free, first=said.first))
        return None
    return DaysSaid(at=turn.at, by=turn.by, first=said.first, last=last, free=True, firing=True)


def _possible(turn: Turn, first: date, last: date) -> bool:
    troubles = trouble_with(first, last, turn.record.today(turn.now))
    hindrance = next((one for one in troubles if one in HINDRANCES), None)
    if hindrance is None:
        return True
    turn.say(DaysRefused(why=hindrance, first=first, last=last))
    return False


def _near(turn: Turn) -> tuple[date, ...]:
    """The next few days on which a fire could be lit."""
    record, now = turn.record, turn.now
    outlook = look_ahead(record, now)
    if outlook.next is None:
        return ()
    tomorrow = record.today(now) + timedelta(days=1)
    facts = days_of(record, now, outlook.cure, (), tomorrow)
    return near(facts, now, outlook.next.aim.session_h, NEAR_DAYS)


def which_day(turn: Turn) -> None:
    """The day does not suit: which does?"""
    turn.write(Asked(at=turn.now, what="which_day", expect="day"))
    turn.say(WhichDay(near=_near(turn)))


def weather_now(turn: Turn, said: WeatherSaid) -> None:
    """Weather at the fire that burns."""
    entry = _weather(turn, said.model_copy(update={"when": "now"}))
    if entry is not None:
        turn.write(entry)


def soaked(turn: Turn, said: WeatherSaid) -> bool:
    """The oven got wet through. True if a burning fire should be advised on it."""
    entry = _weather(turn, said)
    if entry is None:
        return False
    _soaked(turn, entry)
    return turn.record.session is not None


def _weather(turn: Turn, said: WeatherSaid) -> WeatherTold | None:
    """Weather as somebody tells it."""
    today = turn.record.today(turn.now)
    day = today if said.when == "now" else said.when
    if day < today - timedelta(days=14):
        turn.say(DaysRefused(why="in_the_past", first=day))
        return None
    return WeatherTold(
        at=turn.at,
        by=turn.by,
        what=said.what,
        day=day,
        now=said.when == "now",
        wind_ms=said.wind_ms,
    )


def at_the_fire(turn: Turn, said: WeatherSaid) -> bool:
    """Whether it is the weather of the fire that burns now."""
    about_now = said.when in ("now", turn.record.today(turn.now))
    return turn.record.session is not None and about_now and said.what is not Sky.SOAKED


def _soaked(turn: Turn, entry: WeatherTold) -> None:
    """The oven is wet through: the next aim steps back at once, the days follow by one tap."""
    record = turn.record
    before = look_ahead(record, turn.now).next
    turn.write(entry)
    if record.finished:
        turn.write(Reopened(at=turn.now, why="soaked"))
    outlook = look_ahead(turn.record, turn.now)
    after = outlook.next
    turn.say(
        SoakedNoted(
            lit=record.session is not None,
            aim_before_c=None if before is None else before.aim.plateau_c,
            aim_after_c=None if after is None else after.aim.plateau_c,
            finished=record.finished,
        )
    )
    if record.session is None:
        kept = turn.record
        promise(turn, "soaked", outlook)
        told_moved(turn, kept, outlook, "soaked")


def propose(turn: Turn, why: str, entries: Sequence[Entry], *, first: date | None = None) -> None:
    """What would change, to be confirmed; where nothing changes it is noted at once.

    What the same person was asked a moment ago and has not answered is asked again with it.
    """
    record = turn.record
    asked, asked_first = _just_asked(turn)
    entries, first = (*asked, *(one for one in entries if one not in asked)), first or asked_first
    would_be = record.with_entries(entries)
    outlook = look_ahead(would_be, turn.now, first)
    changed = showing.changes(record, outlook)
    if record.makeup is None or record.finished or not changed:
        turn.write(*entries)
        turn.say(DaysKept(why=why))
        if record.makeup is not None:
            remind(turn, outlook)
        return
    proposal = f"{why}:{turn.now:%Y%m%dT%H%M%S}"
    change = tuple(ENTRY.dump_json(entry).decode() for entry in entries)
    turn.write(
        Asked(
            at=turn.now,
            by=turn.by,
            what=f"days:{why}" + (f":{first}" if first is not None else ""),
            expect="yes-no",
            proposal=proposal,
            change=change,
        )
    )
    turn.say(
        DaysProposed(
            proposal=proposal,
            why=why,
            off=_spans(one for one in entries if isinstance(one, DaysSaid) and not one.firing),
            wanted=_spans(one for one in entries if isinstance(one, DaysSaid) and one.firing),
            gales=_days(entries, gale=True),
            poor=_days(entries, gale=False),
            changes=changed,
            lines=showing.lines(outlook),
            done_by_before=record.promise[-1].day if record.promise else None,
            done_by_after=outlook.done_by,
        ),
        turn.by or TENDERS,
        Urgency.ANSWER if turn.by else Urgency.CALM,
        replaces="days",
    )


ASKED_A_MOMENT_AGO = timedelta(hours=1)


def _just_asked(turn: Turn) -> tuple[tuple[Entry, ...], date | None]:
    """What an open proposal of days to the same person would write, and its first day."""
    asked = turn.record.question
    if asked is None or asked.by != turn.by or not _waits_for_days(asked, turn.now):
        return (), None
    return tuple(ENTRY.validate_json(change) for change in asked.change), _first_of(asked)


def _waits_for_days(asked: Asked, now: datetime) -> bool:
    """Whether somebody has only just been asked about days of theirs."""
    own = asked.what.startswith("days:") and bool(asked.change)
    return own and now - asked.at <= ASKED_A_MOMENT_AGO


def _first_of(asked: Asked) -> date | None:
    _, _, *rest = asked.what.split(":")
    return date.fromisoformat(rest[0]) if rest else None


def _spans(said: Iterable[DaysSaid]) -> tuple[tuple[date, date], ...]:
    return tuple(dict.fromkeys((one.first, one.last) for one in said))


def _days(entries: Sequence[Entry], *, gale: bool) -> tuple[date, ...]:
    told = (one for one in entries if isinstance(one, WeatherTold))
    return tuple(dict.fromkeys(one.day for one in told if (one.what is Sky.GALE) is gale))


def confirmed(turn: Turn, asked: Asked, yes: bool) -> None:
    """One tap: done, or left alone."""
    turn.write(Settled(at=turn.now, by=turn.by, what=asked.what, yes=yes))
    if not yes:
        turn.say(DaysKept(why="left"))
        remind(turn)
        return
    if not asked.what.startswith("days:"):
        turn.say(StaleTap())
        return
    why, first = asked.what.split(":")[1], _first_of(asked)
    before = turn.record
    turn.write(*(ENTRY.validate_json(change) for change in asked.change))
    outlook = promise(turn, why, look_ahead(turn.record, turn.now, first))
    told_moved(turn, before, outlook, why)


def told_moved(turn: Turn, before: Record, outlook: Outlook, why: str) -> None:
    """The new days."""
    if outlook.dated and outlook.next is not None and outlook.next.day is None:
        turn.say(NoDayFound(needed_h=outlook.next.aim.session_h), turn.by or TENDERS)
        return
    changes = showing.changes(before, outlook)
    if not changes and why != "soaked":
        turn.say(DaysKept(why=why), turn.by or TENDERS)
        return
    turn.say(
        DaysMoved(why=why, lines=showing.lines(outlook), changes=changes, undo=bool(turn.by)),
        turn.by or TENDERS,
        Urgency.ANSWER if turn.by else Urgency.CALM,
        replaces="days",
    )


def fire_ban(turn: Turn, said: FireBan) -> bool:
    """A fire restriction, told in words. True if a burning fire should be advised on it."""
    restricting(turn, Restricting(first=said.first, last=said.last, over=said.over))
    return turn.record.session is not None


def restricting(turn: Turn, said: Restricting) -> None:
    """A local fire restriction always wins, at once."""
    before = turn.record
    turn.write(
        RestrictionSaid(at=turn.now, by=turn.by, first=said.first, last=said.last, over=said.over)
    )
    outlook = promise(turn, "restricted")
    told_moved(turn, before, outlook, "restricted")


def forecasted(turn: Turn, forecast: Forecast) -> None:
    """A new forecast: kept, and told only where it speaks against tomorrow's or today's fire."""
    turn.write(Foretold(at=turn.now, forecast=forecast))
    record = turn.record
    if record.session is not None or record.makeup is None or record.finished:
        return
    today = record.today(turn.now)
    near_by = [one for one in record.promise if today <= one.day <= today + timedelta(days=1)]
    if not near_by or record.last_day_fired() == near_by[0].day:
        return
    open_ = record.question
    if open_ is not None and (
        open_.what.startswith("days:forecast") or _waits_for_days(open_, turn.now)
    ):
        return
    facts = days_of(record, turn.now, cure_of(record, turn.now), ())
    weighed = judged(facts, turn.now, near_by[0].day, near_by[0].session_h)
    refused = [
        one
        for one in record.all_of(Settled)
        if one.what.startswith("days:forecast")
        and one.yes is False
        and record.today(one.at) == today
    ]
    if weighed is None or weighed.worth_lighting or refused:
        return
    propose_against(turn, near_by[0], weighed.poor, reasons_of(weighed))


def reasons_of(weighed: DayScore) -> tuple[tuple[str, float], ...]:
    """What speaks against a day, as meanings show it."""
    return tuple((reason.kind.value, round(reason.amount, 3)) for reason in weighed.reasons)


def propose_against(
    turn: Turn, firing: PromisedFiring, poor: float, reasons: tuple[tuple[str, float], ...]
) -> None:
    """The forecast speaks against a promised day: other days, to be confirmed with one tap."""
    forecast = turn.record.forecast
    turn.say(
        ForecastAgainst(
            day=firing.day,
            poor=round(poor, 3),
            reasons=reasons,
            attribution=None if forecast is None else forecast.attribution,
        ),
        TENDERS,
        Urgency.CALM,
    )
    propose(turn, "forecast", (), first=firing.day + timedelta(days=1))


def idle(turn: Turn) -> None:
    """A finished oven, long unfired: gentle fires before real ones."""
    record = turn.record
    if not record.finished or not record.sessions:
        return
    days = (turn.now - record.sessions[-1].lit_at).days
    proposal = f"idle:{turn.now:%Y%m%d}"
    turn.write(Asked(at=turn.now, what="idle", expect="yes-no", proposal=proposal))
    turn.say(IdleAsked(days=days, firings=2), TENDERS, Urgency.CALM)


def reopened(turn: Turn, why: str) -> None:
    """Fire it gently again."""
    turn.write(Reopened(at=turn.now, by=turn.by, why=why))
    before = turn.record
    outlook = promise(turn, why)
    told_moved(turn, before, outlook, why)
