"""The one road: a happening comes to an oven, and this is all that follows."""

from datetime import datetime, timedelta

from scheduling.advance import (
    after,
    cases,
    days,
    filling,
    hazards,
    lighting,
    orders,
    people,
    questions,
    reckoning,
    setup,
    silence,
    unsettled,
    ways,
)
from scheduling.advance.asking_again import ask_again
from scheduling.advance.confirming import confirm
from scheduling.advance.promising import promise, remind
from scheduling.advance.speaking import speak
from scheduling.advance.turn import Turn
from scheduling.advance.undo import remind_of_danger, replaced
from scheduling.alarm import AlarmName
from scheduling.choice import (
    Agreeing,
    Casing,
    Command,
    Confirm,
    Filling,
    Jotting,
    LookingAfter,
    Ordering,
    Repairing,
    Restricting,
    Saying,
    SetUpAnswer,
    Talking,
    Tending,
)
from scheduling.happening import (
    CAME_BACK,
    HEARD,
    Begun,
    Came,
    Chose,
    Delivery,
    Forecasted,
    Happening,
    Spoke,
    WaysTaken,
    WentUnheard,
)
from scheduling.journal import Reached, Repaired
from scheduling.meaning import CureDone
from scheduling.outcome import TENDERS, Outcome, Urgency
from scheduling.oven.maturity import Standing
from scheduling.record import Record
from scheduling.record.outlook import look_ahead
from scheduling.record.standing import Concern


def advance(record: Record, happening: Happening, now: datetime) -> Outcome:
    """What follows from ``happening`` for the oven of ``record`` at ``now`` (UTC).

    Pure: the same record, happening and instant give the same outcome. A message or press whose
    key is already in the journal has had its effect, and nothing follows.
    """
    match happening:
        case Begun():
            turn = Turn(record, now, happening.person)
            setup.begin(turn, happening)
        case Spoke():
            if happening.key is not None and happening.key in record.keys:
                return Outcome()
            turn = Turn(
                record, now, happening.person, happening.amends or happening.key, happening.sent_at
            )
            if happening.amends is not None:
                replaced(turn, happening.amends)
            _heard(turn)
            turn.words = happening.text
            turn.unheard, turn.likely = happening.unheard, happening.likely
            speak(turn, happening.remarks, happening.doubt, happening.photo, happening.text)
            if happening.amends is not None:
                remind_of_danger(turn, happening.amends)
            cases.overheard(turn, happening.text, happening.photo)
            cases.pictured(turn, happening.photo)
            ask_again(turn, record.question)
        case WentUnheard():
            turn = Turn(record, now, happening.person, happening.key)
            unsettled.unheard(turn)
        case Chose():
            if happening.key is not None and happening.key in record.keys:
                return Outcome()
            turn = Turn(record, now, happening.person, happening.key)
            _heard(turn)
            _chose(turn, happening)
            if isinstance(happening.choice, Command):
                ask_again(turn, record.question)
        case WaysTaken():
            turn = Turn(record, now, happening.person)
            ways.taken(turn, happening)
        case Came():
            turn = Turn(record, now)
            _came(turn, happening)
        case Forecasted():
            turn = Turn(record, now)
            days.forecasted(turn, happening.forecast)
        case Delivery():
            turn = Turn(record, now)
            _delivered(turn, happening)
    cases.mind(turn)
    return turn.outcome()


def _chose(turn: Turn, chose: Chose) -> None:
    match chose.choice:
        case Saying(remarks=remarks):
            speak(turn, remarks, None, None, "")
        case SetUpAnswer() as answer:
            setup.answer(turn, answer)
        case Filling() as filled:
            filling.fill(turn, filled)
        case Confirm() as choice:
            confirm(turn, choice)
        case Command() as command:
            questions.command(turn, command, chose.shown_at)
        case Ordering() as ordering:
            orders.order(turn, ordering)
        case Restricting() as restriction:
            days.restricting(turn, restriction)
        case Repairing() as repair:
            turn.write(
                Repaired(at=turn.now, by=turn.by, wet_work_ended=repair.ended, what=repair.what)
            )
            outlook = promise(turn, "repair")
            setup.tell_plan(turn, outlook, "repair")
        case Tending() as tending:
            people.tending(turn, tending)
        case LookingAfter() as looking:
            people.looking_after(turn, looking)
        case Agreeing() as agreeing:
            people.agreeing(turn, agreeing)
        case Casing() as casing:
            cases.case(turn, casing)
        case Jotting() as note:
            cases.jot(turn, note)
        case Talking() as talking:
            cases.talk(turn, talking)
        case _:
            # A matter of people, which no oven hears of.
            questions.not_understood(turn)


def _came(turn: Turn, came: Came) -> None:
    match came.name:
        case AlarmName.SET_UP:
            setup.remind(turn)
        case AlarmName.CURE:
            _cure(turn)
        case AlarmName.DAY_BEFORE:
            lighting.evening_before(turn)
        case AlarmName.MORNING:
            lighting.morning(turn)
        case AlarmName.NUDGE:
            silence.nudge(turn, came.due)
        case AlarmName.REPEAT:
            silence.repeat(turn)
        case AlarmName.SILENCE:
            silence.told_others(turn)
        case AlarmName.UNATTENDED:
            silence.unattended(turn)
        case AlarmName.EMBERS:
            after.embers(turn)
        case AlarmName.DAYS:
            lighting.day_passed(turn)
        case AlarmName.ORDERED:
            reckoning.reckon(turn)
        case AlarmName.IDLE:
            days.idle(turn)
        case AlarmName.FOLLOW_UP:
            hazards.follow_up(turn)
        case AlarmName.PARTING:
            people.parting(turn)
        case AlarmName.CASE:
            cases.look(turn)


def _cure(turn: Turn) -> None:
    """How the mortar stands; once it is ready, the first day."""
    if turn.record.makeup is None or turn.record.finished:
        return
    outlook = look_ahead(turn.record, turn.now)
    cured = outlook.cure
    if cured is None:
        return
    if cured.standing is Standing.READY:
        outlook = promise(turn, "cure", outlook)
        first = outlook.next
        turn.say(CureDone(first=None if first is None else first.day), TENDERS, Urgency.CALM)
        return
    setup.tell_cure(turn, cured)
    promise(turn, "cure", outlook)
    if cured.standing in (Standing.FROZEN, Standing.TOO_COLD):
        turn.set(AlarmName.CURE, turn.now + timedelta(days=7))


def _delivered(turn: Turn, delivery: Delivery) -> None:
    """Somebody cannot be reached, or can again."""
    lost = any(one.person == delivery.person for one in turn.record.unreached)
    if delivery.reached != lost:
        return
    turn.write(
        Reached(at=turn.now, person=delivery.person, reached=delivery.reached, why=delivery.why)
    )
    if not delivery.reached:
        turn.alert(Concern.UNDELIVERED, turn.now, detail=delivery.why)
        return
    remind(turn)
    if delivery.why == CAME_BACK:
        silence.come_back(turn)


def _heard(turn: Turn) -> None:
    """Whoever speaks is within reach, whatever became of our messages to them."""
    if any(one.person == turn.by for one in turn.record.unreached):
        turn.write(Reached(at=turn.now, person=turn.by, reached=True, why=HEARD))
