"""What the builder's side does about an oven: cases, notes, and talk with its owner.

A danger is told at once: to whoever has the case, else to the whole team. Where nobody does
anything about it, all of them are told again, and again more seldom.
"""

from datetime import datetime, timedelta

from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.choice import Casing, Jotting, Talking
from scheduling.journal import (
    Alerted,
    CaseClosed,
    CaseHandedBack,
    CaseRung,
    CaseTaken,
    Jotted,
    TalkClosed,
    TalkOpened,
    TalkSaid,
)
from scheduling.meaning import (
    Alert,
    BuilderLeft,
    BuilderSays,
    CaseTold,
    JottedTold,
    OwnerSays,
    PhotoCame,
    TalkTold,
)
from scheduling.outcome import BUILDER, TENDERS, Urgency
from scheduling.record import Need, Record
from scheduling.record.case import Case, attention_of
from scheduling.record.need import UNANSWERED, at_once, holds_up, needs_of
from scheduling.record.standing import Concern

RING_AGAIN_MINUTES = (10.0, 20.0, 40.0, 60.0, 60.0, 60.0)
"""A danger that nobody has taken is told to all of the team again after each of these (own
choice); afterwards it stays at the head of the list, and in the morning's digest."""

EVERYBODY_AT = 2
"""The same of a case that somebody has: they alone are told once more, then all of the team (own
choice)."""

LONGEST_SAID = 500
"""Characters of an owner's words that are handed on, as many as are noted."""


# ---------------------------------------------------------------- looking again


def look(turn: Turn) -> None:
    """Nobody has taken it: the whole team is told again. Or it is over, and nothing is said."""
    due = _next_ring(turn.record, turn.now)
    if due is None or due > turn.now:
        return
    needed = _untaken(turn.record, turn.now)
    if needed is None:
        return
    need, alerted_at, since = needed
    step = 1 + _rung(turn.record, alerted_at)
    turn.write(CaseRung(at=turn.now, needs=need.value, step=step))
    silent_for = (
        round((turn.now - since) / timedelta(minutes=1)) if need is Concern.SILENT else None
    )
    everybody = turn.record.case is None or step >= EVERYBODY_AT
    turn.tell_team(need, since, everybody=everybody, again=step, minutes=silent_for)


def mind(turn: Turn) -> None:
    """Set the next look: at a danger that nobody has taken, or at a question left open."""
    record = turn.record
    if record.builder is None:
        return
    # By somebody's word alone: a silent fire whose time has passed is no good news of anybody.
    if record.case is not None and turn.by and not needs_of(record, turn.now):
        _over(turn, record.case)
    times = [due for due in (_next_ring(record, turn.now), _unanswered(record, turn.now)) if due]
    if times:
        turn.set(AlarmName.CASE, min(times))


def _over(turn: Turn, holding: Case) -> None:
    """What the case was about is no more: whoever has it is told, and need not look again."""
    turn.write(CaseClosed(at=turn.now, why="over"))
    if turn.by != holding.by:
        told = CaseTold(what="over", oven=turn.record.name)
        turn.say(told, BUILDER, first=(holding.by,))


def _untaken(record: Record, now: datetime) -> tuple[Need, datetime, datetime] | None:
    """The most pressing danger about which nobody has done anything: when it was told of, and
    since when it stands."""
    attention = attention_of(record.facts)
    lit = record.session is not None
    for needed in needs_of(record, now):
        told = [
            one.at
            for one in record.all_of(Alerted)
            if one.needs == needed.what.value and one.at >= needed.since
        ]
        if not told or not at_once(needed.what, lit=lit):
            continue
        if attention.acted_at is not None and attention.acted_at >= told[-1]:
            continue
        dropped = attention.dropped_at or told[-1]
        return needed.what, max(told[-1], dropped), needed.since
    return None


def _rung(record: Record, alerted_at: datetime) -> int:
    return sum(one.at > alerted_at for one in record.all_of(CaseRung))


