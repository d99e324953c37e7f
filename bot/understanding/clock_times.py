"""Clock times and stretches of time: "quarter past nine", "9.15", "ten mins ago", "in 20".

Owners write the time without saying which half of the day or which day; it is told from the
oven's own clock: something already done happened at the latest such time before now.
"""

import re
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Literal

from bot.understanding.message import Message
from bot.understanding.patterns import words
from bot.understanding.tokens import TokenKind

_SLOW_CLOCK = timedelta(minutes=5)
"""An owner's watch may run this far ahead of ours."""


@dataclass(frozen=True, slots=True)
class ClockTime:
    """A time of day as it was said, at tokens ``start`` to ``stop`` (exclusive)."""

    start: int
    stop: int
    hour: int | None
    """None where only the minutes were said: "at quarter to"."""
    minute: int
    half: Literal["am", "pm", ""] = ""
    days_ago: int = 0

    def before(self, now: datetime) -> datetime:
        """The latest instant not after ``now`` (give or take a watch) at this time of day."""
        latest = now + _SLOW_CLOCK
        candidates = [
            datetime.combine(now.date() - timedelta(days=day), time(hour, self.minute), now.tzinfo)
            for day in ([self.days_ago] if self.days_ago else [0, 1])
            for hour in self._hours()
        ]
        return max((c for c in candidates if c <= latest), default=min(candidates))

    def after(self, now: datetime) -> datetime:
        """The first instant after ``now`` at this time of day."""
        candidates = [
            datetime.combine(now.date() + timedelta(days=day), time(hour, self.minute), now.tzinfo)
            for day in (0, 1)
            for hour in self._hours()
        ]
        return min(c for c in candidates if c > now)

    def _hours(self) -> tuple[int, ...]:
        if self.hour is None:
            return tuple(range(24))
        if self.half == "am":
            return (self.hour % 12,)
        if self.half == "pm":
            return (self.hour % 12 + 12 if self.hour <= 12 else self.hour,)
        if 1 <= self.hour <= 12:
            return (self.hour % 24, (self.hour + 12) % 24)
        return (self.hour,)


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of time, at tokens ``start`` to ``stop`` (exclusive)."""

    start: int
    stop: int
    minutes: float
    side: Literal["ago", "ahead", "long"]

    def before(self, now: datetime) -> datetime:
        """The instant that long ago."""
        return now - timedelta(minutes=self.minutes)


@dataclass(frozen=True, slots=True)
class JustNow:
    """ "Just", "just now", "a moment ago"."""

    start: int
    stop: int

    def before(self, now: datetime) -> datetime:
        """Now."""
        return now


Moment = ClockTime | Span | JustNow

_LEADS_A_TIME = words("at since from @ lit by until till around about before after started")
_AFTER_LIT = frozenset(["lit", "alight", "started", "stoked", "going", "lighted", "burning"])
_UNIT_MINUTES = {"minutes": 1.0, "hours": 60.0, "seconds": 1 / 60}
_AGO = frozenset(["ago", "back", "since", "earlier"])
_VAGUE_COUNTS = {"couple": 2.0, "few": 5.0, "several": 7.0}


def moments(message: Message, *, expects_time: bool) -> list[Moment]:
    """All times said in ``message``; their tokens are claimed.

    ``expects_time`` when the chat has just asked "when?": then a bare "9" or "915" is one.
    """
    found: list[Moment] = []
    index = 0
    while index < len(message.tokens):
        moment = (
            _span(message, index)
            or _spoken_time(message, index)
            or _digital(message, index, expects_time=expects_time)
            or _just_now(message, index)
        )
        if moment is None or not message.free(moment.start, moment.stop):
            index += 1
            continue
        message.claim(moment.start, moment.stop)
        found.append(moment)
        index = moment.stop
    return found


def _number(message: Message, index: int) -> float | None:
    if 0 <= index < len(message.tokens) and message.tokens[index].kind is TokenKind.NUMBER:
        return message.tokens[index].value
    return None


def _span(message: Message, start: int) -> Span | None:
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
        case [_, ("and" | "&"), "a", "half", "hours", *_] if _number(message, start) is not None:
            return message.tokens[start].value * 60 + 30, start + 5
    value = _number(message, start)
    if value is None or (message.word(start)[:2].isdigit() and message.word(start)[0] == "0"):
        return None
    stop = start + 1
    if words[1] in ("-", "to", "or") and _number(message, start + 2) is not None:
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
    value = _number(message, start)
    if value is None or message.word(start - 1) != "in" or not 1 <= value <= 120:
        return None
    after = message.word(start + 1)
    if after in ("", ".", ",", "!", "\n", "ok", "please", "or", "then", "thanks", "and"):
        return Span(start, start + 1, value, "ahead")
    return None


def _spoken_time(message: Message, start: int) -> ClockTime | None:
    words = [message.word(start + step) for step in range(5)]
    if words[0] in ("noon", "midday"):
        return ClockTime(start, start + 1, 12, 0, "pm")
    if words[0] == "midnight":
        return ClockTime(start, start + 1, 0, 0, "am")
    minute: float | None
    if words[0] == "half" and words[1] in ("past", "passed"):
        minute, way, at = 30, "past", start + 2
    elif words[0] == "half" and _number(message, start + 1) is not None:
        minute, way, at = 30, "past", start + 1
    elif words[0] == "quarter" and words[1] in _WAYS:
        minute, way, at = 15, _WAYS[words[1]], start + 2
    else:
        minute = _number(message, start)
        if minute is None or not 1 <= minute <= 59:
            return None
        skip = 2 if words[1] == "minutes" else 1
        if message.word(start + skip) not in ("past", "to", "til", "till", "passed"):
            return None
        way, at = _WAYS[message.word(start + skip)], start + skip + 1
    hour = _number(message, at)
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
        if hour > 23 or minute > 59:
            return None
        return _with_half(message, start, start + 1, hour, minute)
    if token.kind is not TokenKind.NUMBER or token.value != token.value:
        return None
    after = message.word(start + 1)
    led = message.word(start - 1) in _LEADS_A_TIME or message.word(start - 2) in ("lit", "started")
    lit_before = any(message.word(start - step) in _AFTER_LIT for step in (1, 2, 3))
    alone = expects_time and len(message.tokens) - start <= 3
    if after in ("am", "pm", "o'clock", "oclock") or (
        after in ("a", "p") and message.word(start + 2) in (".", "m")
    ):
        split = _hour_minute(token.text)
        return _with_half(message, start, start + 1, *split) if split else None
    if re.fullmatch(r"0\d{3}", token.text):
        split = _hour_minute(token.text)
        stop = start + 1 + (after == "hours")
        return _with_half(message, start, stop, *split) if split else None
    if after in ("degrees", "°", "c", "f", "celsius", "fahrenheit", "minutes", "hours", "%"):
        return None
    done = _is_of_a_deed(message, start)
    if re.fullmatch(r"\d{1,2}\.\d{2}", token.text) and (led or lit_before or alone or done):
        split = _hour_minute(token.text)
        return _with_half(message, start, start + 1, *split) if split else None
    spoken = _spoken_pair(message, start) if led else None
    if spoken is not None and (done or spoken[0] > _LARGEST_HUNDREDS):
        return _with_half(message, start, start + 2, *spoken)
    if message.word(start - 1) == "at" and _is_asked_for(message, start):
        split = _hour_minute(token.text)
        return _with_half(message, start, start + 1, *split) if split else None
    counted = message.word(start - 1) not in _LEADS_A_TIME and token.value <= 12
    if not (
        alone
        or (lit_before and message.word(start - 1) in _LEADS_A_TIME)
        or (
            message.word(start - 1) in _AFTER_LIT
            and not (counted and "stoked" in message.word(start - 1))
        )
    ):
        if (
            message.word(start - 1) == "at"
            and after in ("this", "tonight", "in")
            and (
                message.word(start + 2) in ("morning", "afternoon", "evening", "the")
                or after == "tonight"
            )
        ):
            split = _hour_minute(token.text)
            return _with_half(message, start, start + 1, *split) if split else None
        return None
    second = _number(message, start + 1)
    if (
        second is not None
        and 1 <= token.value <= 24
        and token.value == int(token.value)
        and len(message.word(start + 1)) == 2
        and second < 60
        and message.word(start + 2) not in ("degrees", "°", "c", "f", "minutes", "log", "logs")
    ):
        return _with_half(message, start, start + 2, int(token.value), int(second))
    split = _hour_minute(token.text)
    return _with_half(message, start, start + 1, *split) if split else None


_DEEDS = words(
    """
    stoked fed put added chucked threw popped loaded log logs piece pieces bit bits split splits
    stick sticks wood lit went out died
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
    hour, minute = _number(message, start), _number(message, start + 1)
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
        elif here in ("o'clock", "oclock", "ish", "sharp"):
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


def _just_now(message: Message, start: int) -> JustNow | None:
    pair, three = message.words(start, start + 2), message.words(start, start + 3)
    if three in ("a moment ago", "a minute ago", "a second ago", "a sec ago"):
        return JustNow(start, start + 3)
    if pair in ("just now", "right now", "moment ago"):
        return JustNow(start, start + 2)
    if message.word(start) == "just" and message.word(start + 1) in _JUST_DONE:
        return JustNow(start, start + 1)
    return None


_JUST_DONE = words(
    """
    lit put added stoked chucked threw fed started popped loaded placed went gone lighted
    """
)
