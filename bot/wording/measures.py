"""Numbers, times and amounts as one reader sees them."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from scheduling.firing.wood import pieces_of

Unit = Literal["C", "F"]

NUMBER_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")

HARDLY_ANY_L = 0.25


@dataclass(frozen=True, slots=True)
class Measures:
    """One reader's unit, and the oven's own zone with the present instant in it."""

    unit: Unit
    zone: ZoneInfo
    now: datetime

    @property
    def today(self) -> date:
        """The date in the oven's own zone."""
        return self.now.astimezone(self.zone).date()

    @property
    def example_top(self) -> str:
        """A reading as it may be typed."""
        return "152" if self.unit == "C" else "305"

    @property
    def example_top_and_sides(self) -> str:
        """The same with a side."""
        return "top 152 sides 140" if self.unit == "C" else "top 305 sides 285"

    @property
    def example_cap(self) -> str:
        """A cap as a builder may type it."""
        return "cap 250" if self.unit == "C" else "cap 480"

    def shown(self, celsius: float) -> float:
        """A temperature on the reader's scale."""
        return celsius if self.unit == "C" else celsius * 1.8 + 32

    def degrees(self, celsius: float, step: int = 1) -> str:
        """A temperature, rounded to ``step`` of the reader's degrees: ``150 °C``."""
        return f"{degree_figure(round(self.shown(celsius) / step) * step)} °{self.unit}"

    def about_degrees(self, celsius: float) -> str:
        """A temperature that is aimed at or expected, to the nearest five."""
        return self.degrees(celsius, 5)

    def degrees_range(self, low: float, high: float) -> str:
        """Two temperatures: ``150–165 °C``; one where they round to the same, or where only one
        of them is a bound at all. The upper is rounded down: it may be what nothing is to pass."""
        if math.isinf(high):
            return f"{self.about_degrees(low)} or more"
        if math.isinf(low):
            return f"{self.about_degrees(high)} or less"
        first, last = self._ends(low, high)
        if first == last:
            return f"{degree_figure(last)} °{self.unit}"
        return f"{degree_figure(first)}–{degree_figure(last)} °{self.unit}"

    def beyond(self, celsius: float, low: float, high: float) -> str:
        """How far a temperature lies outside of a range, by what both are told as: ``38 °C``."""
        first, last = self._ends(low, high)
        shown = round(self.shown(celsius))
        return f"{max(shown - last, first - shown, 0)} °{self.unit}"

    def _ends(self, low: float, high: float) -> tuple[int, int]:
        last = math.floor(self.shown(high) / 5 + 1e-6) * 5
        return min(round(self.shown(low) / 5) * 5, last), last

    def difference(self, kelvin: float) -> str:
        """A difference of temperatures, never less than one step of five."""
        shown = abs(kelvin) * (1.0 if self.unit == "C" else 1.8)
        return f"{max(5, round(shown / 5) * 5):.0f} °{self.unit}"

    def rate(self, kelvin_per_hour: float) -> str:
        """How fast a temperature changes: ``40 °C an hour``."""
        return f"{self.difference(kelvin_per_hour)} an hour"

    def clock(self, instant: datetime) -> str:
        """A time of day in the oven's zone: ``9:15``, with the day when it is not today."""
        local = instant.astimezone(self.zone)
        shown = f"{local.hour}:{local:%M}"
        return shown if local.date() == self.today else f"{self.day(local.date())} at {shown}"

    def at_clock(self, instant: datetime) -> str:
        """The same after a verb: ``at 9:15``, ``yesterday at 9:15``."""
        day = instant.astimezone(self.zone).date()
        clock = f"at {self.hour(instant)}"
        return clock if day == self.today else f"{self.on_day(day)} {clock}"

    def hour(self, instant: datetime) -> str:
        """A time of day in the oven's zone, whatever the day."""
        local = instant.astimezone(self.zone)
        return f"{local.hour}:{local:%M}"

    def day(self, day: date) -> str:
        """A day near today by its name, one far off with its date."""
        ahead = (day - self.today).days
        if ahead in (-1, 0, 1):
            return ("yesterday", "today", "tomorrow")[ahead + 1]
        return f"{day:%A}" if 1 < ahead < 7 else self.dated(day)

    def on_day(self, day: date) -> str:
        """The same after a verb: ``on Saturday``, ``tomorrow``."""
        return self.day(day) if abs((day - self.today).days) <= 1 else f"on {self.day(day)}"

    def dated(self, day: date) -> str:
        """A date that cannot be mistaken: ``Sat 28 Nov``, with the year when it differs."""
        year = f" {day.year}" if day.year != self.today.year else ""
        return f"{day:%a} {day.day} {day:%b}{year}"

    def span(self, first: date, last: date | None = None) -> str:
        """One day, or the first and the last of several."""
        if last is None or last == first:
            return self.day(first)
        return f"{self.dated(first)} to {self.dated(last)}"

    def on_span(self, first: date, last: date | None = None) -> str:
        """The same after a verb: ``on Saturday``, ``from Sat 28 Nov to Mon 30 Nov``."""
        if last is None or last == first:
            return self.on_day(first)
        return f"from {self.span(first, last)}"

    def length(self, millimetres: float) -> str:
        """A size of the oven: centimetres, or inches beside °F."""
        if self.unit == "F":
            return f"{millimetres / 25.4:.0f} in"
        return f"{millimetres / 10:g} cm"


