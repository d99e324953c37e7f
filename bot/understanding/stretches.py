"""Stretches of time: "ten mins ago", "in 20", "half an hour", and "just now"."""

from bot.understanding.message import Message
from bot.understanding.moments import JustNow, Span
from bot.understanding.patterns import words
from bot.understanding.tokens import TokenKind

_UNIT_MINUTES = {"minutes": 1.0, "hours": 60.0, "seconds": 1 / 60}
_AGO = frozenset(["ago", "back", "since", "earlier"])
_VAGUE_COUNTS = {"couple": 2.0, "few": 5.0, "several": 7.0}
_JUST_DONE = words(
    """
    lit put added stoked chucked threw fed started popped loaded placed went gone lighted
    """
)


def span(message: Message, start: int) -> Span | None:
    """The stretch of time that begins at ``start``."""
    counted = _counted_minutes(message, start)
    if counted is None:
        return _bare_ahead(message, start)
    minutes, stop = counted
    if message.words(stop, stop + 2) == "and half" or message.words(stop, stop + 3) == "and a half":
        minutes += 30
        stop += 3 if message.word(stop + 1) == "a" else 2
    more = _counted_minutes(message, stop + (message.word(stop) == "and"))
    if more is not None and minutes >= 60 and more[0] < 60:
        minutes, stop = minutes + more[0], more[1]
    if message.word(stop) in ("or", "more") and message.word(stop + 1) == "so":
        stop += 2
    if message.word(start - 1) in ("since", "before"):
        # "burning since half an hour", as many say it who learnt English late
        return Span(start, stop, minutes, "ago")
    if message.word(stop) in _AGO:
        return Span(start, stop + 1, minutes, "ago")
    if _leads_ahead(message, start):
        return Span(start, stop, minutes, "ahead")
    if message.word(stop) in ("more", "time", "longer"):
        return Span(start, stop + 1, minutes, "ahead")
    return Span(start, stop, minutes, "long")


def _leads_ahead(message: Message, start: int) -> bool:
    before = (
        message.word(start - 2)
        if message.word(start - 1) in ("a", "about")
        else message.word(start - 1)
    )
    return before in ("in", "within", "another", "give", "me", "more")


def _counted_minutes(message: Message, start: int) -> tuple[float, int] | None:
    """Minutes, and the index after them, of "ten minutes", "half an hour", "1.5 hours"."""
    words = [message.word(start + step) for step in range(6)]
    match words:
        case ["half", "hours", *_]:
            return 30.0, start + 2
        case ["half", ("a" | "an"), "hours", *_]:
            return 30.0, start + 3
        case ["quarter", "of", ("a" | "an"), "hours", *_]:
            return 15.0, start + 4
        case ["quarter", "hours", *_]:
            return 15.0, start + 2
        case ["three" | "3", ("quarters" | "quarter"), "of", ("a" | "an"), "hours", *_]:
            return 45.0, start + 5
        case [("a" | "an"), unit, *_] if unit in _UNIT_MINUTES:
            return _UNIT_MINUTES[unit], start + 2
        case [vague, unit, *_] if vague in _VAGUE_COUNTS and unit in _UNIT_MINUTES:
            return _VAGUE_COUNTS[vague] * _UNIT_MINUTES[unit], start + 2
        case [vague, ("of" | "more"), unit, *_] if vague in _VAGUE_COUNTS and unit in _UNIT_MINUTES:
            return _VAGUE_COUNTS[vague] * _UNIT_MINUTES[unit], start + 3
        case [_, ("and" | "&"), "a", "half", "hours", *_] if number(message, start) is not None:
            return message.tokens[start].value * 60 + 30, start + 5
    value = number(message, start)
    if value is None or (message.word(start)[:2].isdigit() and message.word(start)[0] == "0"):
        return None
    stop = start + 1
    if words[1] in ("-", "to", "or") and number(message, start + 2) is not None:
        if words[3] in _UNIT_MINUTES:
            return (value + message.tokens[start + 2].value) / 2 * _UNIT_MINUTES[
                words[3]
            ], start + 4
        return None
    if words[1] in ("-", "more", "odd", "or") and words[2] in _UNIT_MINUTES:
        stop += 1
    if message.word(stop) in _UNIT_MINUTES:
        return value * _UNIT_MINUTES[message.word(stop)], stop + 1
    if message.word(stop) in ("'", "m") and message.tokens[stop].glued:
        return value, stop + 1
    if message.word(stop) == "ago":
        return value, stop
    return None


def _bare_ahead(message: Message, start: int) -> Span | None:
    """ "In 20": minutes, where no unit and no noun follows."""
    value = number(message, start)
    if value is None or message.word(start - 1) != "in" or not 1 <= value <= 120:
        return None
    after = message.word(start + 1)
    if after in ("", ".", ",", "!", "\n", "ok", "please", "or", "then", "thanks", "and"):
        return Span(start, start + 1, value, "ahead")
    return None


def just_now(message: Message, start: int) -> JustNow | None:
    """ " "Just now" and the like at ``start``."""
    pair, three = message.words(start, start + 2), message.words(start, start + 3)
    if three in ("a moment ago", "a minute ago", "a second ago", "a sec ago"):
        return JustNow(start, start + 3)
    if pair in ("just now", "right now", "moment ago"):
        return JustNow(start, start + 2)
    if message.word(start) == "just" and message.word(start + 1) in _JUST_DONE:
        return JustNow(start, start + 1)
    return None


def number(message: Message, index: int) -> float | None:
    """Value of the number at ``index``, if one stands there."""
    if 0 <= index < len(message.tokens) and message.tokens[index].kind is TokenKind.NUMBER:
        return message.tokens[index].value
    return None
