"""Nudges, and what follows when nobody answers.

A nudge, one repeat, then the others are told, then the fire counts as unattended and is asked
about once an hour. Each step sets
only the next, so that after a downtime the overdue ones are one.
"""

from datetime import datetime, timedelta

from scheduling.advance.barring import is_away
from scheduling.advance.burning import advise, ground, measures, show_status
from scheduling.advance.hazards import still_stands
from scheduling.advance.turn import Turn
from scheduling.advance.unsettled import asked_again
from scheduling.alarm import AlarmName
from scheduling.firing.advice import FRESH, decide, forbids_wood
from scheduling.firing.aim import Action
from scheduling.firing.session import Session
from scheduling.firing.sides import side_wanted
from scheduling.firing.steering import ready_kg
from scheduling.firing.wood import pieces_of
from scheduling.journal import Advised, Nudged, Silent
from scheduling.meaning import BackAsked, Nudge, SecondTold, Unattended
from scheduling.outcome import TENDERS, Urgency
from scheduling.record.standing import Concern

REPEAT_MINUTES, TOLD_MINUTES, UNATTENDED_MINUTES = 12.0, 13.0, 20.0
LATE_FROM_MINUTES = 5.0
SETTLED_BY_A_NUMBER = ("missing", "stale", "just_fed", "just_lit", "above_band", "too_fast")

ANEW_MINUTES = 10.0
"""After an answer that says nothing of the temperature, until it is asked for again."""

ASKED_AGAIN_MINUTES, LEFT_ALONE_MINUTES = 60.0, 200.0
"""An unattended fire is asked about once an hour, until it has burnt out."""
GONE_H = 12.0
"""So long after its lighting nobody is asked to stoke any more."""


def nudge(turn: Turn, due: datetime) -> None:
    """Stoke and read."""
    session = turn.record.session
    if session is None or session.aim is None or session.ending or still_stands(turn):
        return
    if turn.now - session.lit_at > timedelta(hours=GONE_H):
        unattended(turn)
        return
    if session.silent is not None and session.silent.step == "unattended":
        _send(turn, repeat=True, late=0.0)
        turn.in_minutes(AlarmName.NUDGE, ASKED_AGAIN_MINUTES)
        return
    late = (turn.now - due) / timedelta(minutes=1)
    _send(turn, repeat=False, late=late if late >= LATE_FROM_MINUTES else 0.0)
    turn.in_minutes(AlarmName.REPEAT, REPEAT_MINUTES)


def come_back(turn: Turn) -> None:
    """Somebody can be told something again: the watch over a burning fire goes on at once."""
    session = turn.record.session
    if session is not None and not session.ending:
        turn.drop(AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
        nudge(turn, turn.now)


def repeat(turn: Turn) -> None:
    """The nudge went unanswered: once more."""
    session = turn.record.session
    if session is None or session.ending:
        return
    if session.nudged is None:
        _ask_anew(turn, session)
        return
    _send(turn, repeat=True, late=0.0)
    turn.in_minutes(AlarmName.SILENCE, TOLD_MINUTES)


def _ask_anew(turn: Turn, session: Session) -> None:
    """Somebody answered, but not with what was asked for: the watch over the fire goes on."""
    if session.aim is not None and not session.ending and session.died_at is None:
        turn.in_minutes(AlarmName.NUDGE, ANEW_MINUTES)


def _send(turn: Turn, *, repeat: bool, late: float) -> None:
    session = turn.record.session
    if session is None or session.aim is None:
        return
    aim = session.aim
    if asked_again(turn):
        turn.write(Nudged(at=turn.now, repeat=repeat))
        return
    if is_away(turn):
        turn.write(Nudged(at=turn.now, repeat=repeat))
        turn.at_fire(BackAsked(repeat=repeat))
        return
    reads = measures(turn)
    # Who can read is asked to read; only by time alone is anything decided without an answer.
    decision = None if reads else decide(ground(turn))
    adds = decision is not None and decision.action is Action.ADD and not repeat and late == 0.0
    turn.write(Nudged(at=turn.now, repeat=repeat))
    if decision is not None and decision.action in (Action.HOLD_DONE, Action.LOOK_FOR_SOOT):
        advise(turn)
        return
    if decision is not None and adds:
        turn.write(Advised(at=turn.now, action=Action.ADD, kg=decision.kg, pieces=decision.pieces))
    at_hand_kg = ready_kg(ground(turn), aim) if reads and _may_be_fed(turn) else 0.0
    turn.at_fire(
        Nudge(
            aim=aim,
            read=reads,
            ready_kg=at_hand_kg or None,
            ready_pieces=min(aim.charge_pieces, pieces_of(at_hand_kg, aim.piece_mm))
            if at_hand_kg
            else None,
            kg=decision.kg if decision is not None and adds else None,
            pieces=decision.pieces if decision is not None and adds else None,
            piece_mm=aim.piece_mm,
            side=reads and not repeat and side_wanted(session, turn.now),
            repeat=repeat,
            late_minutes=round(late, 1),
        ),
        expires=turn.now + FRESH if decision is not None and adds else None,
    )
    show_status(turn, Action.READ_AGAIN if reads else None, turn.now)


def _may_be_fed(turn: Turn) -> bool:
    """Whether wood may follow from a fresh number alone: only then it is worth having ready."""
    why = forbids_wood(ground(turn))
    return why is None or why.what in SETTLED_BY_A_NUMBER


def told_others(turn: Turn) -> None:
    """The repeat went unanswered too: the builder and the second person are told."""
    session = turn.record.session
    if session is None:
        return
    if session.nudged is None:
        _ask_anew(turn, session)
        return
    silent_for = (turn.now - session.heard_at) / timedelta(minutes=1)
    turn.write(Silent(at=turn.now, step="told"))
    turn.alert(Concern.SILENT, session.heard_at, minutes=round(silent_for))
    for person in turn.record.tenders[1:]:
        turn.say(SecondTold(minutes=round(silent_for), top_c=session.top_c), person, Urgency.FIRE)
    turn.in_minutes(AlarmName.UNATTENDED, UNATTENDED_MINUTES)


def unattended(turn: Turn) -> None:
    """Taken to be unattended: asked about only now and then; a word at any time is welcome."""
    session = turn.record.session
    if session is None:
        return
    silent_for = (turn.now - session.heard_at) / timedelta(minutes=1)
    turn.write(Silent(at=turn.now, step="unattended"))
    told = Unattended(minutes=round(silent_for), read=measures(turn))
    turn.say(told, TENDERS, Urgency.FIRE, replaces="fire")
    turn.drop(AlarmName.NUDGE, AlarmName.REPEAT, AlarmName.SILENCE)
    turn.in_minutes(AlarmName.EMBERS, LEFT_ALONE_MINUTES)
    if turn.now - session.lit_at < timedelta(hours=GONE_H):
        turn.in_minutes(AlarmName.NUDGE, ASKED_AGAIN_MINUTES)
