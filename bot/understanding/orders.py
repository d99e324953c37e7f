"""A builder's orders in plain words: "cap 300", "hold", "no fire till Monday".

Only a whole message that is an order counts as one; an order with anything left open is asked
back. A reason may follow a comma, a colon or "because".
"""

import re
from dataclasses import dataclass
from datetime import date

from bot.understanding.calendar_words import MONTHS
from bot.understanding.days import DaySpan, day_spans
from bot.understanding.message import Message, clauses_of
from bot.understanding.normalise import normalise
from bot.understanding.tokens import TokenKind, tokenise
from scheduling.choice import Ordering, OrderName

LOWEST_C, HIGHEST_C = 80.0, 480.0
"""A cap beyond these was meant in the other unit, or is a slip (own choice)."""

_FIRE = r"(?:fires?|firings?|firing|burning|lighting)"
_IT = r"(?:it|them|him|her|that|this|all|any|every|everything|the|next|more)"

_HOLD = re.compile(
    rf"(?:please )?(?:(?:hold|pause|stop|halt)(?: {_IT})*(?: {_FIRE})?(?: for now)?"
    rf"|no(?: more)? {_FIRE}|put (?:{_IT} )*(?:{_FIRE} )?on hold|on hold)"
    r"(?: until further (?:word|notice|orders?))?"
)
_RELEASE = re.compile(
    rf"release(?: {_IT})*(?: {_FIRE})?|resume(?: {_FIRE})?|unhold|(?:lift|end|remove) (?:the )?hold"
    rf"|allow (?:the )?{_FIRE}(?: again)?|{_FIRE} (?:allowed|may go on)(?: again)?"
)
_CAP = re.compile(
    r"cap\b|(?:no|not|never) (?:hotter|higher|more|above|over)(?: than)?\b|max(?:imum)?\b"
    r"|keep (?:it |them )?(?:below|under)\b|limit(?: it| them)? to\b|(?:lower|raise) the cap\b"
)
_UNCAP = re.compile(r"(?:lift|remove|drop|cancel|take off) (?:the )?cap|no cap|uncap")
_REPEAT = re.compile(
    rf"repeat(?: {_IT}| last)*(?: {_FIRE})?"
    rf"|(?:do )?(?:{_IT} |last )*{_FIRE} (?:again|once more)|do it (?:again|once more)"
)
_TAKE_BACK = re.compile(
    r"take (?:it |that |the order |my order )?back(?: the order| that| it)?|undo"
    r"|cancel (?:that|the order|it|my order)|revoke(?: that| the order| it)?"
)
_LOOKED = re.compile(
    r"(?:i (?:have )?)?(?:looked|inspected|checked)(?: (?:at )?(?:it|this|that|them))?|all clear"
)
_MOVE = re.compile(
    rf"(?:no|hold|hold off|wait|not|nothing)(?: {_FIRE})?(?: {_IT})* (?:till|until|before)\b"
    rf"|(?:move|shift|postpone|put)(?: {_IT})*(?: {_FIRE})?(?: off)? (?:to|until|till)\b"
)
_FORBID = re.compile(
    rf"(?:no|forbid|ban|bar|close)(?: {_IT})*(?: {_FIRE})?(?: on| from| for| between)?\b"
    r"|not (?:on|from)\b"
)
_ALLOW = re.compile(rf"(?:allow|permit|open)(?: {_IT})*(?: {_FIRE})?(?: on| from)?\b")

_FROM_TO = re.compile(
    rf"\b(\d{{1,2}})\s*(to|till|until|-|–)\s*(\d{{1,2}})\s+({'|'.join(MONTHS)})\b", re.IGNORECASE
)
"""Of "3 to 7 June" both days are in June."""

