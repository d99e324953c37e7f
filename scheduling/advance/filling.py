"""A builder fills in, or corrects, what they know of an oven that they built."""

from scheduling.advance.set_up_questions import as_told, left_to_ask
from scheduling.advance.setup import describe, go_on, note, tell_it_stands_indoors
from scheduling.advance.turn import Turn
from scheduling.choice import About, Filling
from scheduling.firing.answers import BUILDERS
from scheduling.journal import Modelled
from scheduling.meaning import FilledIn, FillingWaits
from scheduling.outcome import TENDERS, Urgency

WHILE_LIT = frozenset({About.STANDS})
"""What may be corrected beside a burning fire: where it stands may be a danger. All else would
change the wall under a fire that was laid for another."""


def fill(turn: Turn, said: Filling) -> None:
    """Take it over where it is new; owner and builder are told, and the set-up or the days go on.

    The edge has made sure that this person looks after the oven, and fills in ``by``.
    """
    record = turn.record
    lit = record.session is not None
    if lit and not {about for about, _ in said.answers} <= WHILE_LIT:
        turn.say(FillingWaits(oven=record.name))
        return
    described, asked = record.makeup is not None, record.question
    new = [
        about
        for about, value in said.answers
        if about in BUILDERS and record.answers.get(about) != value and note(turn, about, value)
    ]
    if said.model and said.model != record.model:
        turn.write(Modelled(at=turn.now, by=turn.by, title=said.model))
    answers = turn.record.answers
    told = tuple((about, as_told(turn.record, about, answers[about])) for about in new)
    left = tuple(one for one in left_to_ask(turn.record) if one in BUILDERS)
    turn.say(FilledIn(oven=record.name, answers=told, model=turn.record.model, left=left))
    if not new:
        return
    with turn.addressing(TENDERS, Urgency.CALM):
        turn.say(FilledIn(by=said.by, answers=told, model=turn.record.model, owner=True))
        if About.STANDS in new and turn.record.indoors:
            tell_it_stands_indoors(turn)
        if described:
            describe(turn, first=False)
        elif asked is not None and turn.record.question is None:
            go_on(turn)
