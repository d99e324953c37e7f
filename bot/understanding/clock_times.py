"""Times of day: "quarter past nine", "9.15", "915", "nine forty five", "at quarter to".

A figure is only a time where its form, the word before it or the deed it stands beside says so.
"""

import re
from typing import Literal

from bot.understanding.message import Message
from bot.understanding.moments import ClockTime, Moment
from bot.understanding.patterns import words
from bot.understanding.stretches import just_now, number, span
from bot.understanding.tokens import TokenKind

_LEADS_A_TIME = words("at since from @ lit by until till around about before after started")
_AFTER_LIT = frozenset(["lit", "alight", "started", "stoked", "going", "lighted", "burning"])


def moments(message: Message, *, expects_time: bool) -> list[Moment]:
    """All times said in ``message``; their tokens are claimed.

    ``expects_time`` when the chat has just asked "when?": then a bare "9" or "915" is one.
    """
    found: list[Moment] = []
    index = 0
    while index < len(message.tokens):
        moment = (
            span(message, index)
            or _spoken_time(message, index)
            or _digital(message, index, expects_time=expects_time)
            or just_now(message, index)
        )
        if moment is None or not message.free(moment.start, moment.stop):
            index += 1
            continue
        message.claim(moment.start, moment.stop)
        found.append(moment)
        index = moment.stop
    return found