_CONFIRMED = re.compile(r"\bconfirm(?:ed|ing)?\b")
_REASON = re.compile(r"\s*(?:,|:|;| [-–—] |\bbecause\b|\bsince\b|\bas i\b)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Ordered:
    """An order, or ``why`` it cannot be read (as ``OrderUnclear`` has it).

    ``allow`` marks one that takes a closed day back: the record knows which order closed it.
    """

    order: Ordering | None = None
    why: str = ""
    allow: bool = False


@dataclass(frozen=True, slots=True)
class Confirming:
    """The word that the last order waits for, with the reason."""

    why: str


def confirming(text: str) -> Confirming | None:
    """Whether the message confirms what was asked back, in so many words."""
    told = " ".join(text.split())
    found = re.match(r"(?:yes[ ,]*)?(?:i )?confirm(?:ed)?\b(?: it| that)?[\s,.:;!–-]*", told, re.I)
    return None if found is None else Confirming(told[found.end() :].strip())


def order_in(text: str, unit: str, today: date) -> Ordered | None:
    """The order that ``text`` is; None if it is none. ``unit`` is the builder's own, C or F."""
    head, why = _cut(" ".join(text.split()))
    confirmed = _CONFIRMED.search(text.lower()) is not None
    message = _message(_CONFIRMED.sub("", head.lower()))
    words = message.words(0, len(message.tokens))
    spans = [] if _CAP.match(words) else day_spans(message, today, expects_day=True)
    told = _order(words, message, spans, unit)
    if told is None or told.order is None:
        return told
    if told.order.first is not None and day_spans(_message(why.lower()), today):
        # "No fire on Saturday, Sunday": what stands behind the comma is no reason.
        return Ordered(why="which_day")
    order = told.order.model_copy(update={"why": why, "confirmed": confirmed})
    return Ordered(order, allow=told.allow)


def _message(text: str) -> Message:
    plain = _FROM_TO.sub(r"\1 \4 to \3 \4", normalise(text)).strip(" .!")
    tokens = tuple(one for one in tokenise(plain) if one.kind is not TokenKind.BREAK)
    return Message(plain, tokens, clauses_of(tokens))


def _order(words: str, message: Message, spans: list[DaySpan], unit: str) -> Ordered | None:
    for pattern, name in (
        (_HOLD, OrderName.HOLD),
        (_RELEASE, OrderName.RELEASE),
        (_REPEAT, OrderName.REPEAT),
        (_TAKE_BACK, OrderName.TAKE_BACK),
        (_UNCAP, OrderName.CAP),
        (_LOOKED, OrderName.CLOSE),
    ):
        if pattern.fullmatch(words):
            return Ordered(Ordering(name=name))
    if _CAP.match(words):
        return _cap(words, message, unit)
    for pattern, name in ((_MOVE, OrderName.MOVE), (_FORBID, OrderName.FORBID)):
        if found := pattern.match(words):
            return _days(name, words[: found.end()], words[found.end() :], message, spans)
    if (found := _ALLOW.match(words)) and spans:
        told = _days(OrderName.TAKE_BACK, "", "", message, spans)
        return told and Ordered(told.order, told.why, allow=True)
    return None


def _cap(words: str, message: Message, unit: str) -> Ordered:
    numbers = [one for one in message.tokens if one.kind is TokenKind.NUMBER]
    if not numbers:
        return Ordered(why="no_number")
    if len(numbers) > 1:
        return Ordered(why="two_numbers")
    named = re.search(r"\b(c|celsius|centigrade|f|fahrenheit)\b", words)
    scale = named.group(1)[0].upper() if named else unit
    value = numbers[0].value
    celsius = (value - 32.0) / 1.8 if scale == "F" else value
    if not LOWEST_C <= celsius <= HIGHEST_C and named is None:
        return Ordered(why="unit")
    return Ordered(Ordering(name=OrderName.CAP, value=round(celsius, 1)))


def _days(
    name: OrderName, verb: str, rest: str, message: Message, spans: list[DaySpan]
) -> Ordered | None:
    if not spans:
        # Words without a day are no order that is open, but something else altogether.
        return Ordered(why="no_day") if not rest.strip() and len(verb.split()) > 1 else None
    numbers = (i for i, one in enumerate(message.tokens) if one.kind is TokenKind.NUMBER)
    left_over = any(message.free(index, index + 1) for index in numbers)
    if len(spans) > 1 or not spans[0].certain or left_over:
        return Ordered(why="which_day")
    span = spans[0]
    last = span.last if name is OrderName.FORBID else None
    return Ordered(Ordering(name=name, first=span.first, last=last))


def _cut(typed: str) -> tuple[str, str]:
    """The order, and the reason behind it."""
    found = _REASON.search(typed)
    if found is None or found.start() == 0:
        return typed, ""
    reason = _CONFIRMED.sub("", typed[found.end() :]).strip(" ,.:;-")
    return typed[: found.start()], reason
