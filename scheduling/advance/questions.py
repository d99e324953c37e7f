"""Questions and commands, answered from the state of this oven."""

from datetime import datetime, timedelta
from itertools import takewhile
from typing import Literal

from scheduling.advance import showing
from scheduling.advance.barring import barred, forbidden
from scheduling.advance.burning import measures
from scheduling.advance.lighting import first_look, next_aim
from scheduling.advance.set_up_questions import settings_of
from scheduling.advance.setup import ask_next, correct, plan_told, tell_cure, tell_indoors
from scheduling.advance.turn import Turn
from scheduling.advance.undo import undo
from scheduling.choice import About, Command, CommandName
from scheduling.firing.advice import FRESH
from scheduling.firing.aim import Action
from scheduling.firing.session import crown_c
from scheduling.hazard import Hazard
from scheduling.journal import Advised, CrackSeen, Noted
from scheduling.meaning import (
    Answer,
    DaysShown,
    HelpShown,
    NotUnderstood,
    NowTold,
    PictureShown,
    RecordShown,
    SettingsShown,
)
from scheduling.oven.maturity import Standing
from scheduling.record import Phase, wall
from scheduling.record.need import phase_of
from scheduling.record.outlook import bounds_of, look_ahead
from scheduling.remark import CrackSize, Topic

JUST_ASKED = timedelta(minutes=8)
"""So long somebody may still be fetching the wood that was asked for (own choice)."""

CRACKED = (Hazard.CRACK, Hazard.CRACK_UNSAID)

WHAT_COMES = (Topic.PLAN, Topic.NEXT, Topic.LIGHTING)
"""Questions that an oven indoors has one answer to."""

WORST_FIRST = (CrackSize.OPEN, CrackSize.UNSAID, CrackSize.HAIRLINE)


def question(turn: Turn, topic: Topic) -> None:
    """Answer from the state of their own oven."""
    record, now = turn.record, turn.now
    phase, session = phase_of(record, now), record.session
    if topic in WHAT_COMES and _indoors_at_rest(turn):
        tell_indoors(turn)
        return
    if topic is Topic.PLAN and session is None and record.makeup is not None:
        turn.say(plan_told(turn, look_ahead(record, now), "asked"))
        return
    outlook = look_ahead(record, now) if record.makeup is not None else None
    following = outlook.next if outlook is not None else None
    cured = outlook.cure if outlook is not None else None
    last = record.last_believed
    cracks = [one.size for one in record.all_of(CrackSeen)]
    worst = next(
        (s for s in (CrackSize.OPEN, CrackSize.UNSAID, CrackSize.HAIRLINE) if s in cracks), None
    )
    aim = session.aim if session is not None else (following.aim if following else None)
    top_c = crown_c(last) if last is not None else None
    says = wall.says(record, bounds_of(record), now) if session is not None else None
    left = wall.water_left_l(record, now)
    promise = next((one for one in record.promise if one.day >= record.today(now)), None)
    turn.say(
        Answer(
            topic=topic,
            phase=phase.value,
            lit=session is not None,
            allowed=_allowed(turn, topic, phase),
            aim=aim,
            next_day=promise.day if promise is not None else None,
            next_start=promise.start if promise is not None else None,
            ready_on=cured.ready_on if cured and cured.standing is not Standing.READY else None,
            top_c=top_c,
            top_at=last.at if last is not None else None,
            climb_c_per_h=session.climb_k_h if session is not None else None,
            limit_c_per_h=bounds_of(record).climb_cap(top_c if top_c is not None else 20.0),
            held_h=session.held_h(now) if session is not None else None,
            water_left_l=left,
            steam_share=says.steam_share if says is not None else None,
            crack=worst.value if worst is not None else None,
            door_on=record.door_on,
            action=_action(turn),
            left=len(outlook.dated) if outlook is not None else None,
            flue=record.flue,
        )
    )


def _indoors_at_rest(turn: Turn) -> bool:
    """Whether no fire is to come because of where the oven stands, and none burns."""
    record = turn.record
    return record.indoors and record.session is None and record.makeup is not None


def _allowed(turn: Turn, topic: Topic, phase: Phase) -> bool | None:
    """Whether what is asked for may be done; where in doubt, not."""
    record, session = turn.record, turn.record.session
    match topic:
        case Topic.COOKING:
            return phase is Phase.DONE
        case Topic.LEAVING:
            return session is None or session.died_at is not None
        case Topic.SKIP_DAY:
            return session is None
        case Topic.LIGHTING:
            return session is None and barred(turn, turn.now) is None and record.makeup is not None
        case Topic.DOOR:
            return session is None or session.ending
        case Topic.FIRE_SIZE:
            return None
        case Topic.CRACK:
            return not any(one.what in CRACKED for one in record.hazards)
        case Topic.RESTRICTIONS:
            return None
        case _:
            return None


