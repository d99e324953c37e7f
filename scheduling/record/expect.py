"""What the last question asked for: a bare "152" or "yes" leans on it."""

from datetime import datetime

from scheduling.record.facts import Facts
from scheduling.record.need import phase_of
from scheduling.record.standing import Phase
from scheduling.remark import Expectation


def expectation(record: Facts, now: datetime) -> Expectation:
    """What an answer most likely is, at this moment."""
    session = record.session
    question = record.question
    if question is not None and question.proposal is not None:
        return Expectation(question.expect)
    if session is not None:
        if session.ending:
            return Expectation.DOOR
        measures = record.makeup is not None and record.makeup.instrument is not None
        return Expectation.READING if measures else Expectation.STOKED
    if question is not None:
        return Expectation(question.expect)
    phase = phase_of(record, now)
    return Expectation.LIT if phase is Phase.FIRING_DAY else Expectation.NOTHING
