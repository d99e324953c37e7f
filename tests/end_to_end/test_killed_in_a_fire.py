"""The process dies in the middle of a firing; the next one goes on where it was."""

import asyncio
import shutil
import signal
from collections.abc import AsyncIterator
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from bot.parts import shipped
from bot.wiring import open_chat
from storage.store import open_store
from tests.botapi.faults import Hang
from tests.botapi.server import BotApi
from tests.end_to_end.running import Place
from tests.end_to_end.test_break_in_by_chat import LONDON, READINGS, set_up, told, until_asked
from tests.end_to_end.test_telegram import SECRET, free_port

CHAT = 7
ASKED = "what does the top of the dome read now"

pytestmark = [pytest.mark.slow, pytest.mark.timeout(600)]


async def lit_fire(folder: Path) -> tuple[Path, datetime]:
    """A database with a fire that Ana lit just then, and that hour."""
    file = folder / "lit.sqlite"
    url = f"sqlite+aiosqlite:///{file}"
    chat = await open_chat(datetime(2026, 6, 10, 17, tzinfo=LONDON), shipped(), database_url=url)
    at = await set_up(chat)
    await until_asked(chat, "still on for fire 1", at, at + timedelta(days=12))
    await chat.press("ana", "Yes, still on", chat.now + timedelta(minutes=2))
    await until_asked(chat, "before fire 1", chat.now, chat.now + timedelta(days=2))
    await chat.say("ana", f"top {READINGS[0]}", chat.now + timedelta(minutes=3))
    assert "First reading at" in told(
        await chat.press("ana", "Lit", chat.now + timedelta(minutes=10))
    )
    lit_at = chat.now
    await chat.close()
    store = await open_store(url)
    async with store.write() as unit:
        ana = await unit.people.at("replay", "ana")
        assert ana is not None
        there = {"channel": "telegram", "address": str(CHAT)}
        await unit.people.put(ana.model_copy(update=there))
        await unit.commit()
    await store.close()
    return file, lit_at


@pytest.fixture(scope="module")
def lit(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, datetime]:
    # In a thread: the test that asks first has a running loop of its own.
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, lit_fire(tmp_path_factory.mktemp("lit"))).result()


@pytest.fixture(params=["polling", "webhook"])
async def place(
    request: pytest.FixtureRequest, tmp_path: Path, lit: tuple[Path, datetime]
) -> AsyncIterator[Place]:
    port = str(free_port())
    hook = {
        "webhook_url": f"http://127.0.0.1:{port}",
        "webhook_port": port,
        "webhook_secret": SECRET,
    }
    async with BotApi() as api:
        api.chats.add(CHAT)
        place = Place(api, tmp_path, hook if request.param == "webhook" else {})
        shutil.copyfile(lit[0], place.file)
        yield place


async def test_after_a_kill_the_next_nudge_comes_once_and_the_fire_is_led_on(
    place: Place, lit: tuple[Path, datetime]
) -> None:
    _, lit_at = lit
    async with place.running(lit_at + timedelta(minutes=1)) as process:
        await place.api.until(lambda: bool(place.api.commands), 60)
        await place.api.until(
            lambda: place.api.webhook is not None or bool(place.api.called("getUpdates")), 60
        )
        await place.api.say(CHAT, "what now?")
        await place.until_shown(1, CHAT)
        await place.until_settled()
        process.send_signal(signal.SIGKILL)
        assert await process.wait() == -signal.SIGKILL

    shown = len(place.texts(CHAT))
    async with place.running(lit_at + timedelta(minutes=40)) as process:
        nudge = await place.until_shown(shown + 1, CHAT)
        assert ASKED in nudge.lower()
        await place.api.say(CHAT, f"its {READINGS[1]} now")
        answer = await place.until_shown(shown + 2, CHAT)
        assert "88" in answer
        process.send_signal(signal.SIGTERM)
        assert await process.wait() == 0, place.logged()
    since = "\n".join(place.texts(CHAT)[shown:]).lower()
    assert since.count(ASKED) == 1


async def test_a_nudge_that_was_on_its_way_at_the_kill_is_repeated_once(
    place: Place, lit: tuple[Path, datetime]
) -> None:
    _, lit_at = lit
    place.api.fail("sendMessage", Hang(recorded=True))
    async with place.running(lit_at + timedelta(minutes=40)) as process:
        assert ASKED in (await place.until_shown(1, CHAT)).lower()
        process.send_signal(signal.SIGKILL)
        await process.wait()

    # Later than any lease: nobody can know whether it arrived.
    async with place.running(lit_at + timedelta(minutes=45)) as process:
        again = await place.until_shown(2, CHAT)
        assert ASKED in again.lower()
        await place.api.say(CHAT, f"its {READINGS[1]} now")
        assert "88" in await place.until_shown(3, CHAT)
        process.send_signal(signal.SIGTERM)
        assert await process.wait() == 0, place.logged()
    first, second = place.api.read(CHAT)[:2]
    assert first.callback_data == second.callback_data
    assert "\n".join(place.texts(CHAT)).lower().count(ASKED) == 2
