"""That somebody has looked at what was reported, and how it is.

Read only while something stands open. "I have looked at it, it is fine" names none; "the flue is
swept and clear" does; "done", "yes" and a number never speak of it.
"""

from bot.understanding import phrasebook as book
from bot.understanding.found import Found, take
from bot.understanding.hazard_words import WORDS
from bot.understanding.message import Clause, Mood
from bot.understanding.patterns import words
from scheduling.hazard import Hazard
from scheduling.remark import Looked

AFTER_IT_IS_OVER = words("now thanks thank you cheers mate all safe ok okay fine again and")
"""What may follow in a clause that says that something is over."""


def looked(found: Found) -> None:
    """Add that a hazard was looked at, or is over; its words are no new hazard.

    Words close only what they say plainly: with a "think", a "not yet", or more in the clause than
    that it is over, it is asked instead (``sound`` is None), or read as anything else.
    """
    open_ = [one for one in found.setting.open_hazards if one in WORDS]
    clauses = found.message.clauses
    told = [c for c in clauses if c.mood in (Mood.SAID, Mood.TOLD)]
    if not open_ or not told:
        return
    unsure = len(told) < len(clauses) or any(
        p.search(clause.text) for clause in told for p in book.UNSURE
    )
    ill = any(p.search(clause.text) for clause in told for p in book.FOUND_ILL)
    over = {one: clause for one in open_ for clause in told if _is_over(clause, one)}
    if over and not ill:
        for hazard, clause in over.items():
            found.add(clause.start, Looked(hazard=hazard, sound=None if unsure else True))
            take(found, clause.start, clause.stop)
    else:
        _judged(found, told, open_, ill=ill, unsure=unsure)


def _is_over(clause: Clause, hazard: Hazard) -> bool:
    """Whether the clause says so of that hazard, and nothing else."""
    found = next((m for p in WORDS[hazard].over if (m := p.search(clause.text))), None)
    if found is None:
        return False
    return all(
        word in AFTER_IT_IS_OVER or not word.isalpha()
        for word in clause.text[found.end() :].split()
    )


def _judged(
    found: Found, told: list[Clause], open_: list[Hazard], *, ill: bool, unsure: bool
) -> None:
    """A look, with how it was found; of one hazard where the words name just one."""
    if not any(p.search(clause.text) for clause in told for p in book.LOOKED):
        return
    said = {word for clause in told for word in clause.text.split()}
    named = [one for one in open_ if WORDS[one].closing & said]
    well = any(p.search(clause.text) for clause in told for p in book.FOUND_WELL)
    sound = False if ill else True if well and not unsure else None
    found.add(told[0].start, Looked(hazard=named[0] if len(named) == 1 else None, sound=sound))
    for clause in told:
        take(found, clause.start, clause.stop)
