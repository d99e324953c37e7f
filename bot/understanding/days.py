"""Days: "sat", "3rd to 7th", "tomorrow instead", "only evenings next week".

Weekdays and day numbers are always looked for ahead of the oven's own date; a day that has
passed, or a span that ends before it begins, is asked about rather than guessed.
"""

import re
from dataclasses import dataclass
from datetime import date, timedelta

from bot.understanding.calendar_words import MONTHS, WEEKDAYS
from bot.understanding.dates import numbered_dates
from bot.understanding.message import Message
from bot.understanding.patterns import words
from bot.understanding.tokens import TokenKind

_JOINS = frozenset(["to", "-", "till", "until", "through", "thru", "and", "&", "or"])
_LONGEST_DAYS = 21
"""A longer absence was more likely a pair of days in the wrong order."""
_LOOSE_JOINS = frozenset(["and", "&", "or", ","])


@dataclass(frozen=True, slots=True)
class DaySpan:
    """Days ``first`` to ``last`` inclusive, at tokens ``start`` to ``stop`` (exclusive)."""

    start: int
    stop: int
    first: date
    last: date
    certain: bool = True
    """False for a day that has passed, a span that runs backwards, or one of two readings."""
    other: date | None = None
    """What "3/6" is in the other order of day and month."""


def day_spans(message: Message, today: date, *, expects_day: bool = False) -> list[DaySpan]:
    """All days said in ``message``; their tokens are claimed."""
    found: list[DaySpan] = []
    index = 0
    while index < len(message.tokens):
        span = _span_at(message, index, today, expects_day=expects_day)
        if span is None or not message.free(span.start, span.stop):
            index += 1
            continue
        message.claim(span.start, span.stop)
        found.append(span)
        index = span.stop
    return found


def told_together(message: Message, first: DaySpan, days: list[DaySpan]) -> list[DaySpan]:
    """``first`` and the days that only an "and" or an "or" ties to it: "thursday or monday"."""
    together = [first]
    for day in days:
        between = range(together[-1].stop, day.start)
        if day.start > first.start and all(message.word(i) in _LOOSE_JOINS for i in between):
            together.append(day)
    return together


def _span_at(message: Message, start: int, today: date, *, expects_day: bool) -> DaySpan | None:
    one = _day_at(message, start, today, expects_day=expects_day)
    if one is None:
        return None
    join = message.word(one.stop)
    if join in _JOINS:
        begin = one.stop + 1 + (message.word(one.stop + 1) in ("the", "on"))
        other = _day_at(message, begin, today, expects_day=True, after=one.first)
        if other is None:
            return one
        if join in _LOOSE_JOINS and (other.first - one.last).days != 1:
            return one
        certain = one.certain and other.certain and other.last >= one.first
        certain = certain and (other.last - one.first).days <= _LONGEST_DAYS
        return DaySpan(start, other.stop, one.first, max(other.last, one.first), certain)
    return one


def _day_at(
    message: Message, start: int, today: date, *, expects_day: bool, after: date | None = None
) -> DaySpan | None:
    word = message.word(start)
    plain = _relative(message, start, today) or _slashed(message, start, today)
    if plain is not None:
        return plain
    if word in ("next", "this", "coming", "last") and message.word(start + 1) in WEEKDAYS:
        return _weekday(start, start + 2, message.word(start + 1), today, which=word, after=after)
    if word in WEEKDAYS and not (word in ("sun", "sat") and _is_no_day(message, start)):
        numbered = _numbered(message, start + 1, today, expects_day=False, after=after)
        if numbered is not None:
            return DaySpan(start, numbered.stop, numbered.first, numbered.last, numbered.certain)
        if message.words(start + 1, start + 3) == "next week":
            monday = today + timedelta(days=7 - today.weekday())
            day = monday + timedelta(days=WEEKDAYS[word])
            return DaySpan(start, start + 3, day, day)
        return _weekday(start, start + 1, word, today, which="", after=after)
    return _numbered(message, start, today, expects_day=expects_day, after=after)