def _action(turn: Turn) -> Action | None:
    """The last advice, while it is fresh. Of an ADD the amount is never told twice."""
    session = turn.record.session
    if session is None:
        return None
    if not session.advised:
        return Action.WAIT if _next_look(turn) is not None else None
    last = session.advised[-1]
    if last.action is Action.ADD and turn.now - last.at <= JUST_ASKED:
        if session.stokes and session.stokes[-1].at >= last.at:
            return Action.WAIT
        if _still_stands(turn, last):
            return Action.ADD
    if last.action is Action.ADD or turn.now - last.at > 3 * FRESH:
        return Action.READ_AGAIN if measures(turn) and not session.ending else Action.WAIT
    return last.action


def _still_stands(turn: Turn, asked: Advised) -> bool:
    """Whether wood that was just asked for may go on: nothing but small talk was heard since."""
    since = takewhile(lambda entry: entry != asked, reversed(turn.record.entries))
    return forbidden(turn) is None and all(isinstance(entry, Noted) for entry in since)


def _next_look(turn: Turn) -> datetime | None:
    """When the fire is asked after next, as its owner was told; None where nothing stands."""
    session = turn.record.session
    if session is None:
        return None
    if session.advised:
        last = session.advised[-1]
        return last.at + timedelta(minutes=last.minutes) if last.minutes else None
    if session.aim is None or session.nudged is not None:
        return None
    first = first_look(turn, session.aim, session.lit_at)
    return first if first > turn.now else None


def now_told(turn: Turn) -> None:
    """What to do at this moment."""
    record, now = turn.record, turn.now
    phase, session = phase_of(record, now), record.session
    if phase is Phase.SET_UP:
        ask_next(turn)
        return
    outlook = look_ahead(record, now)
    cured, last = outlook.cure, record.last_believed
    promise = next((one for one in record.promise if one.day >= record.today(now)), None)
    aim = session.aim if session is not None else next_aim(turn)
    turn.say(
        NowTold(
            phase=phase.value,
            aim=aim,
            next_day=promise.day if promise is not None else None,
            next_start=promise.start if promise is not None else None,
            ready_on=cured.ready_on if cured and cured.standing is not Standing.READY else None,
            action=_action(turn),
            next_at=_next_look(turn),
            top_c=crown_c(last) if last is not None else None,
            top_at=last.at if last is not None else None,
            hazard=record.hazards[0].what if record.hazards else None,
            flue=record.flue,
        )
    )
    if cured is not None and phase is Phase.CURING:
        tell_cure(turn, cured)


def command(turn: Turn, said: Command, shown_at: datetime | None = None) -> None:
    """A command of our own; ``shown_at`` is when its button was offered, where one was pressed."""
    record, now = turn.record, turn.now
    match said.name:
        case CommandName.SETTINGS if said.rest.strip().lower() in set(About):
            correct(turn, About(said.rest.strip().lower()))
        case CommandName.SETTINGS if said.rest.strip().lower() == "all":
            turn.say(SettingsShown(answers=settings_of(record)))
        case CommandName.START | CommandName.SETTINGS:
            ask_next(turn)
        case CommandName.HELP:
            phase = phase_of(record, now)
            turn.say(HelpShown(phase=phase.value, lit=record.session is not None))
        case CommandName.NOW | CommandName.PLAN | CommandName.DAYS if _indoors_at_rest(turn):
            tell_indoors(turn)
        case CommandName.NOW:
            now_told(turn)
        case CommandName.PLAN:
            question(turn, Topic.PLAN) if record.makeup is not None else ask_next(turn)
        case CommandName.DAYS:
            outlook = look_ahead(record, now)
            cured = outlook.cure
            ready = cured.ready_on if cured and cured.standing is not Standing.READY else None
            turn.say(DaysShown(lines=showing.lines(outlook), ready_on=ready))
        case CommandName.PICTURE:
            shown = showing.firing(record.sessions[-1]) if record.sessions else None
            turn.say(PictureShown(shown=shown))
        case CommandName.RECORD:
            turn.say(RecordShown(firings=len(record.sessions), form=_form(said.rest)))
        case CommandName.UNDO:
            undo(turn, shown_at)
        case _:
            # Theirs alone to answer who keep people and cards: the conversation.
            not_understood(turn)


def _form(told: str) -> Literal["pdf", "csv", "json"]:
    """The form in which a record was asked for; a paper where none was named."""
    match told.strip().lower():
        case "csv":
            return "csv"
        case "json":
            return "json"
    return "pdf"


def not_understood(turn: Turn) -> None:
    """Nothing could be made of it; what would help now."""
    phase = phase_of(turn.record, turn.now)
    lit = turn.record.session is not None
    turn.say(NotUnderstood(phase=phase.value, lit=lit, read=measures(turn)))
