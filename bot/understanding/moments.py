"""Moments as they are said: a time of day, a stretch of time, just now.

Owners leave out which half of the day and which day; that is told from the oven's own clock:
something already done happened at the latest such time before now.
"""

from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Literal

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
