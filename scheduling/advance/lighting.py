"""From the evening before to the lit fire."""

from dataclasses import replace
from datetime import datetime, timedelta

from scheduling.advance import after
from scheduling.advance.barring import barred
from scheduling.advance.burning import measures, show_status
from scheduling.advance.days import propose_against, reasons_of, told_moved
from scheduling.advance.promising import last_moment, promise, remind
from scheduling.advance.setup import ask_where_it_stands
from scheduling.advance.turn import Turn
from scheduling.advance.undo import take_back_last
from scheduling.alarm import AlarmName
from scheduling.breakin.walltime import local_day
from scheduling.emergency import emergency_number
from scheduling.firing.aim import Action, Aim
from scheduling.firing.rule import FIRST_LOOK_MINUTES, laid_for
from scheduling.firing.session import START_COUNTS
from scheduling.hazard import Hazard
from scheduling.journal import (
    Asked,
    FireLit,
    HazardClosed,
    Measured,
    PromisedFiring,
    Released,
    Settled,
)
from scheduling.meaning import (
    Eve,
    FireIndoors,
    FireStays,
    HowToLay,
    LitNoted,
    LitTooEarly,
    MorningAfterAsk,
    MorningAsk,
    Noted,
    NotToday,
    StillOn,
    StillWaiting,
)
from scheduling.outcome import TENDERS, Urgency
from scheduling.record import Phase
from scheduling.record.calendar import judged
from scheduling.record.crown import known_of
from scheduling.record.need import phase_of
from scheduling.record.outlook import (
    AIM_FIELDS,
    aims_of,
    bounds_of,
    cure_of,
    days_of,
    look_ahead,
    rule_of,
)
from scheduling.record.wall import next_only

LASTING = ("indoors", "held", "trouble")
"""Bars that stand until somebody lifts them."""

CALLED_OUT_LATELY = timedelta(minutes=45)
"""So soon after a fire was called out, one that burns is the same (own choice)."""

MOST_DAYS_GONE = 4
"""Fire days in a row that went by without a fire, after which no more are laid (own choice)."""

A_NIGHT = timedelta(hours=14)
"""From the word of the evening before to the morning."""


def next_aim(turn: Turn) -> Aim | None:
    """The aim of a fire lit now. A second fire on one day goes no higher than the first."""
    record = turn.record
    by_rule = rule_of(record, turn.now)
    if not by_rule:
        return None
    aim, promised = by_rule[0], coming(turn)
    if promised is not None and promised.number == aim.number:
        told = Aim(**promised.model_dump(include=AIM_FIELDS))
        aim = told if told.plateau_c <= aim.plateau_c else aim
    aim = next_only(record, aim, bounds_of(record), turn.now)
    today = [
        one.aim
        for one in record.ended_sessions
        if one.aim is not None and local_day(one.lit_at, record.zoneinfo) == record.today(turn.now)
    ]
    if today and today[-1].plateau_c < aim.plateau_c:
        aim = today[-1]
    return _laid(turn, aim)


def _laid(turn: Turn, aim: Aim) -> Aim:
    """The aim with its laying for the dome as it was read this morning; unread, for a cold one,
    and under a lid for one as warm as it may be."""
    record, read_c = turn.record, _read_cold(turn)
    if record.makeup is None or (read_c is None and record.lid_c is None):
        return aim
    known = known_of(record, turn.now)
    if read_c is not None:
        known = replace(known, start_c=read_c)
    return laid_for(aim, bounds_of(record), known)


def _read_cold(turn: Turn) -> float | None:
    """The top as it was read this morning, °C; None where it was not."""
    read = turn.record.last_of(Measured)
    if read is None or not read.believed or turn.now - read.at > START_COUNTS:
        return None
    return read.top_c


def coming(turn: Turn) -> PromisedFiring | None:
    """The next promised firing, today's included."""
    today = turn.record.today(turn.now)
    return next((one for one in turn.record.promise if one.day >= today), None)


def evening_before(turn: Turn) -> None:
    """Tomorrow's aim, wood and checklist; or, against a poor forecast, other days."""
    firing = coming(turn)
    if firing is None or turn.record.session is not None:
        return
    tomorrow = turn.record.today(turn.now) + timedelta(days=1)
    if firing.day > tomorrow:
        remind(turn)
        return
    why = barred(turn, firing.start)
    if why is not None:
        # A trouble is asked after every day as it is.
        if why != "trouble" or not _stands_long(turn, why):
            turn.say(NotToday(why=why), TENDERS, Urgency.CALM)
        return
    outlook = look_ahead(turn.record, turn.now)
    aim = outlook.dated[0].aim if outlook.dated else None
    if aim is None:
        return
    words = turn.record.own_words
    facts = days_of(turn.record, turn.now, outlook.cure, ())
    weighed = judged(facts, turn.now, firing.day, aim.session_h)
    proposal = f"eve:{firing.day}"
    poor, reasons = (1.0, ()) if weighed is None else (weighed.poor, reasons_of(weighed))
    if weighed is None or not weighed.worth_lighting:
        propose_against(turn, firing, poor, reasons)
        return
    turn.write(Asked(at=turn.now, what=proposal, expect="yes-no", proposal=proposal))
    turn.say(
        Eve(
            aim=aim,
            day=firing.day,
            start=firing.start,
            proposal=proposal,
            poor=round(poor, 3),
            reasons=reasons,
            first=not turn.record.sessions,
            own=() if words is None else words.before,
            read=measures(turn),
            stands=None if turn.record.makeup is None else turn.record.makeup.stands,
        ),
        TENDERS,
        Urgency.CALM,
        replaces="eve",
        expires=firing.start + timedelta(hours=4),
    )
    ask_where_it_stands(turn)
    remind(turn)


