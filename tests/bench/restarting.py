"""A process that starts over many stored alarms, ours and one with APScheduler's own SQL store.

Each function is run in a process of its own and returns the seconds until the first alarm could
be sent, and by how many bytes the process grew meanwhile.
"""

import asyncio
import pickle
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

from apscheduler.jobstores.sqlalchemy import SQLAlchemyJobStore
from apscheduler.schedulers.asyncio import AsyncIOScheduler
from sqlalchemy import insert

from scheduling.alarm import AlarmName
from scheduling.outcome import TENDERS, Message, Outcome, Urgency
from storage import tables
from storage.address import sqlite_url
from storage.migrating import migrate_file
from storage.store import SqlStore, make_engine, open_store
from tests.contract.samples import ANA, NOON
from tests.scheduling.waking.house import SAID, Rooms

Measured = tuple[float, int]

_first: list[float] = []
_came: list[asyncio.Event] = []


def grown() -> int:
    """The most memory that this process ever had, in bytes. (What ``getrusage`` tells begins with
    that of the process that started it.)"""
    status = Path("/proc/self/status").read_text()
    line = next(line for line in status.splitlines() if line.startswith("VmHWM"))
    return int(line.split()[1]) * 1024


def fill_ours(path: Path, count: int, due: int) -> None:
    """``due`` alarms are overdue, the others lie in the future."""

    async def fill() -> None:
        migrate_file(path)
        engine = make_engine(sqlite_url(path))
        store = SqlStore(engine)
        async with store.write() as unit:
            await unit.people.put(ANA)
            await unit.commit()
        ovens = [{"id": f"o{n}", "name": "", "state": "set_up", "place": ""} for n in range(count)]
        owners = [{"oven": f"o{n}", "position": 0, "person": "ana"} for n in range(count)]
        alarms = [
            {"oven": f"o{n}", "name": AlarmName.NUDGE.value, "due": _due(NOON, n, due)}
            for n in range(count)
        ]
        async with engine.begin() as connection:
            await connection.execute(insert(tables.ovens), ovens)
            await connection.execute(insert(tables.tenders), owners)
            await connection.execute(insert(tables.alarms), alarms)
        await store.close()

    asyncio.run(fill())


def fill_rival(path: Path, count: int, due: int) -> None:
    async def fill() -> None:
        scheduler = AsyncIOScheduler(timezone=UTC)
        store = SQLAlchemyJobStore(f"sqlite:///{path}")
        store.start(scheduler, "default")
        now = datetime.now(UTC)
        # Said in full: a scheduler that does not run yet has not filled in its defaults.
        first = scheduler.add_job(
            nudge,
            "date",
            ["o0"],
            misfire_grace_time=None,
            coalesce=True,
            max_instances=1,
            next_run_time=now,
        )
        rows = []
        for n in range(count):
            state = first.__getstate__()
            at = _due(now, n, due)
            state |= {"id": f"o{n}", "args": (f"o{n}",), "next_run_time": at}
            packed = pickle.dumps(state, pickle.HIGHEST_PROTOCOL)
            rows.append({"id": f"o{n}", "next_run_time": at.timestamp(), "job_state": packed})
        with store.engine.begin() as connection:
            connection.execute(insert(store.jobs_t), rows)
        store.shutdown()

    asyncio.run(fill())


def restart_ours(path: Path) -> Measured:
    before, begun = grown(), time.perf_counter()

    async def run() -> float:
        store = await open_store(sqlite_url(path))
        rooms = Rooms(store)
        rooms.book.then = lambda *_: Outcome(messages=(Message(TENDERS, SAID, Urgency.FIRE),))
        await rooms.engine.run_some()
        await rooms.dispatcher.set_out()
        while not rooms.carrier.shown:  # noqa: ASYNC110 - the first of them
            await asyncio.sleep(0)
        took = time.perf_counter() - begun
        assert await rooms.engine.next_wake_up() is not None
        await store.close()
        return took

    return asyncio.run(run()), grown() - before


def restart_rival(path: Path) -> Measured:
    before, begun = grown(), time.perf_counter()

    async def run() -> float:
        _came.append(asyncio.Event())
        store = SQLAlchemyJobStore(f"sqlite:///{path}")
        scheduler = AsyncIOScheduler(timezone=UTC, jobstores={"default": store})
        scheduler.start()
        await _came[0].wait()
        took = _first[0] - begun
        scheduler.shutdown(wait=False)
        return took

    return asyncio.run(run()), grown() - before


async def nudge(oven: str) -> None:
    _first.append(time.perf_counter())
    _came[0].set()


def _due(now: datetime, number: int, due: int) -> datetime:
    away = timedelta(seconds=number + 1)
    return now - timedelta(days=1) + away if number < due else now + timedelta(days=1) + away
