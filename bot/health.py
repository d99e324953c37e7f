"""Whether all is well: fetching, the inbox, the alarms and the outbox, told in sentences."""

import asyncio
import json
import time
from collections.abc import Awaitable, Callable, Mapping, Sequence
from datetime import datetime, timedelta

import structlog
import tornado.httpserver
import tornado.netutil
import tornado.web

from scheduling.clock import Clock
from scheduling.ports import Store

LATE = timedelta(minutes=2)
"""A nudge that is this late may meet a fire that has moved on."""

EVERY_S = 10.0
"""So often we look ourselves: what is wrong is known, and mended, within half a minute."""

SURE_S = 8.0
"""What is late is told when it has been so for this long by no clock that may jump: after a leap
everything is late at once, and in a moment nothing is."""

Monotonic = Callable[[], float]

Check = Callable[[], Awaitable[str | None]]
"""Looks at one thing; returns what is wrong, or None."""

Count = Callable[[], Awaitable[int]]
"""Counts something that is no fault by itself."""

_log = structlog.get_logger(__name__)


def can_keep(store: Store) -> Check:
    """Something could be kept just now."""

    async def check() -> str | None:
        try:
            await store.try_writing()
        except Exception as error:  # noqa: BLE001 - whatever it is, nothing is kept
            return f"nothing can be kept: {error}"
        return None

    return check


def outbox_on_time(store: Store, clock: Clock, monotonic: Monotonic = time.monotonic) -> Check:
    """Nothing that could be sent has waited for long."""
    return _on_time(clock, "messages wait to be sent", lambda: _next_sendable(store), monotonic)


def alarms_on_time(store: Store, clock: Clock, monotonic: Monotonic = time.monotonic) -> Check:
    """No alarm is long overdue."""
    return _on_time(clock, "alarms are overdue", lambda: _next_alarm(store), monotonic)


def inbox_on_time(
    store: Store, clock: Clock, channel: str, monotonic: Monotonic = time.monotonic
) -> Check:
    """Nothing that came in has waited for long."""

    async def oldest() -> datetime | None:
        async with store.read() as unit:
            rows = await unit.inbox.waiting(channel, 1)
        return rows[0].received_at if rows else None

    return _on_time(clock, "messages wait to be read", oldest, monotonic)


async def faults(checks: Sequence[Check]) -> tuple[str, ...]:
    """What is wrong. A check that fails is itself a fault."""
    found = []
    for check in checks:
        try:
            fault = await check()
        except Exception as error:  # noqa: BLE001 - health is told even when the store is gone
            fault = f"cannot be checked: {error}"
        if fault:
            found.append(fault)
    return tuple(found)


class Watch:
    """Looks every half minute, logs what changed, and calls ``mend`` when something is wrong."""

    def __init__(
        self, checks: Sequence[Check], mend: Callable[[], Awaitable[None]] | None = None
    ) -> None:
        self._checks = checks
        self._mend = mend
        self._last: tuple[str, ...] = ()

    async def look(self) -> tuple[str, ...]:
        """Look once."""
        found = await faults(self._checks)
        if found != self._last:
            if found:
                _log.error("not well", faults="; ".join(found))
            else:
                _log.info("well again")
        self._last = found
        if found and self._mend is not None:
            try:
                await self._mend()
            except Exception:  # noqa: BLE001 - it is tried again at the next look
                _log.exception("not mended")
        return found

    async def run(self) -> None:
        """Look until cancelled."""
        while True:
            await self.look()
            await asyncio.sleep(EVERY_S)


class Endpoint:
    """Answers GET /health on loopback: 200 when all is well, else 503, with the faults."""

    def __init__(
        self, checks: Sequence[Check], port: int, counts: Mapping[str, Count] | None = None
    ) -> None:
        """``counts`` are told beside the faults, by their names."""
        told = {"checks": checks, "counts": counts or {}}
        app = tornado.web.Application([("/health", _Answer, told)], log_function=lambda _: None)
        self._http = tornado.httpserver.HTTPServer(app)
        self._port = port
        self.port = 0

    def open(self) -> None:
        """Listen; ``port`` is then the real one. Raises OSError when it is taken."""
        sockets = tornado.netutil.bind_sockets(self._port, "127.0.0.1")
        self.port = sockets[0].getsockname()[1]
        self._http.add_sockets(sockets)

    async def close(self) -> None:
        """Answer no more."""
        self._http.stop()
        await self._http.close_all_connections()


class _Answer(tornado.web.RequestHandler):
    def initialize(self, checks: Sequence[Check], counts: Mapping[str, Count]) -> None:
        self._checks = checks
        self._counts = counts

    async def get(self) -> None:
        found = await faults(self._checks)
        self.set_status(503 if found else 200)
        self.set_header("Content-Type", "application/json")
        counted = {name: await _counted(count) for name, count in self._counts.items()}
        await self.finish(json.dumps({"ok": not found, "faults": found} | counted))


async def _counted(count: Count) -> int | None:
    """None where it cannot be counted: why is among the faults."""
    try:
        return await count()
    except Exception:  # noqa: BLE001 - health is told even when the store is gone
        return None


def set_aside(store: Store) -> Count:
    """How many messages could not be worked on: `stokewatch aside` shows them."""

    async def count() -> int:
        async with store.read() as unit:
            return await unit.inbox.count_set_aside()

    return count


def _on_time(
    clock: Clock,
    what: str,
    oldest: Callable[[], Awaitable[datetime | None]],
    monotonic: Monotonic,
) -> Check:
    seen: dict[datetime, float] = {}

    async def check() -> str | None:
        since = await oldest()
        late = clock.now() - since if since is not None else timedelta(0)
        if since is None or late <= LATE:
            seen.clear()
            return None
        first_s = seen.get(since, monotonic())
        seen.clear()
        seen[since] = first_s
        if monotonic() - first_s < SURE_S:
            return None
        return f"{what}: the oldest for {int(late.total_seconds() // 60)} min"

    return check


async def _next_sendable(store: Store) -> datetime | None:
    async with store.read() as unit:
        return await unit.outbox.next_sendable()


async def _next_alarm(store: Store) -> datetime | None:
    async with store.read() as unit:
        return await unit.alarms.next_due()
