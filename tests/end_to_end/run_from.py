"""``stokewatch run`` in a process of its own, beginning at an hour that it is told.

python -m tests.end_to_end.run_from 2026-06-10T18:00:00+01:00 1

Its clock runs at that pace; every line on stdin is a later hour, to which it leaps.
"""

import asyncio
import sys
import threading
from contextlib import AbstractAsyncContextManager
from datetime import datetime

from bot import wiring
from bot.__main__ import app_for
from bot.channels.telegram.channel import TelegramChannel
from bot.settings import Settings
from bot.wiring import Parts
from scheduling.clock import PacedClock

HERE = "tests.end_to_end.run_from"
GLANCE_S = 0.05


class LeapingClock:
    """A paced clock that can be moved on from another thread."""

    def __init__(self, start: datetime, pace: float) -> None:
        self._pace = pace
        self._running = PacedClock(start, pace)

    def now(self) -> datetime:
        return self._running.now()

    def leap_to(self, hour: datetime) -> None:
        self._running = PacedClock(max(hour, self.now()), self._pace)

    async def sleep_until(self, instant: datetime) -> None:
        """In short sleeps: a leap comes from another thread, which wakes nobody here."""
        while (left := (instant - self.now()).total_seconds()) > 0:  # noqa: ASYNC110
            await asyncio.sleep(min(left / self._pace, GLANCE_S))


def main(hour: str, pace: str) -> None:
    clock = LeapingClock(datetime.fromisoformat(hour), float(pace))

    def listen() -> None:
        for line in sys.stdin:
            clock.leap_to(datetime.fromisoformat(line.strip()))

    threading.Thread(target=listen, daemon=True).start()
    house = wiring.telegram_house

    def from_then(settings: Settings, parts: Parts) -> AbstractAsyncContextManager[TelegramChannel]:
        return house(settings, parts, clock)

    wiring.telegram_house = from_then  # type: ignore[assignment]
    app_for(["run"])(["run"])


if __name__ == "__main__":
    main(*sys.argv[1:])