def kept(turn: Turn) -> None:
    """The day was confirmed."""
    firing = coming(turn)
    if firing is not None:
        aims = aims_of(turn.record, turn.now)
        aim = aims[0] if aims else firing
        shown = Aim.model_validate(aim.model_dump(include=set(Aim.model_fields)))
        turn.say(StillOn(aim=shown, day=firing.day, start=firing.start))
    remind(turn)


def morning(turn: Turn) -> None:
    """A firing day begins, or the morning after one: ask for the reading with no fire."""
    record = turn.record
    if record.session is not None:
        return
    if after.unseen_till_morning(turn):
        return
    firing = coming(turn)
    today = record.today(turn.now)
    if firing is None or firing.day != today or record.last_day_fired() == today:
        if record.sessions and not record.finished and measures(turn):
            turn.write(Asked(at=turn.now, what="morning_after", expect="reading"))
            turn.say(MorningAfterAsk(), TENDERS, Urgency.CALM, replaces="morning")
        remind(turn)
        return
    if turn.now < firing.start - timedelta(minutes=50):
        # The morning after yesterday's fire: its reading serves today's start as well.
        turn.set(AlarmName.MORNING, firing.start - timedelta(minutes=45))
        return
    why = barred(turn, turn.now)
    if why is not None:
        if not _stands_long(turn, why):
            turn.say(NotToday(why=why), TENDERS)
        return
    late = turn.now >= firing.start + timedelta(minutes=60)
    read = _read_cold(turn)
    if measures(turn) and not late and read is None:
        # The reading will say more of the oven than can be known now.
        told = Aim(**firing.model_dump(include=AIM_FIELDS))
        turn.set(AlarmName.MORNING, firing.start + timedelta(minutes=75))
        turn.write(Asked(at=turn.now, what="morning", expect="reading"))
        turn.say(MorningAsk(aim=told), TENDERS, replaces="morning")
        return
    aim = next_aim(turn)
    if aim is None:
        return
    if late and _told_how_to_lay(turn):
        turn.write(Asked(at=turn.now, what="is_lit", expect="lit"))
        turn.say(StillWaiting(aim=aim, latest=last_moment(turn, firing)), TENDERS)
        return
    next_at = max(firing.start + timedelta(minutes=75), turn.now + timedelta(minutes=60))
    turn.set(AlarmName.MORNING, next_at)
    how_to_lay(turn, aim, read)


def _told_how_to_lay(turn: Turn) -> bool:
    """Whether it was told today how this fire is laid; without its reading nobody was."""
    today = turn.record.today(turn.now)
    told = (one for one in turn.record.all_of(Asked) if one.what in ("light", "is_lit"))
    return any(turn.record.today(one.at) == today for one in told)


def how_to_lay(turn: Turn, aim: Aim, start_c: float | None = None) -> None:
    """Lay and light."""
    promised = coming(turn)
    changed = None
    if promised is not None and abs(promised.plateau_c - aim.plateau_c) >= 5.0:
        changed = promised.plateau_c
    turn.write(Asked(at=turn.now, what="light", expect="lit"))
    words = turn.record.own_words
    own = () if words is None else words.cautions
    makeup = turn.record.makeup
    turn.say(
        HowToLay(
            aim=aim,
            start_c=start_c,
            changed_from_c=changed,
            own=own,
            stands=None if makeup is None else makeup.stands,
            flue=turn.record.flue,
        ),
        TENDERS,
    )


def day_passed(turn: Turn) -> None:
    """The last moment of a promised day went by with nothing lit: later days."""
    if turn.record.session is not None or turn.record.finished:
        return
    firing = coming(turn)
    today = turn.record.today(turn.now)
    if firing is not None and firing.day > today:
        remind(turn)
        return
    bar = barred(turn, turn.now)
    unused = bar is None and not _lifted_that_day(turn, firing)
    gone = turn.record.days_gone_by + unused
    if unused and gone >= MOST_DAYS_GONE:
        after.stop_for_days_gone(turn, gone)
        return
    before = turn.record
    outlook = promise(
        turn,
        "slipped" if unused else "barred",
        look_ahead(turn.record, turn.now, first=today + timedelta(days=1)),
    )
    # Days that move along with a bar are told once it has been lifted.
    if bar not in LASTING:
        told_moved(turn, before, outlook, "slipped")