def degree_figure(value: float) -> str:
    """A figure with a true minus sign."""
    return f"−{-value:.0f}" if value < 0 else f"{abs(value):.0f}"


def duration(span: timedelta) -> str:
    """A length of time as one says it: ``20 minutes``, ``3½ hours``, ``2 days``."""
    minutes = max(0.0, span.total_seconds() / 60)
    if minutes < 1:
        return "a moment"
    if minutes < 90:
        whole = round(minutes) if minutes < 12 else round(minutes / 5) * 5
        return f"{whole} minute" + ("" if whole == 1 else "s")
    halves = round(minutes / 30)
    if halves < 72:
        half = "½" if halves % 2 else ""
        return f"{halves // 2}{half} hours"
    days = round(minutes / 1440)
    return f"{days} day" + ("" if days == 1 else "s")


def minutes(value: float) -> str:
    """A length of time given in minutes."""
    return duration(timedelta(minutes=value))


def hours(value: float) -> str:
    """A length of time given in hours: ``3½ hours``, ``1 hour``, ``45 minutes``."""
    if 0.9 <= value < 1.25:
        return "1 hour"
    return duration(timedelta(hours=value))


def held(value: float) -> str:
    """How long a fire was kept in its range, given in hours, to five minutes: ``2 h 40 min``.

    Chat, picture and paper all tell it by this, and hand it the hours as they were reckoned: what
    has been rounded once may come out otherwise when it is rounded again.
    """
    whole, rest = divmod(round(max(0.0, value) * 12) * 5, 60)
    if not whole:
        return f"{rest} min" if rest else "a moment" if value > 0 else "none"
    return f"{whole} h {rest} min" if rest else f"{whole} h"


def count_word(count: int) -> str:
    """Small numbers as words."""
    return NUMBER_WORDS[count] if 0 <= count < len(NUMBER_WORDS) else str(count)


def counted(count: int, one: str, many: str | None = None) -> str:
    """``one fire``, ``three fires``, ``12 fires``."""
    return f"{count_word(count)} {one if count == 1 else many or one + 's'}"


def times(count: int) -> str:
    """``once``, ``twice``, ``three times``."""
    return {1: "once", 2: "twice"}.get(count, f"{count_word(count)} times")


def thickness(piece_mm: float) -> str:
    """How thick a piece is, by the hand that holds it (common practice, no published source)."""
    if piece_mm < 38:
        return "thumb-thick"
    return "two-thumbs-thick" if piece_mm < 53 else "wrist-thick"


def pieces(count: int, piece_mm: float) -> str:
    """A count of pieces: ``two thumb-thick sticks``."""
    noun = "stick" if piece_mm < 38 else "piece"
    return f"{count_word(count)} {thickness(piece_mm)} {noun}" + ("" if count == 1 else "s")


def wood(kilograms: float, piece_mm: float, count: int | None = None) -> str:
    """An amount of wood as a count of pieces and in kilograms.

    Without ``count`` the number of pieces comes nearest from below: a person counts them.
    """
    number = count if count is not None else pieces_of(kilograms, piece_mm)
    return f"{pieces(number, piece_mm)} (about {kilogram(kilograms)})"


def kilogram(amount: float) -> str:
    """A weight of wood, to 0.1 kg below ten."""
    return f"{max(0.1, amount):.1f} kg" if amount < 9.95 else f"{amount:.0f} kg"


def _litres(amount: float) -> str:
    return f"{amount:.1f} litres" if amount < 3 else f"{amount:.0f} litres"


def water(low_l: float, high_l: float) -> str:
    """Low and high of an amount of water."""
    if high_l < HARDLY_ANY_L:
        return "hardly any water"
    if low_l < HARDLY_ANY_L:
        return f"at most {_litres(high_l)} of water"
    low, high = _litres(low_l), _litres(high_l)
    return f"{high if low == high else low.split()[0] + '–' + high} of water"


def percent(share: float) -> str:
    """A share of one, to the nearest five per cent."""
    return f"{round(share * 20) * 5} %"


def listed(items: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(items) < 2:
        return "".join(items)
    return ", ".join(items[:-1]) + " and " + items[-1]


def sentence(text: str) -> str:
    """The same with a capital first letter."""
    return text[:1].upper() + text[1:]
