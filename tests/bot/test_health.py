"""Health: what is late or dead is told, to the log and to whoever asks."""

import asyncio
from datetime import UTC, datetime, timedelta

import httpx

from bot.health import Endpoint, Watch, faults, inbox_on_time
from scheduling.clock import SteppedClock
from scheduling.ports import InboxRow
from tests.bot.channels.inbox_fake import StoreFake

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
