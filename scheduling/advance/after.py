"""The end of a firing: burning down, the door, what was reached, and what comes next."""

from dataclasses import replace
from datetime import datetime, timedelta

from scheduling.advance import showing
from scheduling.advance.burning import measures, show_status, show_status_of
from scheduling.advance.hazards import still_stands
from scheduling.advance.people import ask_keeping
from scheduling.advance.promising import promise
from scheduling.advance.teaching import teach
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.breakin.walltime import local_day
from scheduling.firing.aim import Action
from scheduling.firing.session import Session, completed, crown_c
from scheduling.journal import (
    Advised,
    Asked,
    DoorMoved,
    Finished,
    FireDied,
    FiringEnded,
    Seen,
    Settled,
)
from scheduling.meaning import (
    Advice,
    BreakInDone,
    DaysShown,
    DoorNoted,
    FinishedTold,
    FiringDone,
    Noted,
    SignTold,
    StoppedForNow,
    Why,
)
from scheduling.outcome import BUILDER, TENDERS, Urgency
from scheduling.record import Phase, wall
from scheduling.record.hazards import keeps_away
from scheduling.record.need import phase_of
from scheduling.record.outlook import Outlook, bounds_of, look_ahead

HELD_ENOUGH = 0.5
"""Share of the hold that counts as a firing done (own choice)."""

CLEAR_C = 385.0
"""At the crown soot is gone from here on, whoever looked (common practice: about 400 °C at the
hottest, which a reading between two stokings falls short of)."""

HOT_C = 340.0
"""A last fire was hot, if not hot enough for soot, with the crown at this (own choice)."""

STOP_AFTER = 6
"""Fires in a row that ended before their time, after which somebody should think again (own
choice)."""

LAST_ONES_MOST = 3
"""Last fires held, after which the break-in is done whatever the soot (own choice)."""

EMBERS_AGAIN_MINUTES = 60.0
IDLE_D = 60
CAME_WITHIN_K = 45.0
"""A dry dome that came so near to its aim has taken that step: the next one is no bigger than
those that are planned (own choice)."""

SAME_FIRE_K = 5.0
"""Two aims this near to each other are the same fire."""


