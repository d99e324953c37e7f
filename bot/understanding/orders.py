"""A builder's orders in plain words: "cap 300", "hold", "no fire till Monday".

Only a whole message that is an order counts as one; an order with anything left open is asked
back. A reason may follow a comma, a colon or "because".
"""

import re
from dataclasses import dataclass, replace
from datetime import date

from bot.understanding.calendar_words import MONTHS
from bot.understanding.days import DaySpan, day_spans
from bot.understanding.groups import FILLING, Group, for_all, narrowed
from bot.understanding.message import Message, clauses_of
from bot.understanding.normalise import normalise
from bot.understanding.tokens import TokenKind, tokenise
from scheduling.choice import Ordering, OrderName

LOWEST_C, HIGHEST_C = 80.0, 480.0
"""A cap beyond these was meant in the other unit, or is a slip (own choice)."""

_FIRE = r"(?:fires?|firings?|firing|burning|lighting)"
_IT = r"(?:it|them|him|her|that|this|the|their|his|next|more)\b"

_HOLD = re.compile(
    rf"(?:please )?(?:(?:hold|pause|stop|halt)\b(?: {_IT})*(?: {_FIRE})?(?: for now)?"
    rf"|no(?: more)? {_FIRE}\b|put (?:{_IT} )*(?:{_FIRE} )?on hold)"
    r"(?: until further (?:word|notice|orders?))?"
)
_RELEASE = re.compile(
    rf"release\b(?: {_IT})*(?: {_FIRE})?|resume\b(?: {_FIRE})?|unhold"
    rf"|(?:lift|end|remove) (?:the |their )?hold|allow (?:the |their )?{_FIRE}(?: again)?"
    rf"|{_FIRE} (?:allowed|may go on)(?: again)?"
)
_CAP = re.compile(
    r"cap\b|(?:no|not|never) (?:hotter|higher|more|above|over)(?: than)?\b|max(?:imum)?\b"
    r"|keep (?:it |them )?(?:below|under)\b|limit(?: it| them)? to\b|(?:lower|raise) the cap\b"
)
_UNCAP = re.compile(r"(?:lift|remove|drop|cancel|take off) (?:the )?cap|no cap|uncap")
_REPEAT = re.compile(
    rf"repeat\b(?: {_IT}| last)*(?: {_FIRE})?"
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
_DAYLESS = (
    (_HOLD, OrderName.HOLD),
    (_RELEASE, OrderName.RELEASE),
    (_REPEAT, OrderName.REPEAT),
    (_TAKE_BACK, OrderName.TAKE_BACK),
    (_UNCAP, OrderName.CAP),
)
"""Orders that last until further word."""

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

    ``group`` is whom it is for where that is not one client; ``rest`` are words that are no part of
    the order: a name, a place, or something else altogether.
    """

    order: Ordering | None = None
    why: str = ""
    group: Group | None = None
    rest: str = ""


@dataclass(frozen=True, slots=True)
class Confirming:
    """The word that the last order waits for, with the reason."""

    why: str


def confirming(text: str) -> Confirming | None:
    """Whether the message confirms what was asked back, in so many words."""
    told = " ".join(text.split())
    found = re.match(r"(?:yes[ ,]*)?(?:i )?confirm(?:ed)?\b(?: it| that)?[\s,.:;!–-]*", told, re.I)
    return None if found is None else Confirming(told[found.end() :].strip())


def agreeing(text: str) -> bool:
    """Whether it is a plain yes, which is enough for what makes no plan less gentle."""
    return (
        re.fullmatch(r"(?:yes|yep|yeah|ok|okay|do it|go ahead)[\s.!👍]*", text.strip(), re.I)
        is not None
    )


def order_in(text: str, unit: str, today: date) -> Ordered | None:
    """The order that ``text`` is, to whoever is meant; None if it is none, or holds words that are
    no part of one. ``unit`` is the builder's own, C or F."""
    told = order_with_rest(text, unit, today)
    return None if told is None or told.rest else told


def order_with_rest(text: str, unit: str, today: date) -> Ordered | None:
    """The same with words left over: they may say whom it is for."""
    head, why = _cut(" ".join(text.split()))
    confirmed = _CONFIRMED.search(text.lower()) is not None
    plain, group = for_all(_CONFIRMED.sub("", head.lower()))
    message = _message(plain)
    words = message.words(0, len(message.tokens))
    spans = [] if _CAP.match(words) else day_spans(message, today, expects_day=True)
    told = _order(words, message, spans, unit)
    if told is None or (words.startswith("hold on") and group is None and not spans):
        return None
    group, rest = narrowed(group, told.rest)
    if told.group is not None:
        if group is None:
            return Ordered(why="day_for_all", rest=rest)
        group = replace(group, first=told.group.first, last=told.group.last)
    told = replace(told, group=group, rest=rest)
    if told.order is None:
        return told
    if told.order.first is not None and day_spans(_message(why.lower()), today):
        # "No fire on Saturday, Sunday": what stands behind the comma is no reason.
        return Ordered(why="which_day", group=group, rest=rest)
    order = told.order.model_copy(update={"why": why, "confirmed": confirmed})
    return replace(told, order=order)


def reason_in(text: str) -> tuple[int, int] | None:
    """Where a reason is cut off from the order before it: the place of what cuts."""
    found = _REASON.search(text)
    return None if found is None or found.start() == 0 else found.span()


def _message(text: str) -> Message:
    plain = _FROM_TO.sub(r"\1 \4 to \3 \4", normalise(text)).strip(" .!")
    tokens = tuple(one for one in tokenise(plain) if one.kind is not TokenKind.BREAK)
    return Message(plain, tokens, clauses_of(tokens))


def _order(words: str, message: Message, spans: list[DaySpan], unit: str) -> Ordered | None:
    for pattern, name in (*_DAYLESS, (_LOOKED, OrderName.CLOSE)):
        if pattern.fullmatch(words):
            return Ordered(Ordering(name=name))
    if _CAP.match(words):
        return _cap(words, message, unit)
    for pattern, name in ((_MOVE, OrderName.MOVE), (_FORBID, OrderName.FORBID)):
        if (found := pattern.match(words)) and (spans or name is OrderName.MOVE):
            return _days(name, found, words, message, spans)
    if (found := _ALLOW.match(words)) and spans:
        # To open a day is to take back what closed it: the record knows which order that was.
        return _days(OrderName.TAKE_BACK, found, words, message, spans)
    for pattern, name in _DAYLESS:
        if found := pattern.match(words):
            return _dayless(name, found, message, spans)
    if found := _FORBID.match(words):
        return _days(OrderName.FORBID, found, words, message, spans)
    return None


def _dayless(
    name: OrderName, found: re.Match[str], message: Message, spans: list[DaySpan]
) -> Ordered:
    """An order that lasts until further word. A day in it tells whose fires are meant."""
    whose = Group(first=spans[0].first, last=spans[0].last) if spans else None
    rest = _left_over(message, len(found.group().split()))
    return Ordered(Ordering(name=name), group=whose, rest=rest)


def _left_over(message: Message, start: int, numbers: bool = False) -> str:
    """Words behind the first so many that are no part of any order."""
    return " ".join(
        token.text
        for index, token in enumerate(message.tokens)
        if index >= start
        and message.free(index, index + 1)
        and (
            (token.kind is TokenKind.WORD and token.text not in FILLING)
            or (numbers and token.kind is TokenKind.NUMBER)
        )
    )


def _cap(words: str, message: Message, unit: str) -> Ordered:
    found = _CAP.match(words)
    rest = _left_over(message, len(found.group().split()) if found else 0)
    numbers = [one for one in message.tokens if one.kind is TokenKind.NUMBER]
    if not numbers:
        return Ordered(why="no_number", rest=rest)
    if len(numbers) > 1:
        return Ordered(why="two_numbers", rest=rest)
    named = re.search(r"\b(c|celsius|centigrade|f|fahrenheit)\b", words)
    scale = named.group(1)[0].upper() if named else unit
    value = numbers[0].value
    celsius = (value - 32.0) / 1.8 if scale == "F" else value
    if not LOWEST_C <= celsius <= HIGHEST_C and named is None:
        return Ordered(why="unit", rest=rest)
    return Ordered(Ordering(name=OrderName.CAP, value=round(celsius, 1)), rest=rest)


def _days(
    name: OrderName, found: re.Match[str], words: str, message: Message, spans: list[DaySpan]
) -> Ordered | None:
    verb = found.group()
    rest = _left_over(message, len(verb.split()))
    if not spans:
        # Words without a day are no order that is open, but something else altogether.
        is_open = not words[found.end() :].strip() and len(verb.split()) > 1
        return Ordered(why="no_day", rest=rest) if is_open or rest else None
    numbers = (i for i, one in enumerate(message.tokens) if one.kind is TokenKind.NUMBER)
    left_over = any(message.free(index, index + 1) for index in numbers)
    if len(spans) > 1 or not spans[0].certain or left_over:
        return Ordered(why="which_day", rest=rest)
    span = spans[0]
    last = span.last if name is OrderName.FORBID else None
    return Ordered(Ordering(name=name, first=span.first, last=last), rest=rest)


def _cut(typed: str) -> tuple[str, str]:
    """The order, and the reason behind it."""
    cut = reason_in(typed)
    if cut is None:
        return typed, ""
    return typed[: cut[0]], _CONFIRMED.sub("", typed[cut[1] :]).strip(" ,.:;-")
