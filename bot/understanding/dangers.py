"""Dangers to people: someone unwell or hurt, flames in the flue.

They are looked for in every clause, asked or supposed too, before anything else.
"""

from bot.understanding import phrasebook as book
from bot.understanding.found import Found, is_denied, matches, take
from bot.understanding.message import Clause, Mood
from scheduling.remark import Sign


def unwell(found: Found) -> None:
    """Look through every clause, asked or supposed too: better once too often."""
    message = found.message
    for clause in message.clauses:
        text = clause.text
        for harmless in book.NOT_UNWELL:
            blank = harmless.regex.sub(lambda m: " " + "_ " * (len(m.group().split())), text)
            if blank != text:
                found.denied = found.denied or any(
                    message.word(i) in book.NEGATORS for i in range(clause.start, clause.stop)
                )
                text = blank
        _unwell_in(found, clause, text)


def _unwell_in(found: Found, clause: Clause, text: str) -> None:
    """Take every word that tells of it, so that "gone pale and dizzy" is read as nothing else."""
    message = found.message
    for match in (m for m in (one.search(text) for one in book.UNWELL) if m):
        index = clause.start + len(text[: match.start() + 1].split())
        if message.negated(clause, index, reach=3) and "not" not in match.group().split():
            found.denied = True
            continue
        found.taken.update(range(index, index + len(match.group().split())))
        found.add(index, Sign(kind="unwell"))


def flue_flames(found: Found) -> None:
    """Add flames in the flue, even where they are asked about."""
    for clause, start, stop in matches(found, book.FLUE_FLAMES):
        if clause.mood is Mood.SUPPOSED and any(p.search(clause.text) for p in book.IF):
            continue
        if is_denied(found, clause, start, stop):
            continue
        take(found, start, stop)
        found.add(start, Sign(kind="flue_flames"))
