"""Signs from the fire, the wall and the people at it. People come first."""

from datetime import datetime, timedelta

from scheduling.advance.burning import advise, measures
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.firing.aim import Action
from scheduling.journal import (
    Advised,
    Asked,
    CrackSeen,
    Hushed,
    Noted,
    Seen,
    Settled,
    TroubleClosed,
)
from scheduling.meaning import (
    CrackTold,
    FlueFlames,
    InstrumentMissing,
    LaterNoted,
    LeavingFire,
    NudgesStopped,
    OnHold,
    Popping,
    SignTold,
    TroubleOver,
    Unwell,
    WelcomeBack,
)
from scheduling.outcome import TENDERS, Urgency
from scheduling.record import Need
from scheduling.record.trouble import Trouble
from scheduling.remark import CrackSize

ASK_AGAIN_MINUTES = 10.0
LOOK_AGAIN = timedelta(hours=24)
LONGEST_LATER_MINUTES = 30.0

_EMERGENCY = {
    "Europe/London": "999",
    "Australia/": "000",
    "Pacific/Auckland": "111",
    "Europe/": "112",
    "America/New_York": "911",
    "America/Chicago": "911",
    "America/Denver": "911",
    "America/Los_Angeles": "911",
    "America/Phoenix": "911",
    "America/Toronto": "911",
    "America/Vancouver": "911",
    "America/Halifax": "911",
}
"""Emergency numbers by time zone (from memory); elsewhere the number is not named."""


def emergency(zone: str) -> str | None:
    """The emergency number of the place, where it is known."""
    return next((number for start, number in _EMERGENCY.items() if zone.startswith(start)), None)


def unwell(turn: Turn) -> None:
    """Somebody is unwell or burnt: people first, and nothing else in this answer."""
    session = turn.record.session
    turn.write(Seen(at=turn.at, by=turn.by, what="unwell"))
    turn.danger(Unwell(emergency=emergency(turn.record.zone), lit=session is not None))
    turn.alert(Need.UNWELL, _since(turn, Trouble.UNWELL))
    turn.drop(AlarmName.NUDGE, AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
    turn.in_minutes(AlarmName.FOLLOW_UP, ASK_AGAIN_MINUTES)
    if session is not None:
        turn.write(Advised(at=turn.now, action=Action.STOP))
        turn.in_minutes(AlarmName.EMBERS, 120.0)


def _since(turn: Turn, what: Trouble) -> datetime:
    """Since when a trouble has stood open."""
    return next((one.since for one in turn.record.troubles if one.what is what), turn.at)


def popping(turn: Turn) -> None:
    """The wall sheds."""
    session = turn.record.session
    turn.write(Seen(at=turn.at, by=turn.by, what="popping"))
    told = turn.alert(Need.POPPING, _since(turn, Trouble.POPPING))
    turn.danger(Popping(builder_told=told, lit=session is not None))
    _let_die(turn)


def flue_flames(turn: Turn) -> None:
    """Flames into the flue."""
    turn.write(Seen(at=turn.at, by=turn.by, what="flue_flames"))
    turn.alert(Need.FLUE, _since(turn, Trouble.FLUE))
    turn.danger(FlueFlames(emergency=emergency(turn.record.zone)))
    # It says all there is to do: to let the fire die with the mouth open would gainsay it.
    _let_die(turn, told=True)


def crack(turn: Turn, size: CrackSize, photo: str | None) -> None:
    """A crack: a hairline is watched, an open one ends the firing, an unsaid one is asked."""
    session = turn.record.session
    turn.write(CrackSeen(at=turn.at, by=turn.by, size=size, photo=photo))
    told = False
    if size is CrackSize.OPEN:
        told = turn.alert(Need.CRACK, _since(turn, Trouble.CRACK), photo=photo)
    lit = session is not None
    meaning = CrackTold(size=size, lit=lit, builder_told=told, photo=photo is not None)
    turn.say(meaning, TENDERS, Urgency.FIRE if lit else Urgency.ANSWER)
    if size is CrackSize.OPEN:
        _let_die(turn)
    elif lit:
        turn.in_minutes(AlarmName.NUDGE, 10.0 if size is CrackSize.UNSAID else 20.0)


def _let_die(turn: Turn, *, told: bool = False) -> None:
    """Nothing more goes on; the matter is followed up. ``told``: what to do has been said."""
    turn.set(AlarmName.FOLLOW_UP, turn.now + LOOK_AGAIN)
    if turn.record.session is not None and not turn.record.session.stopped:
        advise(turn, quietly=told)


def follow_up(turn: Turn) -> None:
    """A trouble that nobody has closed: ask whoever can."""
    troubles = [one for one in turn.record.troubles if one.what is not Trouble.CRACK_UNSAID]
    if not troubles:
        return
    worst = troubles[0]
    if worst.what is Trouble.LIT_EARLY:
        return
    alone = turn.record.builder is None or worst.what is Trouble.UNWELL
    proposal = f"look:{worst.what.value}"
    if alone:
        turn.write(Asked(at=turn.now, what=proposal, expect="yes-no", proposal=proposal))
    turn.say(
        OnHold(
            why="trouble",
            trouble=worst.what.value,
            lit=turn.record.session is not None,
            ask_look=alone,
            proposal=proposal if alone else None,
        ),
        TENDERS,
        Urgency.DANGER if worst.what is Trouble.UNWELL else Urgency.CALM,
        replaces="follow_up",
    )
    turn.set(AlarmName.FOLLOW_UP, turn.now + LOOK_AGAIN)


def looked(turn: Turn, what: str, sound: bool) -> None:
    """Somebody has looked: sound, or not yet."""
    turn.write(Settled(at=turn.now, what=f"look:{what}", yes=sound))
    if not sound:
        turn.say(OnHold(why="trouble", trouble=what, lit=turn.record.session is not None))
        return
    closed = Trouble(what)
    turn.write(TroubleClosed(at=turn.now, by=turn.by, what=closed.value))
    turn.say(TroubleOver(what=what))
    left = [one for one in turn.record.troubles if one.what is not Trouble.CRACK_UNSAID]
    if left:
        turn.set(AlarmName.FOLLOW_UP, turn.now + timedelta(minutes=1))
    else:
        turn.drop(AlarmName.FOLLOW_UP)
    if turn.record.session is not None:
        advise(turn)


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


def leaving(turn: Turn) -> None:
    """Somebody has to leave the fire."""
    session = turn.record.session
    turn.write(Seen(at=turn.at, by=turn.by, what="leaving"))
    turn.say(
        LeavingFire(lit=session is not None, second=len(turn.record.tenders) > 1),
        TENDERS,
        Urgency.FIRE if session is not None else Urgency.ANSWER,
    )
    if session is not None:
        turn.drop(AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
        turn.in_minutes(AlarmName.NUDGE, 20.0)


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