def _is_no_day(message: Message, start: int) -> bool:
    """ "The sun is out", "it sat there"."""
    before, after = message.word(start - 1), message.word(start + 1)
    if message.word(start) == "sun":
        return before in ("the", "full", "hot", "in") or after in _OF_THE_SUN
    return before in ("it", "i", "just", "has", "been", "is") or after in (
        "at",
        "on",
        "there",
        "in",
        "by",
    )


_OF_THE_SUN = words("is shining out shine in was went comes came on up down set")


def _relative(message: Message, start: int, today: date) -> DaySpan | None:
    def span(length: int, first: int, last: int | None = None) -> DaySpan:
        begin = today + timedelta(days=first)
        end = today + timedelta(days=first if last is None else last)
        return DaySpan(start, start + length, begin, end)

    monday = -today.weekday()
    four = message.words(start, start + 4)
    if four == "the day after tomorrow":
        return span(4, 2)
    three = message.words(start, start + 3)
    if three == "day after tomorrow":
        return span(3, 2)
    if three in ("rest of week", "the whole week"):
        return span(3, 0, monday + 6)
    if four in ("rest of the week", "rest of this week"):
        return span(4, 0, monday + 6)
    match message.words(start, start + 2):
        case "next week":
            return span(2, monday + 7, monday + 13)
        case "this week" | "all week":
            return span(2, 0, monday + 6)
        case "this weekend" | "the weekend" | "all weekend":
            return span(2, max(monday + 5, 0), monday + 6)
        case "next weekend":
            return span(2, monday + 12, monday + 13)
        case "tomorrow morning" | "tomorrow evening" | "tomorrow afternoon" | "tomorrow night":
            return span(2, 1)
        case "last night" | "yesterday evening" | "yesterday afternoon" | "yesterday morning":
            return span(2, -1)
        case "this morning" | "this afternoon" | "this evening" | "all day" | "all night":
            return span(2, 0) if not message.words(start, start + 3).endswith("tomorrow") else None
    match message.word(start):
        case "today" | "tonight":
            return span(1, 0)
        case "tomorrow":
            return span(1, 1)
        case "yesterday":
            return span(1, -1)
        case "overnight":
            return span(1, -1)
        case "weekend" | "weekends":
            return span(1, max(monday + 5, 0), monday + 6)
    return None


def _slashed(message: Message, start: int, today: date) -> DaySpan | None:
    """ "16/5", "16/5/26": by its figures where only one order is a date."""
    if message.word(start + 1) != "/" or not (_is_figure(message, start)):
        return None
    if not _is_figure(message, start + 2) or message.word(start - 1) == "/":
        return None
    year, stop = None, start + 3
    if message.word(stop) == "/" and re.fullmatch(r"\d{2}|\d{4}", message.word(stop + 1)):
        year, stop = int(message.word(stop + 1)), stop + 2
    figures = int(message.tokens[start].value), int(message.tokens[start + 2].value)
    dates = numbered_dates(*figures, year, today, "future")
    if not dates:
        return None
    return DaySpan(start, stop, dates[0], dates[0], len(dates) == 1, other=dates[-1])


def _weekday(
    start: int, stop: int, name: str, today: date, *, which: str, after: date | None
) -> DaySpan:
    base = after or today
    ahead = (WEEKDAYS[name] - base.weekday()) % 7
    if which == "last":
        day = base - timedelta(days=(7 - ahead) if ahead else 7)
        return DaySpan(start, stop, day, day)
    if which == "next" and ahead + base.weekday() < 7:
        # "next Friday" said on a Monday: most people mean the week after, many do not
        day = base + timedelta(days=ahead or 7)
        return DaySpan(start, stop, day, day, certain=ahead == 0)
    if after is not None and ahead == 0:
        ahead = 7
    day = base + timedelta(days=ahead)
    return DaySpan(start, stop, day, day)