def _next_ring(record: Record, now: datetime) -> datetime | None:
    needed = _untaken(record, now)
    if needed is None:
        return None
    _, alerted_at, _ = needed
    rung = [one.at for one in record.all_of(CaseRung) if one.at > alerted_at]
    if len(rung) >= len(RING_AGAIN_MINUTES):
        return None
    return max([alerted_at, *rung]) + timedelta(minutes=RING_AGAIN_MINUTES[len(rung)])


def _unanswered(record: Record, now: datetime) -> datetime | None:
    """When a question that is open begins to need somebody."""
    question = record.question
    if question is None or not holds_up(question):
        return None
    due = question.at + UNANSWERED + timedelta(seconds=1)
    return due if due > now else None


# ---------------------------------------------------------------- cases


def case(turn: Turn, said: Casing) -> None:
    """Take a case, hand it back, or close it."""
    match said.what:
        case "take" | "take_over":
            _take(turn, said)
        case "hand_back":
            _hand_back(turn, said.name)
        case "close":
            _close(turn, said)


def _take(turn: Turn, said: Casing) -> None:
    """They have it: the others see so in place of the alert they were sent."""
    holding, oven = turn.record.case, turn.record.name
    needs = needs_of(turn.record, turn.now)
    if not needs:
        turn.say(CaseTold(what="none", oven=oven))
        return
    worst = needs[0].what.value
    if holding is not None and holding.by != turn.by and said.what == "take":
        held = CaseTold(what="held", oven=oven, by=holding.name, since=holding.since, needs=worst)
        turn.say(held)
        return
    turn.write(CaseTaken(at=turn.now, by=turn.by, name=said.name))
    told = CaseTold(what="taken", oven=oven, by=said.name, needs=worst, since=turn.now)
    turn.say(told.model_copy(update={"mine": True}))
    _tell_others(turn, told)
    if holding is not None and holding.by != turn.by:
        turn.say(told, BUILDER, first=(holding.by,), but=(turn.by,))


def acted(turn: Turn, name: str) -> None:
    """Whoever steps in where nobody has taken a danger has thereby taken it."""
    needs = needs_of(turn.record, turn.now)
    lit = turn.record.session is not None
    if turn.record.case is not None or not needs or not at_once(needs[0].what, lit=lit):
        return
    turn.write(CaseTaken(at=turn.now, by=turn.by, name=name))
    worst = needs[0].what.value
    _tell_others(
        turn,
        CaseTold(what="taken", oven=turn.record.name, by=name, needs=worst, since=turn.now),
    )


def _tell_others(turn: Turn, told: CaseTold) -> None:
    slot = turn.alert_slot()
    if slot is not None:
        turn.say(told, BUILDER, but=(turn.by,), replaces=slot, slot=slot, amends=True)


def _hand_back(turn: Turn, name: str) -> None:
    holding = turn.record.case
    oven = turn.record.name
    if holding is None:
        turn.say(CaseTold(what="none", oven=oven))
        return
    turn.write(CaseHandedBack(at=turn.now, by=turn.by, name=name))
    needs = needs_of(turn.record, turn.now)
    told = CaseTold(
        what="handed_back", oven=oven, by=name, needs=needs[0].what.value if needs else None
    )
    turn.say(told.model_copy(update={"mine": True}))
    pressing = bool(needs) and at_once(needs[0].what, lit=turn.record.session is not None)
    if needs:
        urgency = Urgency.DANGER if pressing else Urgency.CALM
        turn.say(told, BUILDER, urgency, but=(turn.by,))


def _close(turn: Turn, said: Casing) -> None:
    if turn.record.case is None:
        turn.say(CaseTold(what="none", oven=turn.record.name))
        return
    turn.write(CaseClosed(at=turn.now, by=turn.by, name=said.name, why=said.why))
    needs = needs_of(turn.record, turn.now)
    turn.say(
        CaseTold(
            what="closed",
            oven=turn.record.name,
            by=said.name,
            mine=True,
            needs=needs[0].what.value if needs else None,
        )
    )