def fire_out(turn: Turn, at: datetime) -> None:
    """The fire has died."""
    session = turn.record.session
    if session is None:
        turn.say(Noted(what="fire_out"))
        return
    turn.write(FireDied(at=at, by=turn.by))
    if session.ending or session.too_early or _held_share(session, at) >= HELD_ENOUGH:
        end(turn)
        return
    if at - session.lit_at < timedelta(minutes=60) and not session.believed:
        # It never caught: nothing is spoilt, it may be lit again.
        turn.say(Noted(what="fire_out"))
        turn.in_minutes(AlarmName.EMBERS, 90.0)
        turn.drop(AlarmName.NUDGE, AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
        return
    end(turn)


def door(turn: Turn, on: bool) -> None:
    """The door goes on or comes off."""
    session = turn.record.session
    turn.write(DoorMoved(at=turn.at, by=turn.by, on=on))
    if session is None or not on or keeps_away(turn.record.hazards):
        turn.say(DoorNoted(on=on))
        return
    if session.ending or session.died_at is not None:
        end(turn)
        return
    turn.at_fire(DoorNoted(on=True, early=True))


def embers(turn: Turn) -> None:
    """The fire has had time to burn down: the door, and later the end without a word."""
    session = turn.record.session
    if session is None:
        return
    if still_stands(turn):
        turn.in_minutes(AlarmName.EMBERS, 120.0)
        return
    if session.silent is not None and session.silent.step == "unattended":
        end(turn)
        return
    asked_before = any(one.action is Action.SHUT_DOOR for one in session.advised)
    if asked_before or (session.aim is None and turn.now - session.lit_at > timedelta(hours=4)):
        end(turn)
        return
    turn.write(Advised(at=turn.now, action=Action.SHUT_DOOR))
    turn.write(Asked(at=turn.now, what="door", expect="door"))
    if session.aim is not None:
        turn.at_fire(
            Advice(
                action=Action.SHUT_DOOR,
                why=Why(what="finishing"),
                top_c=session.top_c,
                aim=session.aim,
                held_h=session.held_h(turn.now),
                look=session.aim.last and not session.soot_seen,
            )
        )
        show_status(turn, Action.SHUT_DOOR, None)
    turn.in_minutes(AlarmName.EMBERS, EMBERS_AGAIN_MINUTES)


def _held_share(session: Session, at: datetime) -> float:
    if session.aim is None:
        return 0.0
    return session.held_h(at) / max(0.1, session.aim.hold_h)


def _tried_before(turn: Turn, session: Session) -> bool:
    """Whether the firing before had the same aim and came there, short of its time."""
    before = turn.record.ended_sessions[-1:]
    return bool(before) and (
        session.aim is not None
        and before[0].aim is not None
        and before[0].ended is not None
        and before[0].ended.why == "short"
        and not before[0].ended.completed
        and before[0].aim.plateau_c >= session.aim.plateau_c - 5.0
        and (before[0].peak_c or 0.0) >= before[0].aim.low_c
    )


def _held_together(turn: Turn, session: Session, at: datetime) -> bool:
    """Whether this firing and those before it with the same aim were held long enough in all:
    what has dried stays dry. Of the last one no hour counts twice, for soot wants one hot fire."""
    aim = session.aim
    if aim is None or aim.last:
        return False
    held_h = session.held_h(at)
    for before in reversed(turn.record.ended_sessions):
        same = before.aim is not None and before.aim.plateau_c >= aim.plateau_c - SAME_FIRE_K
        if before.ended is None or before.ended.completed or not same:
            break
        held_h += before.ended.held_h
    return held_h >= HELD_ENOUGH * aim.hold_h


def _counts(turn: Turn, session: Session, at: datetime, why: str) -> bool:
    """Whether a fire did what it was for. In a dry dome that is to have been nearly as hot as it
    was meant to: holding is for drying, and for soot. In a wet one it is the time as well; twice
    there and not held for long is as much as this fire and this owner give."""
    aim, peak_c = session.aim, session.peak_c
    if not session.readings:
        return why == "held"
    if aim is None or peak_c is None or why not in ("held", "short"):
        return False
    if wall.dried(turn.record, bounds_of(turn.record), turn.now):
        return peak_c >= aim.plateau_c - CAME_WITHIN_K
    if peak_c < aim.low_c - 10.0:
        return False
    return why == "held" or _tried_before(turn, session) or _held_together(turn, session, at)


def _why(session: Session, at: datetime) -> str:
    if session.too_early or session.aim is None:
        return "too_early"
    if session.silent is not None and session.silent.step == "unattended":
        return "unattended"
    if session.stopped:
        return "stopped"
    return "held" if _held_share(session, at) >= HELD_ENOUGH else "short"


def end(turn: Turn) -> None:
    """A firing is over: what it reached, and what comes next."""
    session = turn.record.session
    if session is None:
        return
    at = session.died_at or turn.now
    why, aim = _why(session, at), session.aim
    done = _counts(turn, session, at, why)
    seen = session.soot_seen[-1:]
    clear = seen == ("soot_clear",)
    cleared = clear or (not seen and _hot_enough(session))
    turn.write(
        FiringEnded(
            at=turn.now,
            by=turn.by,
            firing=aim.number if aim is not None else 0,
            aim_c=aim.plateau_c if aim is not None else 0.0,
            peak_c=session.peak_c,
            held_h=round(session.held_h(at), 2),
            completed=done,
            why=why,
            soot_clear=cleared,
        )
    )
    turn.drop(
        AlarmName.NUDGE,
        AlarmName.REPEAT,
        AlarmName.SILENCE,
        AlarmName.UNATTENDED,
        AlarmName.EMBERS,
    )
    if aim is None:
        promise(turn, "too_early")
        turn.say(Noted(what="fire_out"))
        return
    last_one = aim.last and done
    if last_one and (clear or _often_enough(turn)):
        finish(turn, session, clear=clear)
        return
    before_c = turn.record.promise[1].plateau_c if len(turn.record.promise) > 1 else None
    fallen_short = _fallen_short(turn)
    if fallen_short and fallen_short % STOP_AFTER == 0:
        ask_to_go_on(turn)
    ahead = look_ahead(turn.record, turn.now)
    if last_one and _enough_unseen(turn):
        # Nobody has looked: no day is named while the soot is asked after.
        ahead = replace(ahead, dated=())
    outlook = promise(turn, "ended", ahead)
    _tell(turn, why, outlook, before_c, ask_soot=last_one)
    if turn.record.stopped_for_now:
        last = turn.record.ended_sessions[-STOP_AFTER:]
        attended = all(one.ended is not None and one.ended.why != "unattended" for one in last)
        turn.say(
            StoppedForNow(firings=fallen_short, attended=attended, proposal=_stopped(turn)),
            TENDERS,
        )


def ask_to_go_on(turn: Turn) -> None:
    """No day is laid until somebody says so."""
    turn.write(Asked(at=turn.now, what=_stopped(turn), expect="yes-no", proposal=_stopped(turn)))


def stop_for_days_gone(turn: Turn, days: int) -> None:
    """Day after day went by without a fire: no more are laid for now."""
    ask_to_go_on(turn)
    promise(turn, "slipped")
    turn.say(StoppedForNow(days=days, proposal=_stopped(turn)), TENDERS)


def _stopped(turn: Turn) -> str:
    return f"stopped:{turn.record.today(turn.now)}"


def _hot_enough(session: Session) -> bool:
    """Whether two believed readings were as hot as soot needs: one alone may be a flame."""
    return _twice_at(session, CLEAR_C - 10.0)


def _twice_at(session: Session, hot_c: float) -> bool:
    tops = sorted(top for one in session.believed if (top := crown_c(one)) is not None)
    return len(tops) > 1 and tops[-2] >= hot_c


def _fallen_short(turn: Turn) -> int:
    """How many fires in a row ended before their time."""
    count = 0
    for one in reversed(turn.record.ended_sessions):
        if one.ended is None or one.ended.completed:
            break
        count += 1
    return count


def gone_on(turn: Turn) -> None:
    """Days again, after a stop for now."""
    outlook = promise(turn, "went_on")
    turn.say(DaysShown(lines=showing.lines(outlook)))


def _tell(
    turn: Turn, why: str, outlook: Outlook, before_c: float | None, *, ask_soot: bool
) -> None:
    session = turn.record.sessions[-1]
    shown = showing.firing(session)
    if shown is None:
        return
    show_status_of(turn, shown)
    # What has to be looked at, or is on hold, has no day.
    held = phase_of(turn.record, turn.now) is Phase.HELD
    following = None if held or ask_soot else outlook.next
    turn.say(
        FiringDone(
            shown=shown,
            why=why,
            door_on=session.door_on,
            next_aim=None if following is None else following.aim,
            next_day=None if following is None else following.day,
            change=_change(session, why, following.aim.plateau_c if following else None, before_c),
            embers=shown.aim.last,
            soot_clear=None if ask_soot else session.soot_seen[-1:] == ("soot_clear",),
            own=_own(turn),
        ),
        TENDERS,
        replaces="fire",
    )
    if ask_soot:
        turn.write(Asked(at=turn.now, what="soot", expect="yes-no", proposal="soot"))


def _own(turn: Turn) -> tuple[str, ...]:
    words = turn.record.own_words
    return () if words is None else words.after


def _change(session: Session, why: str, next_c: float | None, before_c: float | None) -> str:
    """Why the next aim is what it is."""
    aim = session.aim
    if why in ("unattended", "short", "stopped", "weather", "time"):
        if aim is None or next_c is None or next_c < aim.plateau_c - SAME_FIRE_K:
            return "unattended" if why == "unattended" else "short"
        return "repeat" if next_c <= aim.plateau_c + SAME_FIRE_K else "as_planned"
    if aim is not None and session.peak_c is not None and session.peak_c > aim.high_c + 15.0:
        return "hot"
    if before_c is not None and next_c is not None and next_c < before_c - 5.0:
        return "steam"
    return "as_planned"


def finish(turn: Turn, session: Session, *, clear: bool) -> None:
    """The break-in is done; ``clear`` if somebody has seen the bare wall."""
    turn.write(Finished(at=turn.now))
    promise(turn, "done")
    fires = turn.record.ended_sessions
    first = local_day(fires[0].lit_at, turn.record.zoneinfo)
    days = (turn.record.today(turn.now) - first).days + 1
    shown = showing.firing(turn.record.sessions[-1])
    if shown is not None:
        show_status_of(turn, shown)
        turn.say(
            FiringDone(
                shown=shown,
                why="held",
                door_on=session.door_on,
                change="done",
                embers=True,
                soot_clear=clear,
                own=_own(turn),
            ),
            TENDERS,
            replaces="fire",
        )
    peaks = [one.peak_c for one in fires if one.peak_c is not None]
    turn.say(
        BreakInDone(
            firings=len(fires),
            days=days,
            peak_c=max(peaks, default=None),
            soot_clear=clear,
        ),
        TENDERS,
        Urgency.CALM if not turn.by else Urgency.ANSWER,
    )
    turn.say(
        FinishedTold(
            oven=turn.record.name,
            place=turn.record.place,
            firings=len(completed(fires)),
            days=days,
            peak_c=max(peaks, default=None),
            soot_clear=clear,
            keeps=turn.record.agreed,
        ),
        BUILDER,
        Urgency.CALM,
    )
    turn.set(AlarmName.IDLE, turn.now + timedelta(days=IDLE_D))
    ask_keeping(turn)
    teach(turn)


def soot(turn: Turn, clear: bool) -> bool:
    """The soot is gone, or not. True if advice should follow."""
    question = turn.record.question
    session = turn.record.session
    turn.write(Seen(at=turn.at, by=turn.by, what="soot_clear" if clear else "soot_black"))
    if question is not None and question.what == "soot":
        turn.write(Settled(at=turn.now, what="soot", yes=clear))
        if clear and turn.record.ended_sessions:
            finish(turn, turn.record.ended_sessions[-1], clear=True)
        else:
            turn.say(DaysShown(lines=showing.lines(promise(turn, "ended"))))
        return False
    if session is not None and session.advised and _looks_for_soot(session):
        return True
    early = session is not None and session.aim is not None and not session.aim.last
    what = "soot_clear" if clear else "soot_black"
    turn.say(SignTold(what=what, lit=session is not None, early=early))
    return session is not None and not measures(turn)


def _last_ones_held(turn: Turn) -> int:
    """How many last fires were held their time, in a dome that was seen to be hot: of one that
    nobody has read, only a bare wall tells that it was."""
    fires = completed(turn.record.ended_sessions)
    return sum(one.aim is not None and one.aim.last and _twice_at(one, HOT_C) for one in fires)


def _often_enough(turn: Turn) -> bool:
    """Whether a third last fire was held: what is still black then is left to later fires, and
    where the thermometer ends below what soot needs no further fire would clear it."""
    return _last_ones_held(turn) >= LAST_ONES_MOST


def _enough_unseen(turn: Turn) -> bool:
    """Whether the last fire, of which nobody has seen what it left, was hot enough for soot, or
    the second that was held."""
    fires = turn.record.ended_sessions
    often = _last_ones_held(turn) > 1
    return not fires[-1].soot_seen and (_hot_enough(fires[-1]) or often)


def unseen_till_morning(turn: Turn) -> bool:
    """After a night without a word about the soot, a last fire that was hot enough counts as
    the last, and so does the second that was held. True if that ended the break-in."""
    question, fires = turn.record.question, turn.record.ended_sessions
    if question is None or question.what != "soot" or not fires:
        return False
    if not _enough_unseen(turn):
        return False
    turn.write(Settled(at=turn.now, what="soot"))
    finish(turn, fires[-1], clear=False)
    return True


def _looks_for_soot(session: Session) -> bool:
    return session.advised[-1].action is Action.LOOK_FOR_SOOT


def only_embers(turn: Turn) -> bool:
    """Somebody looked in: no wood lies there any more. True if advice should follow."""
    session = turn.record.session
    if session is None or session.ending:
        fire_out(turn, turn.at)
        return False
    turn.write(Seen(at=turn.at, by=turn.by, what="only_embers"))
    return True
