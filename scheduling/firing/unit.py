"""Whether the numbers of a fire are in the unit that they were taken for.

A thermometer may stand on °F without anybody noticing, for a whole fire or from some moment on.
Of every such moment, and of none, it is asked how well the dome and the wood foretell what was then
read; what is left is a chance. Numbers that make a dome look strong are told from a strong dome
this way; such as make it look weak are not so easily, and earn it no larger charges
(``steering``).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from scheduling.firing.response import Known, foretold
from scheduling.firing.session import Session
from scheduling.journal import Measured
from scheduling.oven.reading import in_the_other_unit

SLIPS = 0.1
"""How often a thermometer stands on the other unit in a fire (own choice)."""

ASKED_FROM = 0.5
"""From this chance on the unit is asked for."""


SLIPPED_BEFORE = 0.7
"""How often the numbers before one that was in the other unit were so too (own choice)."""

PUT_RIGHT_FROM = 0.9
"""From this chance on numbers before the one whose unit was named are put right."""

LATEST = 4
"""A slip is looked for at the start and at the last so many numbers: one further back has been
looked for already."""


@dataclass(frozen=True, slots=True)
class Slip:
    """The chance that a fire's numbers are in the other unit, and the ``wrong`` ones if so."""

    chance: float
    wrong: tuple[Measured, ...] = ()


def slipped(session: Session, known: Known, last: Measured) -> Slip:
    """What speaks for the other unit, ``last`` being the newest number, not yet in the session.
    Those whose unit was named stay as they are."""
    read = [*(one for one in session.believed if one.at < last.at), last]
    certain = max((n for n, one in enumerate(read) if one.unit_certain), default=-1)
    unknown = any(one.taken_in is None for one in read[certain + 1 :])
    if last.top_c is None or certain == len(read) - 1 or unknown:
        return Slip(0.0)
    begins = {certain + 1, *range(max(certain + 1, len(read) - LATEST), len(read))}
    as_taken = foretold(session, known, read)
    each = {
        begin: foretold(session, known, _turned(read, begin, len(read))) for begin in sorted(begins)
    }
    return _weighed(as_taken, each, read)


def misread(session: Session, known: Known, last: Measured) -> tuple[Measured, ...]:
    """Numbers of this fire before ``last``, whose unit was named, that were in the other one."""
    before = [one for one in session.believed if one.at < last.at]
    certain = max((n for n, one in enumerate(before) if one.unit_certain), default=-1)
    begins = range(certain + 1, len(before))
    if not begins or any(one.taken_in is None for one in before[certain + 1 :]):
        return ()
    read = [*before, last]
    as_taken = foretold(session, known, read)
    each = {begin: foretold(session, known, _turned(read, begin, len(before))) for begin in begins}
    slip = _weighed(as_taken, each, before, slips=SLIPPED_BEFORE)
    return slip.wrong if slip.chance > PUT_RIGHT_FROM else ()


def _weighed(
    as_taken: float, each: dict[int, float], read: Sequence[Measured], slips: float = SLIPS
) -> Slip:
    """Every moment is as likely as any other; ``slips`` is how often there is one."""
    top = max(as_taken, *each.values())
    right = (1.0 - slips) * np.exp(as_taken - top)
    chances = {begin: slips / len(each) * np.exp(fit - top) for begin, fit in each.items()}
    wrong = float(sum(chances.values()))
    begin = max(chances, key=lambda one: chances[one])
    return Slip(wrong / (wrong + float(right)), tuple(read[begin:]))


def _turned(read: Sequence[Measured], begin: int, end: int) -> list[Measured]:
    """The same, some of them in the other unit."""
    return [turned(one) if begin <= n < end else one for n, one in enumerate(read)]


def turned(read: Measured) -> Measured:
    """A reading as it was in the other unit; as it is where nobody knows what it was taken in."""
    taken_in = read.taken_in
    if taken_in is None:
        return read
    top_c, hearth_c = (
        None if one is None else in_the_other_unit(one, taken_in)
        for one in (read.top_c, read.hearth_c)
    )
    sides_c = tuple(in_the_other_unit(one, taken_in) for one in read.sides_c)
    return read.model_copy(update={"top_c": top_c, "sides_c": sides_c, "hearth_c": hearth_c})
