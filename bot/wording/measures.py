"""Numbers, times and amounts as one reader sees them."""

import math
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

Unit = Literal["C", "F"]

PIECE_KG = 0.5
"""A split piece about 30 cm long and as thick as a wrist, dry hardwood
(0.30 m × (0.05 m)² × 680 kg/m³ ≈ 0.5 kg; density after the Wood Handbook, Table 5-3)."""

NUMBER_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


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

    def degrees(self, celsius: float, step: int = 1) -> str:
        """A temperature, rounded to ``step`` of the reader's degrees: ``150 °C``."""
        shown = celsius if self.unit == "C" else celsius * 1.8 + 32
        return f"{round(shown / step) * step:.0f} °{self.unit}"

    def about_degrees(self, celsius: float) -> str:
        """A temperature that is aimed at or expected, to the nearest five."""
        return self.degrees(celsius, 5)

    def degrees_range(self, low: float, high: float) -> str:
        """Two temperatures: ``150-165 °C``; one where they round to the same."""
        first, last = self.about_degrees(low), self.about_degrees(high)
        return last if first == last else f"{first.split()[0]}–{last}"

    def difference(self, kelvin: float) -> str:
        """A difference of temperatures."""
        shown = kelvin if self.unit == "C" else kelvin * 1.8
        return f"{round(shown / 5) * 5:.0f} °{self.unit}"

    def clock(self, instant: datetime) -> str:
        """A time of day in the oven's zone: ``9:15``, with the day when it is not today."""
        local = instant.astimezone(self.zone)
        shown = f"{local.hour}:{local:%M}"
        return shown if local.date() == self.today else f"{self.day(local.date())} at {shown}"

    def day(self, day: date) -> str:
        """A day near today by its name, one far off with its date."""
        ahead = (day - self.today).days
        if ahead == 0:
            return "today"
        if ahead == 1:
            return "tomorrow"
        if ahead == -1:
            return "yesterday"
        if 1 < ahead < 7:
            return f"{day:%A}"
        return self.date(day)

    def date(self, day: date) -> str:
        """A date that cannot be mistaken: ``Sat 28 Nov``, with the year when it differs."""
        year = f" {day.year}" if day.year != self.today.year else ""
        return f"{day:%a} {day.day} {day:%b}{year}"


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


def hours(value: float) -> str:
    """A planned length in hours: ``about 3½ hours``."""
    return f"about {duration(timedelta(hours=value))}"


def count_word(count: int) -> str:
    """Small numbers as words."""
    return NUMBER_WORDS[count] if 0 <= count < len(NUMBER_WORDS) else str(count)


def pieces(kilograms: float) -> int:
    """How many wrist-thick split pieces that weight is, never rounded up past the weight.

    Rounded down, since a person counts pieces and does not weigh them; at least one.
    """
    return max(1, math.floor(kilograms / PIECE_KG + 0.25))


def wood(kilograms: float) -> str:
    """An amount of wood in kilograms and as a count of pieces."""
    count = pieces(kilograms)
    noun = "piece" if count == 1 else "pieces"
    return f"{count_word(count)} wrist-thick {noun} (about {kilograms:.1f} kg)"


def litres(amount: float) -> str:
    """An amount of water."""
    if amount < 0.25:
        return "hardly any water"
    if amount < 3:
        return f"{amount:.1f} litres"
    return f"{amount:.0f} litres"


def listed(items: list[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(items) < 2:
        return "".join(items)
    return ", ".join(items[:-1]) + " and " + items[-1]
