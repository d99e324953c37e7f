"""Signs from the fire and the wall that are no danger, and what people say of themselves."""

from datetime import timedelta

from scheduling.advance.barring import A_MOMENT_MINUTES
from scheduling.advance.burning import measures
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.firing.aim import Action
from scheduling.journal import (
    Advised,
    Hushed,
    Noted,
    Seen,
)
from scheduling.meaning import (
    InstrumentMissing,
    LaterNoted,
    LeavingFire,
    NudgesStopped,
    SignTold,
    WelcomeBack,
)
from scheduling.outcome import TENDERS, Urgency

LONGEST_LATER_MINUTES = 30.0

LOOKED_FOR_MINUTES = 20.0
"""Who is away for longer, or did not say how long, is looked for after this."""


def sign(turn: Turn, what: str) -> bool:
    """Steam, damp, smoke, a fire too big, wood run out. True if advice should follow."""
    session = turn.record.session
    turn.write(Seen(at=turn.at, by=turn.by, what=what))
    lit = session is not None
    fast = session is not None and (session.climb_k_h or 0.0) > 60.0
    much = fast and what in ("steam", "damp")
    turn.say(
        SignTold(what=what, lit=lit, much=much),
        TENDERS,
        Urgency.FIRE if lit else Urgency.ANSWER,
    )
    if what == "too_big" and session is not None:
        turn.write(Advised(at=turn.now, action=Action.SPREAD, minutes=10.0))
        turn.in_minutes(AlarmName.NUDGE, 10.0)
    if what == "wood_out" and session is not None:
        turn.in_minutes(AlarmName.NUDGE, 30.0)
    return False


def no_thermometer(turn: Turn) -> bool:
    """Nobody can read the dome. True if advice by the clock should follow: never in a fire that
    was led by readings."""
    session = turn.record.session
    turn.write(Noted(at=turn.at, by=turn.by, text="no thermometer"))
    if session is not None and not measures(turn):
        return True
    turn.say(
        InstrumentMissing(lit=session is not None),
        TENDERS,
        Urgency.FIRE if session is not None else Urgency.ANSWER,
    )
    return False


def leaving(turn: Turn, minutes: float | None) -> None:
    """Somebody leaves the fire: for a moment, or for so long that it has to burn down first."""
    session = turn.record.session
    turn.write(Seen(at=turn.at, by=turn.by, what="leaving", minutes=minutes))
    short = minutes is not None and minutes <= A_MOMENT_MINUTES
    back_at = None
    if session is not None:
        turn.drop(AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
        if not session.ending:
            looked_for = max(5.0, minutes) if short and minutes is not None else LOOKED_FOR_MINUTES
            back_at = turn.in_minutes(AlarmName.NUDGE, looked_for)
    turn.say(
        LeavingFire(
            lit=session is not None,
            short=short,
            back_at=back_at,
            second=len(turn.record.tenders) > 1,
        ),
        TENDERS,
        Urgency.FIRE if session is not None else Urgency.ANSWER,
    )


def back(turn: Turn) -> None:
    """Somebody is back at the fire: read first."""
    session = turn.record.session
    away = None
    if session is not None:
        away = round((turn.now - session.heard_at) / timedelta(minutes=1))
    turn.write(Seen(at=turn.at, by=turn.by, what="back"))
    turn.say(WelcomeBack(away_minutes=away, read=session is not None))
    if session is not None:
        turn.in_minutes(AlarmName.NUDGE, 10.0)


def later(turn: Turn, minutes: float | None) -> None:
    """Ask later: as late as the fire allows."""
    session = turn.record.session
    wanted = minutes or 20.0
    allowed = min(wanted, LONGEST_LATER_MINUTES) if session is not None else wanted
    name = AlarmName.NUDGE if session is not None else AlarmName.MORNING
    turn.drop(AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
    if session is not None and session.ending:
        name = AlarmName.EMBERS
    next_at = turn.in_minutes(name, max(5.0, allowed))
    turn.say(LaterNoted(next_at=next_at, shortened=allowed < wanted))


def stop_nudges(turn: Turn) -> None:
    """No more nudges; while a fire burns, the question of embers still comes."""
    session = turn.record.session
    turn.write(Hushed(at=turn.at, by=turn.by))
    turn.say(NudgesStopped(lit=session is not None))
    if session is not None:
        turn.drop(AlarmName.NUDGE, AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
        turn.in_minutes(AlarmName.EMBERS, 120.0)
