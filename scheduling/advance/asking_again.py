"""Whoever writes while a question of ours is unanswered sees the question again.

They may never have seen it: a message can be lost, deleted or scrolled away, and only the question
itself tells what is waited for.
"""

from scheduling.advance.setup import ask_next
from scheduling.advance.turn import Turn
from scheduling.journal import Asked
from scheduling.meaning import DaysProposed, Eve, SetUpQuestion, StillAsked, StoppedForNow

SHOWN_AGAIN = ("eve", "days", "stopped")
"""Questions that wait for a yes or no while nothing burns; a fire asks its own anew."""


def ask_again(turn: Turn, asked: Asked | None) -> None:
    """``asked`` was open when they wrote. Nothing is asked beside a danger or a fire, nor where
    they were not answered at all."""
    record = turn.record
    if asked is None or record.question != asked or turn.by not in record.tenders:
        return
    if record.session is not None or not turn.said_anything or turn.said_urgently:
        return
    if turn.said([SetUpQuestion, Eve, DaysProposed, StoppedForNow]):
        return
    kind = asked.what.partition(":")[0]
    if kind == "set_up" and record.makeup is None:
        ask_next(turn)
    elif kind in SHOWN_AGAIN and asked.proposal is not None:
        turn.say(StillAsked(what=kind, proposal=asked.proposal))
