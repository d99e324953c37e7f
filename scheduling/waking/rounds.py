"""Work that is done when it is due, when woken, or at the latest after half a minute."""

import asyncio
from datetime import datetime
from typing import Any

import structlog

from scheduling.clock import Clock
from scheduling.waking.waker import SWEEP_S, NextDue, Work

SHORTEST_S = 0.05
"""Between two rounds: what is due but cannot be done yet must not turn into a busy wait."""

AGAIN_S = 1.0
"""After a round that failed; every further one that fails is waited for twice as long."""

_log = structlog.get_logger(__name__)


class Rounds:
    """A ``Waker`` on any clock. A round that fails is logged and the next one comes."""

    def __init__(self, name: str, work: Work, next_due: NextDue, clock: Clock) -> None:
        self._name = name
        self._work = work
        self._next_due = next_due
        self._clock = clock
        self._news = asyncio.Event()
        self._stopping = False
        self._running: asyncio.Task[None] | None = None

    def start(self) -> None:
        """Begin, inside a running event loop; the first round comes at once."""
        self._running = asyncio.create_task(self._run(), name=self._name)

    def wake(self) -> None:
        """Begin a round now, or right after the one in hand."""
        self._news.set()

    async def stop(self) -> None:
        """Begin no more; returns when the round in hand has ended."""
        self._stopping = True
        self._news.set()
        if self._running is not None:
            await asyncio.gather(self._running, return_exceptions=True)
            self._running = None

    def fault(self) -> str | None:
        """What has stopped though it should run, or None."""
        dead = self._running is not None and self._running.done()
        return f"{self._name} stopped" if dead else None

    async def _run(self) -> None:
        again_s = AGAIN_S
        while not self._stopping:
            self._news.clear()
            due: datetime | None = None
            longest_s = SWEEP_S
            try:
                await self._work()
                due = await self._next_due()
                again_s = AGAIN_S
            except Exception:  # noqa: BLE001 - nudges must go on, whatever one round met
                _log.exception("round failed", name=self._name)
                longest_s, again_s = again_s, min(2 * again_s, SWEEP_S)
            if not self._stopping:
                await self._wait(due, longest_s)

    async def _wait(self, due: datetime | None, longest_s: float) -> None:
        """Until ``due`` on the clock, a wake-up, or so long; whichever is first."""
        woken = asyncio.ensure_future(self._news.wait())
        waits: list[asyncio.Future[Any]] = [woken]
        if due is not None:
            waits.append(asyncio.ensure_future(self._clock.sleep_until(due)))
        try:
            await asyncio.wait(waits, timeout=longest_s, return_when=asyncio.FIRST_COMPLETED)
        finally:
            for wait in waits:
                wait.cancel()
        if not woken.done() or woken.cancelled():
            await asyncio.sleep(SHORTEST_S)