def _spoken_time(message: Message, start: int) -> ClockTime | None:
    words = [message.word(start + step) for step in range(5)]
    if words[0] in ("noon", "midday"):
        return ClockTime(start, start + 1, 12, 0, "pm")
    if words[0] == "midnight":
        return ClockTime(start, start + 1, 0, 0, "am")
    minute: float | None
    if words[0] == "half" and words[1] in ("past", "passed"):
        minute, way, at = 30, "past", start + 2
    elif words[0] == "half" and number(message, start + 1) is not None:
        minute, way, at = 30, "past", start + 1
    elif words[0] == "quarter" and words[1] in _WAYS:
        minute, way, at = 15, _WAYS[words[1]], start + 2
    else:
        minute = number(message, start)
        if minute is None or not 1 <= minute <= 59:
            return None
        skip = 2 if words[1] == "minutes" else 1
        if message.word(start + skip) not in ("past", "to", "til", "till", "passed"):
            return None
        way, at = _WAYS[message.word(start + skip)], start + skip + 1
    hour = number(message, at)
    if hour is None and _says_only_minutes(message, start, at):
        return ClockTime(start, at, None, int(minute) if way == "past" else 60 - int(minute))
    if hour is None or not 1 <= hour <= 12 or hour != int(hour):
        return None
    if minute != int(minute):
        return None
    if words[0] == "half" and message.word(at + 1) in (
        "minutes",
        "hours",
        "°",
        "degrees",
        "log",
        "logs",
    ):
        return None
    total = int(hour) * 60 + (int(minute) if way == "past" else -int(minute))
    return _with_half(message, start, at + 1, (total // 60) or 12, total % 60)


def _says_only_minutes(message: Message, start: int, stop: int) -> bool:
    """ "At quarter to", "since ten past": the hour goes without saying."""
    before = message.word(start - 1)
    return before in ("at", "since", "about", "around") and (
        message.word(stop) in ("", ",", ".", "!", "?", "and", "\n")
    )


_WAYS = {
    "past": "past",
    "passed": "past",
    "after": "past",
    "to": "to",
    "till": "to",
    "til": "to",
    "before": "to",
    "of": "to",
}


def _digital(message: Message, start: int, *, expects_time: bool) -> ClockTime | None:
    token = message.tokens[start]
    if token.kind is TokenKind.CLOCK:
        hour, minute = map(int, token.text.split(":"))
        ok = hour < 24 and minute < 60
        return _with_half(message, start, start + 1, hour, minute) if ok else None
    if token.kind is not TokenKind.NUMBER:
        return None
    if _half_of_day_follows(message, start + 1) or _FOUR_FIGURES.fullmatch(token.text):
        return _figures_as_time(message, start)
    if message.word(start + 1) in _NO_TIME_BEFORE:
        return None
    before = message.word(start - 1)
    led = before in _LEADS_A_TIME or message.word(start - 2) in ("lit", "started")
    lit = any(message.word(start - step) in _AFTER_LIT for step in (1, 2, 3))
    alone = expects_time and len(message.tokens) - start <= 3
    deed = _is_of_a_deed(message, start)
    if _HOUR_POINT_MINUTE.fullmatch(token.text) and (led or lit or alone or deed):
        return _figures_as_time(message, start)
    pair = _spoken_pair(message, start) if led else None
    if pair is not None and (deed or pair[0] > _LARGEST_HUNDREDS):
        return _with_half(message, start, start + 2, *pair)
    whole_hour = 1 <= token.value <= _MOST_HOURS and token.value % 1 == 0
    alone_there = number(message, start + 1) is None
    late = deed and (token.value >= _NO_DOME or (whole_hour and alone_there))
    part_of_day = (deed or whole_hour) and _part_of_day_follows(message, start)
    asked_for = whole_hour and _is_asked_for(message, start)
    if before == "at" and (late or asked_for or part_of_day):
        return (deed and _hour_then_minute(message, start)) or _figures_as_time(message, start)
    pieces = before == "stoked" and token.value <= _MOST_PIECES
    if alone or (lit and before in _LEADS_A_TIME) or (before in _AFTER_LIT and not pieces):
        return _hour_then_minute(message, start) or _figures_as_time(message, start)
    return None


_FOUR_FIGURES = re.compile(r"0\d{3}")
_HOUR_POINT_MINUTE = re.compile(r"\d{1,2}\.\d{2}")
_NO_TIME_BEFORE = words("degrees ° c f celsius fahrenheit minutes hours %")
_NO_DOME = 700
"""No dome reads so much in either unit during a break-in: "logs at 940" is a time."""
_MOST_HOURS = 12
"""Of a clock: "fed it at 9"."""
_MOST_PIECES = 12
"""Up to here the figure after "stoked" counts wood."""


def _half_of_day_follows(message: Message, index: int) -> bool:
    """Whether "am", "p.m." or "o'clock" stands there."""
    if message.word(index) in ("am", "pm", "o'clock", "oclock", "clock"):
        return True
    return message.word(index) in ("a", "p") and message.word(index + 1) in (".", "m")


def _part_of_day_follows(message: Message, start: int) -> bool:
    """ "At 9 this morning", "at 9 tonight"."""
    after, then = message.word(start + 1), message.word(start + 2)
    return after == "tonight" or (
        after in ("this", "in") and then in ("morning", "afternoon", "evening", "the")
    )


def _figures_as_time(message: Message, start: int) -> ClockTime | None:
    split = _hour_minute(message.word(start))
    if split is None:
        return None
    stop = start + 1
    if _FOUR_FIGURES.fullmatch(message.word(start)) and message.word(stop) == "hours":
        stop += 1
    return _with_half(message, start, stop, *split)


def _hour_then_minute(message: Message, start: int) -> ClockTime | None:
    """ "Lit 9 15": two figures after the word."""
    hour, minute = message.tokens[start].value, number(message, start + 1)
    if minute is None or len(message.word(start + 1)) != 2 or minute >= 60:
        return None
    if not (1 <= hour <= 24 and hour % 1 == 0):
        return None
    if message.word(start + 2) in (*_NO_TIME_BEFORE, "log", "logs"):
        return None
    return _with_half(message, start, start + 2, int(hour), int(minute))


_DEEDS = words(
    """
    stoked fed put added chucked threw popped loaded log logs piece pieces bit bits split splits
    stick sticks wood lit went out died started light lighting lighted start
    """
)


_LARGEST_HUNDREDS = 6
"""Up to here "four fifty" is as likely a temperature; no dome reads 930."""


def _is_of_a_deed(message: Message, index: int) -> bool:
    """Whether the clause tells of wood or of lighting rather than of a thermometer."""
    clause = message.clause_of(index)
    start = clause.start
    if clause.stop - start <= 2 and start > 0:
        # "one log, 9.50"
        start = message.clause_of(start - 1).start
    return any(message.word(i) in _DEEDS for i in range(start, clause.stop))


def _is_asked_for(message: Message, index: int) -> bool:
    clause = message.clause_of(index)
    return any(message.word(i) in ("remind", "nudge", "ping") for i in range(clause.start, index))


def _spoken_pair(message: Message, start: int) -> tuple[int, int] | None:
    """ "Nine forty five" as hour and minute."""
    hour, minute = number(message, start), number(message, start + 1)
    if hour is None or minute is None or not message.tokens[start + 1].spoken:
        return None
    if not (1 <= hour <= 12 and 10 <= minute < 60 and hour % 1 == minute % 1 == 0):
        return None
    return int(hour), int(minute)


def _hour_minute(text: str) -> tuple[int, int] | None:
    """9.15, 9,15, 915, 0915 and 9 as hour and minute; None if that is no time of day."""
    found = re.fullmatch(r"(\d{1,2})(?:[.,]?(\d{2}))?", text)
    if found is None:
        return None
    hour, minute = int(found[1]), int(found[2] or 0)
    if (
        found[2]
        and hour * 100 + minute >= 100
        and "." not in text
        and "," not in text
        and len(text) < 3
    ):
        return None
    return (hour, minute) if hour < 24 and minute < 60 else None


def _with_half(message: Message, start: int, stop: int, hour: int, minute: int) -> ClockTime:
    half: Literal["am", "pm", ""] = ""
    days_ago = 0
    while True:
        here, then = message.word(stop), message.words(stop, stop + 3)
        if here in ("am", "pm"):
            half = "am" if here == "am" else "pm"
            stop += 1
        elif here in ("o'clock", "oclock", "clock", "ish", "sharp"):
            stop += 1
        elif then == "in the morning" or message.words(stop, stop + 2) == "this morning":
            half = "am"
            stop += 3 if here == "in" else 2
        elif here == "tonight" or message.words(stop, stop + 2) in (
            "this afternoon",
            "this evening",
            "at night",
        ):
            half = "pm"
            stop += 1 if here == "tonight" else 2
        elif then in ("in the afternoon", "in the evening"):
            half = "pm"
            stop += 3
        elif message.words(stop, stop + 2) == "last night":
            half, days_ago = "pm", 1
            stop += 2
        elif here == "yesterday":
            days_ago = 1
            stop += 1
        else:
            return ClockTime(start, stop, hour, minute, half, days_ago)
