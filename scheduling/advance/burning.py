"""While a fire burns: after every word from it one action, and when to look again."""

from datetime import datetime

from scheduling.advance import showing
from scheduling.advance.barring import barred_by, forbidden
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.breakin.availability import Closed
from scheduling.breakin.walltime import instant
from scheduling.firing.advice import FRESH, STOPS, Decision, Ground, decide
from scheduling.firing.aim import Action, Aim
from scheduling.journal import Advised
from scheduling.meaning import (
    Advice,
    FiringShown,
    FiringStatus,
    InstrumentBlind,
    MustNotBurn,
    TooHot,
    Why,
)
from scheduling.outcome import TENDERS, Urgency
from scheduling.record import wall
from scheduling.record.crown import known_of
from scheduling.record.need import too_hot
from scheduling.record.outlook import bounds_of
from scheduling.record.standing import Concern

BURN_DOWN = 75.0
"""Minutes from the last word of a firing until embers are asked for (own choice)."""

LATEST_HOUR = 22.0


def advise(turn: Turn, *, late: bool = False, quietly: bool = False) -> None:
    """Decide what to do now, write it down, say it, and set the next look. ``quietly``: what is
    to be done has just been said."""
    session = turn.record.session
    if session is None:
        return
    stands_on = ground(turn)
    aim = stands_on.session.aim
    decision = decide(stands_on)
    turn.write(
        Advised(
            at=turn.now,
            action=decision.action,
            minutes=decision.minutes,
            kg=decision.kg,
            pieces=decision.pieces,
            why=decision.why.what,
        )
    )
    next_at = _look_again(turn, decision)
    if aim is None:
        if not quietly:
            _must_not_burn(turn, next_at)
        return
    # One action a message: what is said of a fire far too hot says all of it.
    if not quietly and decision.why.what != "unheard" and (not _watch(turn) or decision.kg):
        # Wood is asked for on a reading: once that is old, the word is not worth sending any more.
        expires = turn.now + FRESH if decision.kg else None
        turn.at_fire(told(turn, decision, aim, next_at, late), expires=expires)
    show_status(turn, decision.action, next_at)


def _must_not_burn(turn: Turn, next_at: datetime | None) -> None:
    """A fire that was lit against the advice is left to die, whatever is told of it."""
    session = turn.record.session
    bar = barred_by(turn)
    turn.say(
        MustNotBurn(
            why=bar.why,
            hazard=bar.hazard,
            ready_on=bar.ready_on,
            top_c=None if session is None else session.top_c,
            next_at=next_at,
            flue=turn.record.flue,
        ),
        TENDERS,
        Urgency.FIRE,
        replaces="fire",
    )


def told(
    turn: Turn, decision: Decision, aim: Aim, next_at: datetime | None, late: bool = False
) -> Advice:
    """The decision as it is said."""
    session = turn.record.session
    return Advice(
        action=decision.action,
        why=Why(what=decision.why.what, amount=decision.why.amount),
        top_c=None if session is None else session.top_c,
        aim=aim,
        minutes=decision.minutes,
        next_at=next_at,
        kg=decision.kg,
        pieces=decision.pieces,
        piece_mm=(decision.piece_mm or aim.piece_mm) if decision.action is Action.ADD else None,
        expect_c=decision.expect_c,
        held_h=0.0 if session is None else session.held_h(turn.now),
        plateau_at=decision.plateau_at,
        gentler=decision.gentler,
        late=late,
    )


def show_status(turn: Turn, action: Action | None, next_at: datetime | None) -> None:
    """The one status message of a firing, edited in place."""
    session = turn.record.session
    shown = None if session is None else showing.firing(session)
    if shown is not None:
        show_status_of(turn, shown, action, next_at)


def show_status_of(
    turn: Turn,
    shown: FiringShown,
    action: Action | None = None,
    next_at: datetime | None = None,
) -> None:
    """The same of a firing that may be over: then it says how it went, and has no buttons."""
    turn.say(
        FiringStatus(shown=shown, action=action, next_at=next_at),
        TENDERS,
        Urgency.ANSWER,
        replaces="status",
        slot=f"firing:{shown.lit_at:%Y%m%dT%H%M}",
    )


def ground(turn: Turn) -> Ground:
    """All that a decision about this fire stands on."""
    record, session = turn.record, turn.record.session
    if session is None:
        raise ValueError("no fire is lit")
    bounds, why = bounds_of(record), forbidden(turn)
    return Ground(
        session=session,
        now=turn.now,
        bounds=bounds,
        instrument=measures(turn),
        forbidden=why,
        wall=None if why in STOPS else wall.says(record, bounds, turn.now),
        modelled=record.makeup is not None and record.members > 0,
        known=known_of(record, session.lit_at),
        latest=_latest(turn, session.lit_at),
    )


def measures(turn: Turn) -> bool:
    """Whether this fire is read with a thermometer."""
    record = turn.record
    equipped = record.makeup is not None and record.makeup.instrument is not None
    return equipped or (record.session is not None and bool(record.session.readings))


def _latest(turn: Turn, lit_at: datetime) -> datetime:
    """When the hours of the day are over."""
    record = turn.record
    free = record.availability.on(record.today(lit_at))
    hour = LATEST_HOUR if isinstance(free, Closed) else min(LATEST_HOUR, free.last_hour)
    return instant(record.today(lit_at), hour, record.zoneinfo)


def _look_again(turn: Turn, decision: Decision) -> datetime | None:
    """The next look: the nudge, or the embers once the fire is to end."""
    turn.drop(AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
    session = turn.record.session
    if decision.action in (Action.HOLD_DONE, Action.STOP):
        turn.drop(AlarmName.NUDGE)
        return turn.in_minutes(AlarmName.EMBERS, BURN_DOWN)
    if session is not None and session.ending:
        turn.drop(AlarmName.NUDGE)
        return turn.in_minutes(AlarmName.EMBERS, decision.minutes or BURN_DOWN)
    if session is not None and session.hushed is not None and _hushed(turn):
        turn.drop(AlarmName.NUDGE)
        return turn.in_minutes(AlarmName.EMBERS, 120.0)
    turn.drop(AlarmName.EMBERS)
    return turn.in_minutes(AlarmName.NUDGE, decision.minutes or 30.0)


def _hushed(turn: Turn) -> bool:
    session = turn.record.session
    return (
        session is not None
        and session.hushed is not None
        and session.hushed.until_h is None
        and session.heard_at <= session.hushed.at
    )


def _watch(turn: Turn) -> bool:
    """What the builder must hear of: a fire far too hot (then True is returned); and a
    thermometer at its end."""
    session, makeup = turn.record.session, turn.record.makeup
    if session is None or session.top_c is None or session.aim is None:
        return False
    hot = too_hot(turn.record) and session.last is not None
    if hot:
        turn.danger(TooHot(top_c=session.top_c, limit_c=session.aim.high_c, minutes=10.0))
        turn.alert(Concern.TOO_HOT, session.lit_at)
    instrument = makeup.instrument if makeup is not None else None
    if instrument is not None and session.top_c >= instrument.max_c - 10.0:
        turn.at_fire(InstrumentBlind(max_c=instrument.max_c), replaces=None)
    return hot
