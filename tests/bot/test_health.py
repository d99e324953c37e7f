"""Health: what is late or dead is told, to the log and to whoever asks."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import httpx
import pytest
from sqlalchemy import event

from bot.health import (
    SURE_S,
    Endpoint,
    Watch,
    alarms_on_time,
    can_keep,
    faults,
    inbox_on_time,
    outbox_on_time,
    set_aside,
)
from scheduling.alarm import Alarm, AlarmName
from scheduling.clock import SteppedClock
from scheduling.ports import InboxRow, Parcel
from storage.address import sqlite_url
from storage.failing import LATELY_S, Failing
from storage.faults import Busy, DiskFull, RuleBroken
from storage.memory import MemoryStore
from storage.store import SqlStore, open_store
from tests.bot.channels.inbox_fake import StoreFake
from tests.contract.samples import NOON, letter, settle_in

NINE = datetime(2026, 5, 13, 9, 0, tzinfo=UTC)


@dataclass
class Seconds:
    count: float = 0.0

    def __call__(self) -> float:
        return self.count


async def well() -> str | None:
    return None


async def ill() -> str | None:
    return "updates are not fetched"


async def broken() -> str | None:
    raise OSError("disk full")


async def test_a_late_inbox_is_noticed() -> None:
    store, clock = StoreFake(), SteppedClock(NINE)
    seconds = Seconds()
    check = inbox_on_time(store.as_store(), clock, "telegram", seconds)
    assert await check() is None
    await store.inbox.store(InboxRow("telegram", "1", "ana", "{}", NINE))
    assert await check() is None
    clock.move_to(NINE + timedelta(minutes=7))
    assert await check() is None, "a clock that leapt makes everything late for a moment"
    seconds.count += SURE_S
    assert await check() == "messages wait to be read: the oldest for 7 min"


async def test_a_check_that_fails_is_a_fault() -> None:
    assert await faults([well, broken, ill]) == (
        "cannot be checked: disk full",
        "updates are not fetched",
    )


async def test_what_is_wrong_is_mended_if_it_can_be() -> None:
    mended = asyncio.Event()

    async def mend() -> None:
        mended.set()

    assert await Watch([well], mend).look() == ()
    assert not mended.is_set()
    assert await Watch([ill], mend).look() == ("updates are not fetched",)
    assert mended.is_set()


async def test_a_failed_mend_is_no_end_of_watching() -> None:
    async def mend() -> None:
        raise OSError("still no network")

    watch = Watch([ill], mend)
    assert await watch.look()
    assert await watch.look()


async def test_the_endpoint_answers_200_or_503() -> None:
    for check, code in ((well, 200), (ill, 503)):
        endpoint = Endpoint([check], 0)
        endpoint.open()
        async with httpx.AsyncClient(trust_env=False) as client:
            answer = await client.get(f"http://127.0.0.1:{endpoint.port}/health")
        await endpoint.close()
        assert answer.status_code == code
        assert answer.json()["ok"] is (code == 200)


async def test_what_was_set_aside_is_counted_and_is_no_fault() -> None:
    store = MemoryStore()
    async with store.write() as unit:
        await unit.inbox.store(InboxRow("telegram", "1", "7", "{}", NINE))
        await unit.inbox.failed("telegram", "1", "no luck", set_aside=True)
        await unit.commit()
    endpoint = Endpoint([well], 0, {"set_aside": set_aside(store), "gone": uncountable})
    endpoint.open()
    async with httpx.AsyncClient(trust_env=False) as client:
        answer = await client.get(f"http://127.0.0.1:{endpoint.port}/health")
    await endpoint.close()
    assert answer.json() == {"ok": True, "faults": [], "set_aside": 1, "gone": None}


async def uncountable() -> int:
    raise OSError("disk full")


async def test_letters_and_alarms_that_are_late_are_noticed() -> None:
    store, clock = MemoryStore(), SteppedClock(NOON)
    await settle_in(store)
    seconds = Seconds()
    late = outbox_on_time(store, clock, seconds), alarms_on_time(store, clock, seconds)
    async with store.write() as unit:
        await unit.outbox.post(letter(not_before=NOON))
        await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON))
        await unit.commit()
    assert await faults(late) == ()
    clock.move_to(NOON + timedelta(minutes=7))
    assert await faults(late) == ()
    seconds.count += SURE_S
    told = await faults(late)
    assert len(told) == 2
    assert all("7 min" in one for one in told)


async def test_what_one_look_saw_late_and_the_next_saw_done_is_no_fault() -> None:
    store, clock, seconds = MemoryStore(), SteppedClock(NOON), Seconds()
    await settle_in(store)
    check = alarms_on_time(store, clock, seconds)
    for leap in range(1, 4):
        clock.move_to(NOON + timedelta(hours=leap))
        async with store.write() as unit:
            await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, clock.now() - timedelta(hours=1)))
            await unit.commit()
        assert await check() is None
        seconds.count += SURE_S


@asynccontextmanager
async def pragma(store: SqlStore, order: str) -> AsyncIterator[None]:
    """On every connection that is handed out meanwhile."""

    def checked_out(connection: Any, *_: Any) -> None:
        connection.execute(order).close()

    event.listen(store._reading.sync_engine, "checkout", checked_out)
    try:
        yield
    finally:
        event.remove(store._reading.sync_engine, "checkout", checked_out)


@pytest.fixture
async def sqlite(tmp_path: Path) -> AsyncIterator[SqlStore]:
    store = await open_store(sqlite_url(tmp_path / "house.sqlite"))
    await settle_in(store)
    yield store
    await store.close()


async def test_a_store_that_takes_nothing_is_told_though_nobody_writes(sqlite: SqlStore) -> None:
    check = can_keep(sqlite)
    assert await check() is None
    async with pragma(sqlite, "PRAGMA query_only = 1"):
        assert "nothing can be kept: The database cannot be written to" in str(await check())


async def test_what_found_no_room_is_told_though_something_smaller_does(sqlite: SqlStore) -> None:
    """SQLite itself says that it is full: sqlite.org/pragma.html#pragma_max_page_count."""

    async def write_much() -> None:
        async with sqlite.write() as unit:
            for number in range(200):
                await unit.outbox.post(letter(f"l{number}", parcel=Parcel(text="x" * 1000)))

    async with pragma(sqlite, "PRAGMA max_page_count = 1"):
        with pytest.raises(DiskFull):
            await write_much()
    said = await can_keep(sqlite)()
    assert said is not None
    assert said.startswith("nothing can be kept: The disk is full")


def test_a_fault_is_forgotten_after_a_while_and_rows_that_are_refused_are_none() -> None:
    seconds = Seconds()
    failing = Failing(seconds)
    for other in (RuleBroken("a row was refused"), Busy("held"), ValueError()):
        failing.note(other)
        assert failing.lately() is None
    failing.note(DiskFull("no room"))
    assert isinstance(failing.lately(), DiskFull)
    seconds.count = LATELY_S + 1.0
    assert failing.lately() is None
