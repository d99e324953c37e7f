"""Work that is done when it is due, when woken, or at the latest after half a minute."""

import asyncio
from collections.abc import Awaitable, Callable
from datetime import datetime
from typing import Any

import structlog

from scheduling.clock import Clock

SWEEP_S = 30.0
"""Something may have been stored by another process, or a wake-up been lost."""

SHORTEST_S = 0.05
"""Between two rounds: what is due but cannot be done yet must not turn into a busy wait."""

_log = structlog.get_logger(__name__)


class Rounds:
    """Runs ``work`` over and over. A round that fails is logged and the next one comes."""

    def __init__(
        self,
        name: str,
        work: Callable[[], Awaitable[object]],
        next_due: Callable[[], Awaitable[datetime | None]],
        clock: Clock,
    ) -> None:
        self.name = name
        self._work = work
        self._next_due = next_due
        self._clock = clock
        self._news = asyncio.Event()
        self._stopping = False

    def wake(self) -> None:
        """Begin a round now, or right after this one."""
        self._news.set()

    def stop(self) -> None:
        """Let ``run`` end after the round in hand."""
        self._stopping = True
        self._news.set()

    async def run(self) -> None:
        """Go round until stopped."""
        while not self._stopping:
            self._news.clear()
            due: datetime | None = None
            try:
                await self._work()
                due = await self._next_due()
            except Exception:  # noqa: BLE001 - nudges must go on, whatever one round met
                _log.exception("round failed", name=self.name)
            if not self._stopping:
                await self._wait(due)

    async def _wait(self, due: datetime | None) -> None:
        """Until ``due`` on the clock, a wake-up, or the sweep; whichever is first."""
        woken = asyncio.ensure_future(self._news.wait())
        waits: list[asyncio.Future[Any]] = [woken]
        if due is not None:
            waits.append(asyncio.ensure_future(self._clock.sleep_until(due)))
        try:
            await asyncio.wait(waits, timeout=SWEEP_S, return_when=asyncio.FIRST_COMPLETED)
        finally:
            for wait in waits:
                wait.cancel()
        if not woken.done() or woken.cancelled():
            await asyncio.sleep(SHORTEST_S)
