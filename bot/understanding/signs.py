"""Remarks that need no thermometer: what was done, seen, heard, felt, said to the chat.

Every kind has its phrases in the phrase book. They are tried from the gravest to the lightest,
and words that one has taken are not read a second time as another.
"""

import re

from bot.understanding import phrasebook as book
from bot.understanding.dangers import hazards
from bot.understanding.deeds import door, fire, leaving_and_back, stoked
from bot.understanding.found import Found, is_denied, matches, take
from bot.understanding.looking import looked
from bot.understanding.message import Clause, Message, Mood
from bot.understanding.patterns import Pattern
from scheduling.remark import Crack, CrackSize, Sign


def signs(found: Found) -> None:
    """Add to ``found`` every remark that phrases alone tell."""
    looked(found)
    hazards(found)
    for kind, patterns, skip in _PLAIN_FIRST:
        _plain(found, kind, patterns, skip)
    door(found)
    fire(found)
    _plain(found, "too_big", book.TOO_BIG, ())
    stoked(found)
    leaving_and_back(found)
    _crack(found)
    for kind, patterns, skip in _PLAIN_LAST:
        _plain(found, kind, patterns, skip)


_PLAIN_FIRST: tuple[tuple[str, tuple[Pattern, ...], tuple[Pattern, ...]], ...] = (
    ("stop_nudges", book.STOP_NUDGES, ()),
    ("undo", book.UNDO, ()),
    ("only_embers", book.ONLY_EMBERS, book.ONLY_EMBERS_IS_OTHER),
    ("wood_out", book.WOOD_OUT, book.WOOD_OUT_IS_OTHER),
    ("no_thermometer", book.NO_THERMOMETER, book.NO_THERMOMETER_IS_OTHER),
    ("soot_black", book.SOOT_BLACK, ()),
    ("soot_clear", book.SOOT_CLEAR, ()),
)


_PLAIN_LAST: tuple[tuple[str, tuple[Pattern, ...], tuple[Pattern, ...]], ...] = (
    ("steam", book.STEAM, ()),
    ("damp", book.DAMP, book.DAMP_IS_OTHER),
    ("smoke", book.SMOKE, book.SMOKE_IS_OTHER),
    ("thanks", book.THANKS, book.THANKS_IS_OTHER),
    ("greeting", book.GREETING, ()),
)


_NEGATED_IN_ITSELF = frozenset(
    ["stop_nudges", "undo", "wood_out", "no_thermometer", "soot_black", "only_embers"]
)
"""Their phrases hold the "no" or "not" that would deny another."""
_SAID_EVEN_AS_A_QUESTION = frozenset(["stop_nudges", "undo", "thanks", "greeting"])


def _plain(
    found: Found, kind: str, patterns: tuple[Pattern, ...], skip: tuple[Pattern, ...]
) -> None:
    for clause, start, stop in matches(found, patterns, skip):
        if clause.mood is Mood.SUPPOSED:
            continue
        if clause.mood is Mood.ASKED and kind not in _SAID_EVEN_AS_A_QUESTION:
            continue
        if kind not in _NEGATED_IN_ITSELF and is_denied(found, clause, start, stop):
            continue
        take(found, start, stop)
        found.add(start, Sign.model_validate({"kind": kind}))


def _crack(found: Found) -> None:
    for clause, start, stop in matches(found, book.CRACK, book.CRACK_IS_SOUND):
        if clause.mood in (Mood.ASKED, Mood.SUPPOSED):
            continue
        if is_denied(found, clause, start, stop):
            continue
        take(found, start, stop)
        found.add(start, Crack(size=_crack_size(found.message, clause)))


def _crack_size(message: Message, clause: Clause) -> CrackSize:
    sentence = _sentence_around(message, clause)
    hair = any(p.search(sentence) for p in book.HAIRLINE)
    opened = any(p.search(sentence) for p in book.OPEN_CRACK)
    widths = [
        told
        for told in book.SIZE_MM.finditer(sentence)
        if not _is_length(told, sentence, hair=hair)
    ]
    if widths:
        millimetres = float(widths[0].group(1).replace(",", ".").rstrip(".")) * (
            10 if widths[0].group(2).startswith("c") else 1
        )
        return CrackSize.OPEN if millimetres >= 1 else CrackSize.HAIRLINE
    if opened:
        return CrackSize.OPEN
    return CrackSize.HAIRLINE if hair else CrackSize.UNSAID


def _is_length(told: re.Match[str], sentence: str, *, hair: bool) -> bool:
    """Whether a measure is how long a crack is: said so, or in centimetres of a hairline, which no
    hairline is wide."""
    if book.IS_WIDE.match(sentence[told.end() :]):
        return False
    said = book.IS_LONG.match(sentence[told.end() :]) or book.LONG_BEFORE.search(
        sentence[: told.start()]
    )
    return said is not None or (hair and told.group(2).startswith("c"))


def _sentence_around(message: Message, clause: Clause) -> str:
    index = message.clauses.index(clause)
    near = message.clauses[max(index - 1, 0) : index + 2]
    return "".join(c.text for c in near if c.mood is not Mood.ASKED or c is clause)
