"""What wakes the house: at the earliest due row, every half minute, and at daily hours.

The truth is the table of alarms; a waker only calls. One that forgets, or calls twice, does no
harm: the next call finds what is due.
"""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from datetime import UTC, datetime, time
from typing import Any, Protocol

import structlog
from apscheduler.schedulers.asyncio import AsyncIOScheduler
from apscheduler.triggers.cron import CronTrigger
from apscheduler.triggers.date import DateTrigger
from apscheduler.triggers.interval import IntervalTrigger

SWEEP_S = 30

Work = Callable[[], Awaitable[object]]

_NEXT, _SWEEP = "next due row", "sweep"

_log = structlog.get_logger(__name__)


@dataclass(frozen=True, slots=True)
class Daily:
    """Something to do every day at ``at``, an hour in UTC."""

    name: str
    at: time
    work: Work


class Waker(Protocol):
    """Calls when it is time."""

    def start(self) -> None:
        """Begin, inside a running event loop; the first call comes at once."""
        ...

    def wake_at(self, instant: datetime | None) -> None:
        """Call at ``instant`` in place of the one set before; None: the sweep is enough."""
        ...

    def stop(self) -> None:
        """Call no more. What is running goes on to its end."""
        ...


class SchedulerWaker:
    """A ``Waker`` over APScheduler, with nothing kept: all is set anew at every start.

    Its own defaults would drop a call that is a second late; ``misfire_grace_time=None`` runs it
    however late, ``coalesce`` once for all that were missed, ``max_instances=1`` never beside
    itself. It is given UTC instants only: a local hour may come twice, or not at all.
    """

    def __init__(self, work: Work, daily: tuple[Daily, ...] = (), sweep_s: float = SWEEP_S) -> None:
        self._work = work
        self._daily = daily
        self._sweep_s = sweep_s
        self._scheduler: Any = AsyncIOScheduler(
            timezone=UTC,
            job_defaults={"misfire_grace_time": None, "coalesce": True, "max_instances": 1},
        )

    def start(self) -> None:
        """Begin, inside a running event loop; the first call comes at once."""
        add = self._scheduler.add_job
        now = datetime.now(UTC)
        sweep = IntervalTrigger(seconds=self._sweep_s, timezone=UTC)
        add(self._call, sweep, [self._work], id=_SWEEP, next_run_time=now)
        for one in self._daily:
            at = CronTrigger(
                hour=one.at.hour, minute=one.at.minute, second=one.at.second, timezone=UTC
            )
            add(self._call, at, [one.work], id=f"daily {one.name}")
        self._scheduler.start()

    def wake_at(self, instant: datetime | None) -> None:
        """Call at ``instant`` in place of the one set before; None: the sweep is enough."""
        if instant is None:
            if self._scheduler.get_job(_NEXT):
                self._scheduler.remove_job(_NEXT)
            return
        if instant.tzinfo is None:
            raise ValueError(f"an instant needs its zone: {instant}")
        at = DateTrigger(instant.astimezone(UTC), timezone=UTC)
        self._scheduler.add_job(self._call, at, [self._work], id=_NEXT, replace_existing=True)

    def stop(self) -> None:
        """Call no more. What is running goes on to its end."""
        if self._scheduler.running:
            self._scheduler.shutdown(wait=False)

    async def _call(self, work: Work) -> None:
        try:
            await work()
        except Exception:  # noqa: BLE001 - the next sweep tries again
            _log.exception("woken in vain")
