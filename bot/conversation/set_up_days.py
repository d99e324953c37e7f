"""The end of the wet work, and the days and hours of a fire, as people type them."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Literal

from bot.understanding.dates import said_dates

ALL = re.compile(
    r"\b(any|every|all|always|whenever|anytime|everyday|flexible|7 days|no preference|"
    r"don'?t mind|not fussy)\b"
)


@dataclass(frozen=True, slots=True)
class Asked:
    """What surrounds an answer: the person's unit, the local present, the oven's zone, and
    a builder's own constructions, their titles by their keys."""

    unit: Literal["C", "F"]
    now: datetime
    zone: str = "UTC"
    own: Mapping[str, str] = field(default_factory=dict)

    @property
    def today(self) -> date:
        """The date at the oven."""
        return self.now.date()


_MONTH_FIRST = ("America/", "US/")

_AGO = re.compile(
    r"\b(\d+|a|an|one|two|three|four|five|six|seven|eight|nine|ten|couple of|few)\s+"
    r"(day|week|fortnight|month)s?\b"
)
_IS_AGO = re.compile(r"\b(ago|since|back|old)\b")
_AHEAD = re.compile(
    r"\b(next|this|coming|tomorrow|will|going to|hope|plan|planned|expect|soon|not done|"
    r"not finished|isn't|in \w+ (?:days?|weeks?|months?))\b|'ll\b"
)


def wet_work(said: str, asked: Asked) -> tuple[str, ...]:
    """The ISO dates that the words may mean, likeliest first; none where they say no date.

    Of two the earlier is never taken for granted: it would let a fire come too soon.
    """
    ago = _AGO.search(said)
    if ago and _IS_AGO.search(said):
        return ((asked.today - timedelta(days=_span_days(ago[1], ago[2]))).isoformat(),)
    dates = list(said_dates(said, asked.today))
    if _AHEAD.search(said):
        dates += [day for day in said_dates(said, asked.today, "future") if day not in dates]
    if asked.unit == "F" and asked.zone.startswith(_MONTH_FIRST):
        dates.reverse()
    return tuple(day.isoformat() for day in dates)


_COUNTS = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
    "eight": 8, "nine": 9, "ten": 10, "couple of": 2, "few": 3,
}  # fmt: skip
_DAYS_OF = {"day": 1, "week": 7, "fortnight": 14, "month": 30}


def _span_days(count: str, what: str) -> int:
    """A few is three, a month thirty days: a little short, so that the cure waits longer."""
    return (_COUNTS.get(count) or int(count)) * _DAYS_OF[what]


_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DAY_WORD = r"(mon|tue|tues|wed|weds|thu|thur|thurs|fri|sat|satur|sun)(?:day|nesday|sday|rsday)?s?"


_EXCEPT = re.compile(
    r"\b(?:except(?:ing)?|excluding|excl|bar|barring|apart from|other than|without|never|minus|"
    r"save|but(?! also)(?: not)?|not|no|can'?t(?: do)?|cannot)\b"
)
_RATHER = re.compile(r"\b(prefer\w*|ideally|best|rather|mostly|mainly|usually|fussy|preference)\b")
"""A wish leaves the other days open."""


def days(said: str) -> str | None:
    """Weekday digits, Monday 0."""
    if re.fullmatch(r"[0-6]{1,7}", said):
        return said
    left = set(range(7)) if ALL.search(said) else set()
    but = _EXCEPT.split(said, maxsplit=1)
    named = _named_days(but[0])
    excluded = set() if len(but) == 1 or _RATHER.search(but[1]) else _named_days(but[1])
    chosen = named or left or (set(range(7)) if excluded else set())
    left_over = sorted(chosen - excluded)
    if left_over:
        return "".join(map(str, left_over))
    return "0123456" if re.fullmatch(r"(yes|yep|ok|okay|fine|sure)", said) else None


def _named_days(said: str) -> set[int]:
    found: set[int] = set()
    if re.search(r"\bweek ?ends?\b", said):
        found |= {5, 6}
    if re.search(r"\b(week ?days?|in the week|working days)\b", said):
        found |= {0, 1, 2, 3, 4}
    for span in re.finditer(
        rf"\b{_DAY_WORD}\s*(?:-|–|to|till|until|through|thru)\s*{_DAY_WORD}\b", said
    ):
        first, last = (_WEEKDAYS.index(name[:3]) for name in span.groups())
        found |= {(first + step) % 7 for step in range((last - first) % 7 + 1)}
    found |= {_WEEKDAYS.index(hit[1][:3]) for hit in re.finditer(rf"\b{_DAY_WORD}\b", said)}
    return found


_CLOCK = r"(\d{1,2})(?:[:.](\d{2}))?\s*(am|pm|a\.m|p\.m|o'?clock)?"
_MORNING = re.compile(r"\b(\d{1,2}(?:[:.]\d{2})?)\s+in the mornings?\b")
_LATE = re.compile(
    r"\b((?:[1-9]|1[01])(?:[:.]\d{2})?)\s+(?:in the (?:afternoon|evening)s?|(?<![1-4] )at night)\b"
)
_MIDNIGHT = re.compile(r"\bmidnight\b|\b12\s+at night\b")
_OFTEN = {
    "morning": "7-13",
    "mornings": "7-13",
    "afternoon": "12-18",
    "afternoons": "12-18",
    "evening": "16-22",
    "evenings": "16-22",
    "daytime": "8-18",
    "office hours": "9-17",
}


def hours(said: str) -> str | None:
    """Local hours as 9-18."""
    said = _MIDNIGHT.sub("24", said)
    said = _LATE.sub(r"\1pm", _MORNING.sub(r"\1am", said))
    said = said.replace("noon", "12pm").replace("midday", "12pm")
    span = re.search(rf"{_CLOCK}\s*(?:-|–|to|till|til|until|and)\s*{_CLOCK}", said)
    if span:
        end = _hour(span[4], span[5], span[6])
        begin = _hour(span[1], span[2], span[3])
        if end <= begin and not span[6] and end <= 12:
            end += 12
        if begin > end and span[6] and not span[3] and begin > 12:
            begin -= 12
        return f"{begin:g}-{end:g}"
    after = re.search(rf"\b(?:after|from|past)\s+{_CLOCK}", said)
    if after:
        begin = _hour(after[1], after[2], after[3])
        if begin <= 6 and not after[3]:
            begin += 12
        return f"{begin:g}-22"
    before = re.search(rf"\b(?:before|until|till|til|by)\s+{_CLOCK}", said)
    if before:
        end = _hour(before[1], before[2], before[3])
        return f"7-{end + 12 if end <= 6 and not before[3] else end:g}"
    if ALL.search(said) or re.fullmatch(r"(yes|yep|ok|okay|fine|sure)", said):
        return "7-22"
    return next((hours for word, hours in _OFTEN.items() if re.search(rf"\b{word}\b", said)), None)


def _hour(hour: str, minute: str | None, half: str | None) -> float:
    value = int(hour) + (int(minute) / 60 if minute else 0)
    if half and half.startswith("p") and value < 12:
        value += 12
    if half and half.startswith("a") and value >= 12:
        value -= 12
    return value