# ---------------------------------------------------------------- notes and talk


def jot(turn: Turn, said: Jotting) -> None:
    """Keep a note; the owner sees it only where that was said."""
    turn.write(Jotted(at=turn.now, by=turn.by, text=said.text, name=said.name, shown=said.shown))
    turn.say(JottedTold(oven=turn.record.name, shown=said.shown))
    if said.shown:
        turn.say(BuilderSays(name=said.name, text=said.text, note=True), TENDERS)


def talk(turn: Turn, said: Talking) -> None:
    """Begin, go on with, or end a talk with the owner."""
    match said.what:
        case "open":
            _open(turn, said)
        case "say":
            _say(turn, said)
        case "close":
            _leave(turn, said)


def _open(turn: Turn, said: Talking) -> None:
    going = turn.record.talk
    oven = turn.record.name
    if going is not None and going.open(turn.now) and going.by != turn.by:
        turn.say(TalkTold(what="taken", oven=oven, by=going.name))
        return
    acted(turn, said.name)
    turn.write(TalkOpened(at=turn.now, by=turn.by, name=said.name))
    turn.say(TalkTold(what="open", oven=oven))


def _say(turn: Turn, said: Talking) -> None:
    going = turn.record.talk
    if going is None or not going.open(turn.now) or going.by != turn.by:
        acted(turn, said.name)
        turn.write(TalkOpened(at=turn.now, by=turn.by, name=said.name))
    turn.write(
        TalkSaid(
            at=turn.now, by=turn.by, side="builder", text=said.text, photo=said.photo,
            name=said.name,
        )
    )  # fmt: skip
    urgency = Urgency.FIRE if turn.record.session is not None else Urgency.ANSWER
    turn.say(BuilderSays(name=said.name, text=said.text, photo=said.photo), TENDERS, urgency)
    turn.say(TalkTold(what="passed", oven=turn.record.name))


def _leave(turn: Turn, said: Talking) -> None:
    going = turn.record.talk
    oven = turn.record.name
    if going is None or going.by != turn.by:
        turn.say(TalkTold(what="none", oven=oven))
        return
    turn.write(TalkClosed(at=turn.now, by=turn.by, name=said.name))
    turn.say(TalkTold(what="over", oven=oven))
    said_any = any(isinstance(one, TalkSaid) and one.at >= going.since for one in turn.record.facts)
    if said_any:
        turn.say(BuilderLeft(name=said.name), TENDERS)


def pictured(turn: Turn, photo: str | None) -> None:
    """A photo from an oven at which something stands open: whoever looks after that sees it."""
    told = [one for one in turn.record.hazards if one.alerted]
    if photo is None or not told or in_talk(turn) or turn.said([Alert]):
        return
    case, lit = turn.record.case, turn.record.session is not None
    came = PhotoCame(
        oven=turn.record.name,
        place=turn.record.place,
        needs=told[0].what.value,
        photo=photo,
        words=turn.words[:LONGEST_SAID],
    )
    turn.say(
        came,
        BUILDER,
        Urgency.FIRE if lit else Urgency.CALM,
        first=() if case is None else (case.by,),
    )


def in_talk(turn: Turn) -> bool:
    """Whether who speaks tends this oven, and somebody of the team talks with them."""
    going = turn.record.talk
    if going is None or not going.open(turn.now) or going.by == turn.by:
        return False
    return turn.by in turn.record.tenders


def overheard(turn: Turn, text: str, photo: str | None) -> None:
    """While a talk is open, what the owner writes goes to the builder too; the bot reads it all
    the same."""
    going = turn.record.talk
    if going is None or not in_talk(turn) or not (text.strip() or photo):
        return
    said = text[:LONGEST_SAID]
    turn.write(TalkSaid(at=turn.at, by=turn.by, side="owner", text=said, photo=photo))
    told = OwnerSays(oven=turn.record.name, text=said, photo=photo)
    turn.say(told, BUILDER, first=(going.by,))
