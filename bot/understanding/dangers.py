"""Dangers, looked for in every clause before anything else.

They are heard where they are asked about too: better once too often. Only what is plainly
supposed ("what if the fence catches fire?") or denied ("no headache") tells of none.
"""

from bot.understanding import phrasebook as book
from bot.understanding.found import Found
from bot.understanding.hazard_words import WORDS, HazardWords
from bot.understanding.message import Clause, Mood
from scheduling.hazard import HAZARDS, Hazard
from scheduling.remark import HazardSaid

DENIED_WITHIN = 3
"""Words between a "no" and what it denies."""

HEARD_IN_QUESTIONS = frozenset(
    [one.hazard for one in HAZARDS.values() if one.people] + [Hazard.FLUE_FLAMES, Hazard.ACCELERANT]
)
"""Where to wait for an answer would be to wait too long."""

HEARD_IN_SUPPOSITIONS = (Hazard.UNWELL, Hazard.BURNT)
"""Who asks what to do if they feel dizzy is answered as if they did."""


def hazards(found: Found) -> None:
    """Add every hazard that the phrases of the book tell of."""
    for clause in found.message.clauses:
        supposed = clause.mood is Mood.SUPPOSED and any(p.search(clause.text) for p in book.IF)
        for hazard, words in WORDS.items():
            heard = (
                hazard in HEARD_IN_SUPPOSITIONS
                if supposed
                else (clause.mood is not Mood.ASKED or hazard in HEARD_IN_QUESTIONS)
            )
            _look_in(found, clause, hazard, words, heard=heard)


def _look_in(
    found: Found, clause: Clause, hazard: Hazard, words: HazardWords, *, heard: bool
) -> None:
    """Take every word that tells of it, so that "gone pale and dizzy" is read as nothing else."""
    message = found.message
    text = clause.text
    for harmless in words.other:
        blank = harmless.regex.sub(lambda m: " " + "_ " * len(m.group().split()), text)
        if blank != text:
            found.denied = found.denied or any(
                message.word(i) in book.NEGATORS for i in range(clause.start, clause.stop)
            )
            text = blank
    for match in (m for m in (one.search(text) for one in words.said) if m):
        start = clause.start + len(text[: match.start() + 1].split())
        stop = start + len(match.group().split())
        if found.taken & set(range(start, stop)):
            continue
        if _is_denied(found, clause, start, stop, match.group()):
            found.denied = True
            continue
        if not heard:
            found.hinted = True
            continue
        found.taken.update(range(start, stop))
        found.add(start, HazardSaid(hazard=hazard))


def _is_denied(found: Found, clause: Clause, start: int, stop: int, matched: str) -> bool:
    if found.message.negated(clause, start, reach=DENIED_WITHIN):
        return not any(word in book.NEGATORS for word in matched.split())
    after = " " + found.message.words(stop, min(stop + 5, clause.stop)) + " "
    return any(p.search(after) for p in book.OVER_NOW)
