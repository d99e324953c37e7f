"""That somebody has looked at what was reported, and how it is.

Read only while something stands open. "I have looked at it, it is fine" names none; "the flue is
swept and clear" does; "done", "yes" and a number never speak of it.
"""

from bot.understanding import phrasebook as book
from bot.understanding.found import Found, take
from bot.understanding.hazard_words import WORDS
from bot.understanding.message import Clause, Mood
from scheduling.hazard import Hazard
from scheduling.remark import Looked


def looked(found: Found) -> None:
    """Add that a hazard was looked at, or is over; its words are no new hazard."""
    open_ = [one for one in found.setting.open_hazards if one in WORDS]
    told = [c for c in found.message.clauses if c.mood in (Mood.SAID, Mood.TOLD)]
    if not open_ or not told:
        return
    ill = any(p.search(clause.text) for clause in told for p in book.FOUND_ILL)
    over = {one: clause for one in open_ for clause in told if not ill and _is_over(clause, one)}
    for hazard, clause in over.items():
        found.add(clause.start, Looked(hazard=hazard, sound=True))
        take(found, clause.start, clause.stop)
    if not over:
        _judged(found, told, open_, ill=ill)


def _is_over(clause: Clause, hazard: Hazard) -> bool:
    """Whether the clause says so of that hazard, with no "not" before it."""
    found = next((m for p in WORDS[hazard].over if (m := p.search(clause.text))), None)
    if found is None:
        return False
    before = clause.text[: found.end()].split()
    return not any(word in book.NEGATORS for word in before)


def _judged(found: Found, told: list[Clause], open_: list[Hazard], *, ill: bool) -> None:
    """A look, with how it was found; of one hazard where the words name just one."""
    if not any(p.search(clause.text) for clause in told for p in book.LOOKED):
        return
    words = {word for clause in told for word in clause.text.split()}
    named = [one for one in open_ if WORDS[one].closing & words]
    well = any(p.search(clause.text) for clause in told for p in book.FOUND_WELL)
    sound = False if ill else True if well else None
    found.add(told[0].start, Looked(hazard=named[0] if len(named) == 1 else None, sound=sound))
    for clause in told:
        take(found, clause.start, clause.stop)
