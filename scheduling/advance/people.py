"""People come to an oven and leave it: who tends its fire, who looks after it, what they keep."""

from datetime import timedelta

from scheduling.advance.teaching import teach
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.choice import Agreeing, Keep, LookingAfter, Tending
from scheduling.journal import Agreed, Finished, Joined, Left, LookedAfter
from scheduling.meaning import (
    AgreedTold,
    KeepAsked,
    KeepNoted,
    LookedAfterTold,
    OvenGone,
    PersonJoined,
)
from scheduling.outcome import BUILDER, TENDERS, Urgency, team

UNSAID = timedelta(days=30)
"""Whoever has not said by then what the builder may keep has said: nothing (own choice)."""


def tending(turn: Turn, said: Tending) -> None:
    """One more at the fire, or one fewer; when the last has gone, nothing is asked any more."""
    known = said.person in turn.record.tenders
    if said.joined == known:
        return
    entry = Joined if said.joined else Left
    if said.keeps is not None:
        turn.write(Agreed(at=turn.now, by=turn.by, keeps=said.keeps))
        teach(turn)
    turn.write(entry(at=turn.now, by=turn.by, person=said.person))
    turn.say(PersonJoined(person=said.person, left=not said.joined), TENDERS)
    if turn.record.is_left:
        turn.drop(*AlarmName)
        turn.say(OvenGone(oven=turn.record.name, keeps=turn.record.agreed), BUILDER)


def looking_after(turn: Turn, said: LookingAfter) -> None:
    """Another builder looks after it, or nobody: those who did, who do and who tend are told."""
    before, oven = turn.record.builder, turn.record.name
    if before == said.builder:
        return
    turn.write(LookedAfter(at=turn.now, by=turn.by, builder=said.builder))
    turn.drop(AlarmName.PARTING)
    turn.say(LookedAfterTold(builder=said.name if said.builder is not None else None), TENDERS)
    if before is not None:
        turn.say(OvenGone(oven=oven, keeps=turn.record.agreed, moved=True), team(before))
    if said.builder is not None:
        turn.say(LookedAfterTold(builder=said.name, oven=oven), BUILDER)


def ask_keeping(turn: Turn) -> None:
    """At the end, once: what may the builder keep?"""
    record = turn.record
    first = len(record.all_of(Finished)) == 1
    if record.builder is None or record.agreed is not None or not first or not record.tenders:
        return
    turn.say(
        KeepAsked(days=UNSAID.days),
        record.tenders[0],
        Urgency.CALM if not turn.by else Urgency.ANSWER,
    )
    turn.set(AlarmName.PARTING, turn.now + UNSAID)


def agreeing(turn: Turn, said: Agreeing) -> None:
    """What the builder may keep. Before the end it is only noted."""
    turn.write(Agreed(at=turn.now, by=turn.by, keeps=said.keeps))
    teach(turn)
    turn.drop(AlarmName.PARTING)
    turn.say(KeepNoted(keeps=said.keeps, ended=turn.record.finished))
    if turn.record.finished and said.keeps is Keep.NAMED:
        # Any less is told as they part.
        told = AgreedTold(oven=turn.record.name, keeps=said.keeps)
        turn.say(told, BUILDER, Urgency.CALM)


def parting(turn: Turn) -> None:
    """Nothing was said: then the builder keeps nothing."""
    if turn.record.builder is None or turn.record.agreed is not None:
        return
    turn.write(Agreed(at=turn.now, keeps=Keep.NOTHING))
    looking_after(turn, LookingAfter(builder=None))
