"""Health: what is late or dead is told, to the log and to whoever asks."""

import asyncio
from datetime import UTC, datetime, timedelta

import httpx

from bot.health import (
    Endpoint,
    Watch,
    alarms_on_time,
    faults,
    inbox_on_time,
    outbox_on_time,
    set_aside,
)
from scheduling.alarm import Alarm, AlarmName
from scheduling.clock import SteppedClock
from scheduling.ports import InboxRow
from storage.memory import MemoryStore
from tests.bot.channels.inbox_fake import StoreFake
from tests.contract.samples import NOON, letter, settle_in

NINE = datetime(2026, 5, 13, 9, 0, tzinfo=UTC)


async def well() -> str | None:
    return None


async def ill() -> str | None:
    return "updates are not fetched"


async def broken() -> str | None:
    raise OSError("disk full")


async def test_a_late_inbox_is_noticed() -> None:
    store, clock = StoreFake(), SteppedClock(NINE)
    check = inbox_on_time(store.as_store(), clock, "telegram")
    assert await check() is None
    await store.inbox.store(InboxRow("telegram", "1", "ana", "{}", NINE))
    assert await check() is None
    clock.move_to(NINE + timedelta(minutes=7))
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
    late = outbox_on_time(store, clock), alarms_on_time(store, clock)
    async with store.write() as unit:
        await unit.outbox.post(letter(not_before=NOON))
        await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON))
        await unit.commit()
    assert await faults(late) == ()
    clock.move_to(NOON + timedelta(minutes=7))
    told = await faults(late)
    assert len(told) == 2
    assert all("7 min" in one for one in told)
