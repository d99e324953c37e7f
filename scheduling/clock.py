"""Time as a port.

Everything that needs the time is handed a clock. Nothing in the house calls
``datetime.now`` itself, so a rehearsal of six days runs in seconds and a replayed
bug report sees the very instants that its owner saw.
"""

import asyncio
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Protocol


class Clock(Protocol):
    """Tells the instant, in UTC, and waits."""

    def now(self) -> datetime:
        """The present instant, timezone-aware, in UTC."""
        ...

    async def sleep_until(self, instant: datetime) -> None:
        """Return once ``instant`` is reached; at once if it has passed."""
        ...


class SystemClock:
    """The machine's own clock."""

    def now(self) -> datetime:
        """The machine's time in UTC."""
        return datetime.now(UTC)

    async def sleep_until(self, instant: datetime) -> None:
        """Wait in real time. Wakes in steps, so that a corrected clock is noticed."""
        while (left := (instant - self.now()).total_seconds()) > 0:  # noqa: ASYNC110 - nothing but time is waited for
            await asyncio.sleep(min(left, 30.0))


class PacedClock:
    """Runs ``pace`` times as fast as real time from ``start`` on, and can leap ahead."""

    def __init__(
        self, start: datetime, pace: float, monotonic: Callable[[], float] = time.monotonic
    ) -> None:
        if pace <= 0:
            raise ValueError("pace must be above 0: 60 makes an hour pass in a minute")
        self.pace = pace
        self._start = start.astimezone(UTC)
        self._monotonic = monotonic
        self._began = monotonic()
        self._leapt = asyncio.Event()

    def now(self) -> datetime:
        """The paced instant."""
        return self._start + timedelta(seconds=(self._monotonic() - self._began) * self.pace)

    def leap_to(self, instant: datetime) -> None:
        """Go on from ``instant``; whoever waits looks at the clock again. Raises ValueError for a
        leap back."""
        if instant < self.now():
            raise ValueError(f"time does not go back: from {self.now()} to {instant}")
        self._start, self._began = instant.astimezone(UTC), self._monotonic()
        leapt, self._leapt = self._leapt, asyncio.Event()
        leapt.set()

    async def sleep_until(self, instant: datetime) -> None:
        """Wait until the paced clock shows ``instant``."""
        while (left := (instant - self.now()).total_seconds()) > 0:
            try:
                await asyncio.wait_for(self._leapt.wait(), left / self.pace)
            except TimeoutError:
                continue


class SteppedClock:
    """Stands still until it is moved by hand; it never goes back."""

    def __init__(self, start: datetime) -> None:
        self._now = start.astimezone(UTC)

    def now(self) -> datetime:
        """The instant it was last moved to."""
        return self._now

    def move_to(self, instant: datetime) -> None:
        """Move forward to ``instant``. Raises ValueError for a move back."""
        if instant < self._now:
            raise ValueError(f"time does not go back: from {self._now} to {instant}")
        self._now = instant.astimezone(UTC)

    async def sleep_until(self, instant: datetime) -> None:
        """Jump to ``instant`` (as an autojump clock does: nobody else is waiting)."""
        if instant > self._now:
            self._now = instant.astimezone(UTC)
        await asyncio.sleep(0)


def pace_of(clock: Clock) -> float:
    """How much faster than real time it runs; 1 for one that is no ``PacedClock``."""
    return clock.pace if isinstance(clock, PacedClock) else 1.0