def _numbered(
    message: Message, start: int, today: date, *, expects_day: bool, after: date | None
) -> DaySpan | None:
    index = start + (message.word(start) == "the")
    if message.word(index) in MONTHS and _is_figure(message, index + 1):
        number = message.tokens[index + 1].value
        stop = index + 2 + (message.word(index + 2) in _ORDINALS)
        return _dated(start, stop, number, MONTHS[message.word(index)], today, after)
    if not _is_figure(message, index):
        return _spelt(message, start, index, today, after)
    number = message.tokens[index].value
    stop = index + 1
    ordinal = message.word(stop) in _ORDINALS
    stop += ordinal
    of = message.word(stop) == "of"
    month = message.word(stop + of)
    if month in MONTHS and (month not in ("may", "march", "mar") or ordinal or of or number <= 31):
        if (
            month == "may"
            and not (ordinal or of)
            and message.word(stop + 1) in ("be", "have", "not")
        ):
            return None
        return _dated(start, stop + of + 1, number, MONTHS[month], today, after)
    led = message.word(start - 1) in ("on", "from", "until", "till", "between", "away", "to", "-")
    ranged = message.word(stop) in _JOINS and (
        message.word(stop + 2) in _ORDINALS or message.word(stop + 3) in _ORDINALS
    )
    if message.word(stop) in (
        "day",
        "fire",
        "firing",
        "burn",
        "time",
        "one",
        "crack",
        "log",
        "reading",
    ):
        return None
    if (
        ordinal and (index > start or led or ranged or after or expects_day or _about_days(message))
    ) or ((ranged or (after is not None and led)) and number <= 31):
        return _dated(start, stop, number, None, today, after)
    return None


_ORDINALS = frozenset(["st", "nd", "rd", "th"])
_SPELT = {
    word: number
    for number, word in enumerate(
        [
            "first",
            "second",
            "third",
            "fourth",
            "fifth",
            "sixth",
            "seventh",
            "eighth",
            "ninth",
            "tenth",
            "eleventh",
            "twelfth",
            "thirteenth",
            "fourteenth",
            "fifteenth",
            "sixteenth",
            "seventeenth",
            "eighteenth",
            "nineteenth",
        ],
        start=1,
    )
} | {"twentieth": 20, "thirtieth": 30}


def _spelt(
    message: Message, start: int, index: int, today: date, after: date | None
) -> DaySpan | None:
    """ "The fourteenth": a spelt ordinal is a date only after "the", "on the" or "from the"."""
    number = _SPELT.get(message.word(index))
    if number is None or index == start:
        return None
    following = message.word(index + 1)
    if message.word(index - 2) not in (
        "on",
        "from",
        "until",
        "till",
        "to",
        "by",
    ) and following not in (
        "of",
        *_JOINS,
    ):
        return None
    if following in ("fire", "firing", "day", "burn", "time", "one"):
        return None
    return _dated(start, index + 1, number, None, today, after)


def _about_days(message: Message) -> bool:
    words = {token.text for token in message.tokens}
    return bool(words & {"away", "free", "busy", "available", "holiday", "instead", "can", "work"})


def _is_figure(message: Message, index: int) -> bool:
    if not 0 <= index < len(message.tokens):
        return False
    token = message.tokens[index]
    return (
        token.kind is TokenKind.NUMBER
        and token.value == int(token.value or 0)
        and 1 <= token.value <= 31
    )


def _dated(
    start: int, stop: int, number: float, month: int | None, today: date, after: date | None
) -> DaySpan:
    """The next day of that number (and month) on or after today."""
    base = after or today
    day = int(number)
    if month is not None:
        for year in (base.year, base.year + 1):
            found = _date(year, month, day)
            if found is not None and found >= base:
                # a date of last month is a slip, not a plan for next year
                certain = (found - today).days <= 180
                return DaySpan(start, stop, found, found, certain)
        return DaySpan(start, stop, today, today, certain=False)
    for step in range(3):
        serial = base.month - 1 + step
        found = _date(base.year + serial // 12, serial % 12 + 1, day)
        if found is not None and found >= base:
            return DaySpan(start, stop, found, found, certain=(found - base).days <= 31)
    return DaySpan(start, stop, today, today, certain=False)


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