def _lifted_that_day(turn: Turn, firing: PromisedFiring | None) -> bool:
    """Whether a bar was lifted only after that fire was to be lit: the owner did not waste it."""
    lifted = [one.at for one in turn.record.facts if isinstance(one, HazardClosed | Released)]
    return firing is not None and any(at >= firing.start for at in lifted)


def _stands_long(turn: Turn, why: str) -> bool:
    """Whether that bar stood already when it was last told that there is no fire."""
    if why not in LASTING:
        return False
    held = turn.record.held
    since = [held.at] if held is not None else [one.since for one in turn.record.hazards]
    return all(turn.now - at > A_NIGHT for at in since)


def lit(turn: Turn, at: datetime) -> bool:
    """Somebody says the fire is lit. True if a fire that burnt before waits for advice."""
    if turn.record.session is not None:
        return _lit_again(turn, at)
    if _called_out_by_mistake(turn):
        take_back_last(turn, kinds=("fire_died", "firing_ended"))
        return turn.record.session is not None
    _first_lit(turn, at)
    return False


def _called_out_by_mistake(turn: Turn) -> bool:
    """Whether the fire that still burns is one that the same person called out just now."""
    ended = turn.record.ended_sessions[-1:]
    if not ended or ended[0].ended is None or ended[0].ended.by != turn.by:
        return False
    return turn.now - ended[0].ended.at <= CALLED_OUT_LATELY


def _first_lit(turn: Turn, at: datetime) -> None:
    """A fire is new to the book."""
    record = turn.record
    if record.finished and barred(turn, at) is None:
        turn.say(Noted(what="lit"))
        return
    why = barred(turn, at)
    if why is not None:
        _too_early(turn, at, why)
        return
    aim = next_aim(turn)
    turn.write(FireLit(at=at, by=turn.by, aim=aim))
    if record.question is not None:
        turn.write(Settled(at=turn.now, what=record.question.what))
    turn.drop(AlarmName.MORNING, AlarmName.DAYS, AlarmName.DAY_BEFORE, AlarmName.CURE)
    if aim is None:
        return
    _look_first(turn, aim, at)


def _look_first(turn: Turn, aim: Aim, lit_at: datetime) -> None:
    left = (first_look(turn, aim, lit_at) - turn.now) / timedelta(minutes=1)
    next_at = turn.in_minutes(AlarmName.NUDGE, max(0.0, left))
    flue = turn.record.flue
    turn.at_fire(LitNoted(aim=aim, lit_at=lit_at, next_at=next_at, read=measures(turn), flue=flue))
    show_status(turn, Action.WAIT, next_at)


def first_look(turn: Turn, aim: Aim, lit_at: datetime) -> datetime:
    """When a new fire is first asked after."""
    return lit_at + timedelta(minutes=FIRST_LOOK_MINUTES if measures(turn) else aim.stoke_minutes)


def _lit_again(turn: Turn, at: datetime) -> bool:
    """Lit again within a firing, or the time of lighting corrected. True: it waits for advice."""
    session = turn.record.session
    if session is None:
        return False
    if session.died_at is not None or at < session.lit_at:
        turn.write(FireLit(at=at, by=turn.by, aim=session.aim, too_early=session.too_early))
    if turn.said([LitNoted]):
        return False
    untold = not session.advised and session.nudged is None and session.died_at is None
    if session.aim is None or not untold:
        return True
    # Pressed twice, or the hour told after the press: the first look stands as it was told.
    _look_first(turn, session.aim, min(at, session.lit_at))
    return False


def _too_early(turn: Turn, at: datetime, why: str) -> None:
    """Lit before it may be: let it die, and tell the builder."""
    record = turn.record
    cured = cure_of(record, turn.now)
    turn.write(FireLit(at=at, by=turn.by, aim=None, too_early=True))
    told = turn.alert(Hazard.LIT_EARLY, at, detail=why)
    turn.in_minutes(AlarmName.EMBERS, 60.0)
    if why == "indoors":
        number = emergency_number(record.zone)
        turn.danger(FireIndoors(emergency=number, builder_told=told))
        return
    turn.danger(
        LitTooEarly(
            why=why,
            ready_on=cured.ready_on if cured is not None and why == "cure" else None,
            builder_told=told,
        )
    )


def not_lit(turn: Turn) -> None:
    """Not yet: wait, as long as the day allows."""
    record = turn.record
    session = record.session
    if session is not None and not session.tended:
        take_back_last(turn, kinds=("fire_lit",))
        return
    if session is not None and session.died_at is None:
        turn.say(FireStays(lit=True))
        return
    turn.say(Noted(what="not_lit"))
    if phase_of(record, turn.now) is Phase.FIRING_DAY:
        turn.set(AlarmName.MORNING, turn.now + timedelta(minutes=60))
