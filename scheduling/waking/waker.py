"""What wakes the house: at the earliest due row, every half minute, and at daily hours.

The truth is the table of alarms; a waker only calls. One that forgets, or calls twice, does no
harm: the next call finds what is due.
"""

import asyncio
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from datetime import UTC, datetime, time
from typing import Any, Protocol

import structlog
from apscheduler.schedulers.asyncio import AsyncIOScheduler
from apscheduler.triggers.cron import CronTrigger
from apscheduler.triggers.date import DateTrigger
from apscheduler.triggers.interval import IntervalTrigger

SWEEP_S = 30.0
"""Something may have been stored by another process, or a wake-up been lost."""

Work = Callable[[], Awaitable[object]]
NextDue = Callable[[], Awaitable[datetime | None]]

_NEXT, _SWEEP = "next due row", "sweep"

_log = structlog.get_logger(__name__)


@dataclass(frozen=True, slots=True)
class Daily:
    """Something to do every day at ``at``, an hour in UTC, and at the start.

    That hour may have passed while nothing ran, so ``work`` says itself whether anything is left
    to do today.
    """

    name: str
    at: time
    work: Work


class Waker(Protocol):
    """Calls ``work`` when it is due, when woken, and at the latest after SWEEP_S; never twice at
    once."""

    def start(self) -> None:
        """Begin, inside a running event loop; the first call comes at once."""
        ...

    def wake(self) -> None:
        """Call now, or right after the call in hand."""
        ...

    async def stop(self) -> None:
        """Call no more; returns when the call in hand has ended."""
        ...

    def fault(self) -> str | None:
        """What has stopped though it should run, or None."""
        ...


class SchedulerWaker:
    """A ``Waker`` on the machine's clock, over APScheduler with nothing kept.

    Its own defaults would drop a call that is a second late; ``misfire_grace_time=None`` runs it
    however late, and ``coalesce`` once for all that were missed. It also drops a call that comes
    while the one before still runs, so its jobs only knock: the work is a task of ours. It is
    given UTC instants only: a local hour may come twice, or not at all.
    """

    def __init__(
        self, work: Work, next_due: NextDue, daily: tuple[Daily, ...] = (), sweep_s: float = SWEEP_S
    ) -> None:
        self._work = work
        self._next_due = next_due
        self._daily = daily
        self._sweep_s = sweep_s
        self._knocked = False
        self._in_hand: asyncio.Task[None] | None = None
        self._began = False
        self._scheduler: Any = AsyncIOScheduler(
            timezone=UTC,
            job_defaults={"misfire_grace_time": None, "coalesce": True, "max_instances": 1},
        )

    def start(self) -> None:
        """Begin, inside a running event loop; the first call comes at once."""
        add, now = self._scheduler.add_job, datetime.now(UTC)
        sweep = IntervalTrigger(seconds=self._sweep_s, timezone=UTC)
        add(self._knock, sweep, id=_SWEEP, next_run_time=now)
        for one in self._daily:
            at = CronTrigger(
                hour=one.at.hour, minute=one.at.minute, second=one.at.second, timezone=UTC
            )
            add(_guarded, at, [one], id=f"daily {one.name}", next_run_time=now)
        self._scheduler.start()
        self._began = True

    def wake(self) -> None:
        """Call now, or right after the call in hand."""
        self._knocked = True
        if self._began and (self._in_hand is None or self._in_hand.done()):
            self._in_hand = asyncio.create_task(self._call())

    async def stop(self) -> None:
        """Call no more; returns when the call in hand has ended."""
        self._began = self._knocked = False
        if self._scheduler.running:
            self._scheduler.shutdown(wait=False)
        if self._in_hand is not None:
            await asyncio.gather(self._in_hand, return_exceptions=True)

    def fault(self) -> str | None:
        """What has stopped though it should run, or None."""
        return "the waker stopped" if self._began and not self._scheduler.running else None

    async def _knock(self) -> None:
        self.wake()

    async def _call(self) -> None:
        while self._knocked:
            self._knocked = False
            try:
                await self._work()
                self._mind(await self._next_due())
            except Exception:  # noqa: BLE001 - the next sweep tries again
                _log.exception("woken in vain")

    def _mind(self, instant: datetime | None) -> None:
        """One trigger at the earliest due row, in place of the one before."""
        if not self._began:
            return
        if instant is None:
            if self._scheduler.get_job(_NEXT):
                self._scheduler.remove_job(_NEXT)
            return
        if instant.tzinfo is None:
            raise ValueError(f"an instant needs its zone: {instant}")
        at = DateTrigger(instant.astimezone(UTC), timezone=UTC)
        self._scheduler.add_job(self._knock, at, id=_NEXT, replace_existing=True)


async def _guarded(daily: Daily) -> None:
    try:
        await daily.work()
    except Exception:  # noqa: BLE001 - it comes again tomorrow, and the log tells
        _log.exception("daily work failed", name=daily.name)
