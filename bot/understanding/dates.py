"""Dates as people answer "when did the wet work end?": "3 Nov", "3/11/26", "last Tuesday".

A wrong month may make young mortar look old, so what can be two dates is given as both: figures
that are a date in either order, and a day without a year that lies far back.
"""

import re
from datetime import date, datetime, time, timedelta
from typing import Any, Literal

from bot.understanding.calendar_words import WEEKDAYS
from bot.understanding.normalise import normalise

Side = Literal["past", "future"]

_LONG_AGO = timedelta(days=180)
"""A day further back than this, without its year, may as well be the coming one."""
_ISO = re.compile(r"(?<!\d)(\d{4})-(\d{1,2})-(\d{1,2})(?!\d)")
_NUMBERED = re.compile(r"(?<![\d/.-])(\d{1,2})([/.-])(\d{1,2})(?:\2(\d{4}|\d{2}))?(?![\d/]|[.-]\d)")
_WEEKDAY = re.compile(rf"\b({'|'.join(sorted(WEEKDAYS, key=len, reverse=True))})\b")
_DAYS_BACK = (("day before yesterday", 2), ("yesterday", 1), ("last night", 1), ("today", 0))


def said_date(text: str, today: date, prefer: Side = "past") -> date | None:
    """The one date that ``text`` says, or None where it says none or may mean several."""
    dates = said_dates(text, today, prefer)
    return dates[0] if len(dates) == 1 else None


def said_dates(text: str, today: date, prefer: Side = "past") -> tuple[date, ...]:
    """The dates that ``text`` may mean, likeliest first; empty where it says none.

    ``prefer`` tells on which side of ``today`` a weekday, or a day without a year, is looked for.
    """
    plain = normalise(text)
    iso = _ISO.search(plain)
    if iso is not None:
        return _existing(int(iso[1]), int(iso[2]), int(iso[3]))
    numbered = _NUMBERED.search(plain)
    if numbered is not None:
        year = int(numbered[4]) if numbered[4] else None
        return numbered_dates(int(numbered[1]), int(numbered[3]), year, today, prefer)
    for words, back in _DAYS_BACK:
        if words in plain:
            return (today - timedelta(days=back),)
    weekday = _WEEKDAY.search(plain)
    if weekday is not None and not re.search(r"\d", plain):
        return (_weekday(WEEKDAYS[weekday[1]], today, prefer),)
    return _worded(plain, today, prefer)


def numbered_dates(
    first: int, second: int, year: int | None, today: date, prefer: Side
) -> tuple[date, ...]:
    """The dates of two figures in either order, day before month first; two-digit years are 20xx.

    Without a year it is the nearest such day on the preferred side of ``today``.
    """
    found: list[date] = []
    for day, month in ((first, second), (second, first)):
        if year is not None:
            found += _existing(year + 2000 if year < 100 else year, month, day)
        else:
            years = (today.year - 1, today.year, today.year + 1)
            every = [one for at in years for one in _existing(at, month, day)]
            past, ahead = [d for d in every if d <= today], [d for d in every if d >= today]
            found += past[-1:] if prefer == "past" else ahead[:1]
    return tuple(dict.fromkeys(found))


def _existing(year: int, month: int, day: int) -> tuple[date, ...]:
    try:
        return (date(year, month, day),)
    except ValueError:
        return ()


def _weekday(number: int, today: date, prefer: Side) -> date:
    if prefer == "past":
        return today - timedelta(days=(today.weekday() - number) % 7 or 7)
    return today + timedelta(days=(number - today.weekday()) % 7 or 7)


def _worded(plain: str, today: date, prefer: Side) -> tuple[date, ...]:
    """ "3 Nov", "three weeks ago": by a library that is only loaded when it is needed."""
    found = _searched(plain, today, prefer)
    if prefer == "past" and len(found) == 1 and today - found[0] > _LONG_AGO:
        # with a year, or "ago", this is the same date again
        return tuple(dict.fromkeys([*found, *_searched(plain, today, "future")]))
    return found


def _searched(plain: str, today: date, prefer: Side) -> tuple[date, ...]:
    from dateparser.search import search_dates

    options: dict[str, Any] = {
        "RELATIVE_BASE": datetime.combine(today, time(12)),
        "PREFER_DATES_FROM": prefer,
        "REQUIRE_PARTS": ["day", "month"],
    }
    found = search_dates(plain, languages=["en"], settings=options) or []
    return tuple(dict.fromkeys(instant.date() for _, instant in found))
