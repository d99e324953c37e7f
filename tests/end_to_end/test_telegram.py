"""A whole house on Telegram, over real HTTP: polling and webhook, faults, and a restart."""

import socket
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import httpx
import pytest

from bot.settings import Settings, read_settings
from bot.wiring import telegram_house
from scheduling.clock import Clock, PacedClock
from tests.botapi.faults import (
    BadGateway,
    Cut,
    Fault,
    Garbage,
    Hang,
    PoliteRefusal,
    Refusal,
    TooMany,
)
from tests.botapi.server import TOKEN, BotApi
from tests.end_to_end.small_house import small_parts

SECRET = "a-secret-of-the-webhook-0123"


NINE = datetime(2026, 5, 13, 9, 0, tzinfo=UTC)
HOUR_A_SECOND = 3600.0


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as server:
        port: int = server.getsockname()[1]
        return port


class Place:
    """Where a house runs: a Bot API and a database file that outlive it."""

    def __init__(self, api: BotApi, folder: Path) -> None:
        self.api = api
        self.database = f"sqlite+aiosqlite:///{folder / 'ovens.sqlite'}"

    def settings(self, **told: object) -> Settings:
        return read_settings(
            None, token=TOKEN, telegram_url=self.api.url, database_url=self.database, **told
        )

    @asynccontextmanager
    async def house(self, clock: Clock | None = None, **told: object) -> AsyncIterator[None]:
        async with telegram_house(self.settings(**told), small_parts(), clock):
            yield

    def texts(self, chat: int = 7) -> list[str]:
        return [shown.text for shown in self.api.read(chat)]

    async def until_shown(self, count: int, chat: int = 7) -> None:
        await self.api.until(lambda: len(self.api.read(chat)) >= count)


@pytest.fixture
async def place(tmp_path: Path) -> AsyncIterator[Place]:
    async with BotApi() as api:
        yield Place(api, tmp_path)


async def test_what_is_written_is_answered_by_polling(place: Place) -> None:
    async with place.house():
        await place.api.say(7, "lit")
        await place.until_shown(1)
    assert place.texts() == ["Noted."]


async def test_what_is_written_is_answered_by_webhook(place: Place) -> None:
    port = free_port()
    hook: dict[str, Any] = {"webhook_url": f"http://127.0.0.1:{port}", "webhook_secret": SECRET}
    async with place.house(webhook_port=port, **hook):
        await place.api.say(7, "lit")
        await place.until_shown(1)
    assert place.texts() == ["Noted."]


async def test_what_came_while_nobody_ran_is_answered_once(place: Place) -> None:
    await place.api.say(7, "lit")
    for _ in range(2):
        async with place.house():
            await place.until_shown(1)
    assert place.texts() == ["Noted."]


async def test_a_message_that_was_surely_not_sent_is_sent_again(place: Place) -> None:
    place.api.fail("sendMessage", TooMany(1))
    async with place.house():
        await place.api.say(7, "lit")
        await place.until_shown(1)
    assert place.texts() == ["Noted."]


@pytest.mark.parametrize(
    "fault",
    [
        Hang(recorded=False),
        Cut(),
        BadGateway(),
        Garbage(recorded=False),
        Refusal(500, "Internal Server Error"),
        TooMany(1),
        PoliteRefusal(),
    ],
    ids=repr,
)
async def test_an_answer_that_got_lost_comes_all_the_same(place: Place, fault: Fault) -> None:
    place.api.fail("sendMessage", fault)
    async with place.house():
        await place.api.say(7, "lit")
        await place.api.until(lambda: bool(place.texts()), 20)
    surely_not_sent = isinstance(fault, TooMany)
    assert place.texts() == ["Noted." if surely_not_sent else "Again: Noted."]


async def test_an_answer_that_may_have_arrived_says_so_when_it_comes_again(place: Place) -> None:
    place.api.fail("sendMessage", Cut(recorded=True))
    async with place.house():
        await place.api.say(7, "lit")
        await place.until_shown(2)
    assert place.texts() == ["Noted.", "Again: Noted."]


async def test_what_got_lost_comes_at_once_when_its_reader_writes(place: Place) -> None:
    place.api.fail("sendMessage", Cut(), Cut())
    async with place.house():
        await place.api.say(7, "lit")
        await place.api.until(lambda: place.api.has_failed("sendMessage"))
        await place.api.say(7, "top 90")
        await place.until_shown(2)
    assert sorted(place.texts()) == ["Again: Noted.", "Noted."]


async def test_somebody_who_blocks_us_and_comes_back_is_talked_to_again(place: Place) -> None:
    async with place.house():
        await place.api.say(7, "lit")
        await place.until_shown(1)
        await place.api.block(7)
        await place.api.come_back(7)
        await place.api.say(7, "top 90")
        await place.until_shown(2)
    assert place.texts() == ["Noted.", "Noted."]


async def test_health_is_told_to_who_asks(place: Place) -> None:
    port = free_port()
    async with place.house(health_port=port), httpx.AsyncClient(trust_env=False) as client:
        answer = await client.get(f"http://127.0.0.1:{port}/health")
    assert (answer.status_code, answer.json()) == (200, {"ok": True, "faults": [], "set_aside": 0})


async def test_a_hanging_send_holds_up_nobody_else(place: Place) -> None:
    place.api.fail("sendMessage", Hang(recorded=False))
    async with place.house():
        await place.api.say(7, "lit")
        await place.api.until(lambda: place.api.has_failed("sendMessage"))
        await place.api.say(8, "lit")
        await place.api.until(lambda: bool(place.api.read(8)), 5)
    assert place.texts(8) == ["Noted."]


@pytest.mark.parametrize("by_webhook", [False, True])
async def test_after_a_restart_in_the_middle_the_next_nudge_comes_once(
    place: Place, by_webhook: bool
) -> None:
    port = free_port()
    hook: dict[str, Any] = {"webhook_url": f"http://127.0.0.1:{port}", "webhook_secret": SECRET}
    told: dict[str, Any] = {"webhook_port": port, **hook} if by_webhook else {}
    async with place.house(PacedClock(NINE, 1.0), **told):
        await place.api.say(7, "lit")
        await place.until_shown(1)
    later = PacedClock(NINE + timedelta(minutes=25), HOUR_A_SECOND)
    async with place.house(later, **told):
        await place.until_shown(2)
        await place.api.say(7, "out")
        await place.api.until(lambda: not place.api.waiting)
    assert place.texts()[:2] == ["Noted.", "Stoke & read."]
    assert place.texts().count("Noted.") == 1
