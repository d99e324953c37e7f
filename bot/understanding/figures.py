"""Numbers that may be temperatures: value, unit, how sure, "from 140 to 152", "over 150".

What is found here is only a candidate; ``plain_figures`` tells which are stated, ``places``
where they were read, ``figure_doubts`` what is doubtful about them.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from bot.understanding.message import Clause, Message
from bot.understanding.numbers import joined_value
from bot.understanding.patterns import words
from bot.understanding.phrasebook import ABOUT, DEGREES, UNITS
from bot.understanding.tokens import TokenKind

Unit = Literal["C", "F", ""]


@dataclass(frozen=True, slots=True)
class Figure:
    """A number that may be a temperature."""

    start: int
    stop: int
    value: float
    unit: Literal["C", "F", ""] = ""
    marked: bool = False
    """It carries a degree sign, a unit or the word."""
    approximate: bool = False
    place: str = ""
    past: bool = False
    risen: bool = False
    """It ends "from 140 to 152"."""
    bound: bool = False
    """ "Over 150" says less than a number."""
    spread: float | None = None
    """The other end of "150-160"."""
    joined: float | None = None
    """What "1 60" would be without its first figure."""


def figures(message: Message) -> Iterator[Figure]:
    """Every number nobody has claimed, with what stands right beside it."""
    index = 0
    while index < len(message.tokens):
        if not is_free_number(message, index):
            index += 1
            continue
        figure = _figure_at(message, index)
        index = figure.stop
        yield figure


def _figure_at(message: Message, index: int) -> Figure:
    stop = index + 1
    parts = [message.word(index)]
    while (
        len(parts) < 3 and is_free_number(message, stop) and _fits_join(parts, message.word(stop))
    ):
        parts.append(message.word(stop))
        stop += 1
    joined = joined_value(parts)
    value, without = message.tokens[index].value, None
    if joined is not None:
        without = message.tokens[stop - 1].value
        value = joined
    else:
        stop = index + 1
    if _is_minus(message, index):
        value = -value
    unit, marked, stop = _unit_at(message, stop)
    spread, risen = None, False
    if message.word(stop) in (
        "-",
        "to",
        "or",
        "and",
        "maybe",
        "perhaps",
        "possibly",
    ) and is_free_number(message, stop + 1):
        between = message.word(index - 1) == "between"
        if message.word(stop) != "and" or between:
            other = message.tokens[stop + 1].value
            if message.word(index - 1) == "from" or message.word(index - 2) == "from":
                value, stop, risen = other, stop + 2, True
            else:
                spread, stop = other, stop + 2
            other_unit, other_marked, stop = _unit_at(message, stop)
            unit, marked = unit or other_unit, marked or other_marked
    return Figure(
        index,
        stop,
        value,
        unit,
        marked,
        approximate=_is_approximate(message, index, stop),
        past=_is_past(message, index) and not risen,
        risen=risen,
        bound=_is_bound(message, index, stop),
        spread=spread,
        joined=without,
    )


def _fits_join(parts: list[str], after: str) -> bool:
    return (
        len(parts[0]) == 1
        and after.isdigit()
        and (
            (len(parts) == 1 and len(after) in (1, 2))
            or (len(parts) == 2 and len(parts[1]) == len(after) == 1)
        )
    )


def is_free_number(message: Message, index: int) -> bool:
    """Whether a number stands at ``index`` that no reader has claimed."""
    return (
        index < len(message.tokens)
        and message.tokens[index].kind is TokenKind.NUMBER
        and index not in message.claimed
    )


def _is_minus(message: Message, index: int) -> bool:
    before = message.word(index - 1)
    if before == "minus":
        return True
    return before == "-" and message.tokens[index].glued and not message.tokens[index - 1].glued


def _unit_at(message: Message, stop: int) -> tuple[Literal["C", "F", ""], bool, int]:
    marked = False
    if message.word(stop) in DEGREES:
        marked = True
        stop += 1
    word = message.word(stop)
    if word in UNITS and stop not in message.claimed:
        return ("C" if UNITS[word] == "C" else "F"), True, stop + 1
    return "", marked, stop


_ABOUT_AFTER = words("ish maybe probably roughly about approx")


def _is_approximate(message: Message, start: int, stop: int) -> bool:
    before = {message.word(start - step) for step in (1, 2)}
    return (
        bool(before & ABOUT)
        or message.word(stop) in _ABOUT_AFTER
        or (message.words(stop, stop + 2) in ("or so", "give or", "or thereabouts", "or around"))
        or message.words(start - 2, start)
        in (
            "just over",
            "just under",
            "bit over",
            "bit under",
            "just above",
            "just below",
            "a touch",
            "or take",
        )
    )


def _words_of(message: Message, clause: Clause) -> set[str]:
    return {message.word(i) for i in range(clause.start, clause.stop)}


def _is_past(message: Message, index: int) -> bool:
    clause = message.clause_of(index)
    if _words_of(message, clause) & {"ago", "earlier", "before"} and "now" not in clause.text:
        return True
    for before in range(index - 1, max(clause.start, index - 5) - 1, -1):
        if message.word(before) == "now":
            return False
        if message.word(before) in ("was", "were"):
            return True
        if message.word(before) == "from" and (
            before == index - 1 or message.word(before + 1) in ABOUT
        ):
            # "from 140", but not "from the gun is 140"
            return True
    return False


def _is_bound(message: Message, index: int, stop: int) -> bool:
    if message.word(stop) == "+" and message.tokens[stop].glued:
        return True
    if {message.word(stop), message.word(stop + 1)} & {"something", "odd", "plus"}:
        return True
    before, earlier = message.word(index - 1), message.word(index - 2)
    if before in ("over", "above", "under", "below", "beyond", "<", ">", "exceeding", "past"):
        return earlier not in ("just", "bit", "little", "touch", "slightly")
    return before == "than" and earlier in ("more", "less", "higher", "lower", "hotter", "cooler")


def to_celsius(value: float, unit: str) -> float:
    """``value`` in °C, to a tenth."""
    return round((value - 32) / 1.8, 1) if unit == "F" else value
