"""Pieces of wood as owners count them: "2 bits", "a couple of thin splits", "another on".

They are claimed before the thermometer's turn, so that no count becomes a reading.
"""

import re
from dataclasses import dataclass

from bot.understanding.message import Message
from bot.understanding.patterns import words
from bot.understanding.stretches import number
from bot.understanding.tokens import TokenKind

WOOD = re.compile(
    r"(log|bit|piece|stick|split|chunk|billet|lump|length|quarter|bark|branch|twig|handful|armful"
    r"|block|slab|wedge|round|one)(s|es)?|logs?|kindling|woods?|more|bits|pcs|pc|of"
)
_ADJECTIVES = words(
    """
    small little big large thin thick medium good dry short long fresh nice more extra new oak
    birch beech ash decent chunky tiny fat skinny wee of fine split average kiln dried seasoned
    hardwood softwood pine sized size another inch
    """
)
_COUNT_WORDS = {"a": 1, "an": 1, "another": 1, "couple": 2, "pair": 2}


@dataclass(frozen=True, slots=True)
class Pieces:
    """So many pieces of wood, at tokens ``start`` to ``stop`` (exclusive)."""

    start: int
    stop: int
    count: int | None


def pieces(message: Message) -> list[Pieces]:
    """Counts of wood; their tokens are claimed."""
    found: list[Pieces] = []
    for index in range(len(message.tokens)):
        if not message.free(index, index + 1):
            continue
        count = _count_at(message, index)
        if count is None:
            continue
        value, stop = count
        stop_at = _wood_end(message, stop) or _after_a_verb(message, index, stop)
        if stop_at is None:
            continue
        message.claim(index, stop_at)
        found.append(Pieces(index, stop_at, value))
    return found


def _count_at(message: Message, index: int) -> tuple[int | None, int] | None:
    token = message.tokens[index]
    if token.kind is TokenKind.NUMBER:
        if token.value != int(token.value) or not 1 <= token.value <= 40:
            return None
        stop = index + 1
        after = message.word(stop)
        if after in ("-", "or", "to") and number(message, stop + 1) is not None:
            return int(message.tokens[stop + 1].value), stop + 2
        if after == "x":
            stop += 1
        return int(token.value), stop
    if token.text in _COUNT_WORDS:
        if message.word(index + 1) in ("armful", "handful", "load", "barrow"):
            return None
        if token.text == "a" and message.word(index + 1) in (
            "few",
            "couple",
            "bit",
            "load",
            "lot",
            "little",
            "handful",
            "pair",
            "armful",
        ):
            return None
        stop = index + 1 + (message.word(index + 1) == "of")
        if token.text == "another" and (
            number(message, stop) is not None or message.word(stop) in ("couple", "few", "pair")
        ):
            return None
        return _COUNT_WORDS[token.text], stop
    if token.text == "one":
        return 1, index + 1
    return None


_STOKING = words(
    """
    added add put chucked threw popped gave fed loaded bunged slung lobbed tossed another stoked
    with more adding putting
    """
)
_AFTER_ON = frozenset(["", ".", ",", "!", "and", "\n", "at", "about", "just", "now", "already"])
_ENDS_A_COUNT = frozenset(
    ["", "on", "in", "more", ".", ",", "!", "now", "and", "at", "just", "there"]
)


def _after_a_verb(message: Message, start: int, stop: int) -> int | None:
    """The index after the "2" of "added 2", "put two on", "another 2 on"."""
    token = message.tokens[start]
    if token.text == "another" and message.word(stop) in ("on", "in"):
        return stop
    if token.kind is not TokenKind.NUMBER or token.value > 12:
        return None
    if start == message.clause_of(start).start and message.word(stop) in ("on", "in"):
        # "2 on": nothing else stands in the clause
        return stop if message.word(stop + 1) in _AFTER_ON else None
    before = [message.word(start - step) for step in (1, 2)]
    led = before[0] in _STOKING or (before[0] in ("on", "in") and before[1] in _STOKING)
    return stop if led and message.word(stop) in _ENDS_A_COUNT else None


def _wood_end(message: Message, start: int) -> int | None:
    """The index after "small dry logs", if wood is what is counted at ``start``."""
    index = start
    while index < start + 4 and message.word(index) in _ADJECTIVES:
        if message.word(index) == "more" and message.word(index + 1) in (
            "minutes",
            "hours",
            "days",
            "degrees",
            "weeks",
        ):
            return None
        index += 1
    word = message.word(index)
    if word and WOOD.fullmatch(word) and word not in ("of",):
        if word in ("bit", "wood") and index == start and message.word(start - 1) in ("a", "the"):
            return None
        if word == "quarter" or word == "quarters":
            return None
        return index + 1
    if index > start and message.word(index - 1) in ("more",) and index - 1 >= start:
        return index
    return None
