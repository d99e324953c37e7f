"""From /start to the first nudges, typed on Telegram, with a bot that is killed at the fire."""

import re
import signal
from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from tests.botapi.faults import Hang
from tests.botapi.server import TOKEN, BotApi
from tests.botapi.shown import Shown
from tests.end_to_end.phone import MINUTE, Hours, Phone
from tests.end_to_end.test_telegram import SECRET, free_port

ANA, BEA = 7, 8
EVENING = datetime(2026, 6, 10, 18, tzinfo=ZoneInfo("Europe/London"))
A_DAY, AN_HOUR = timedelta(days=1), timedelta(hours=1)
ASKED = "What does the top of the dome read now?"

pytestmark = pytest.mark.timeout(240)


@asynccontextmanager
async def evening(folder: Path, way: str) -> AsyncIterator[Hours]:
    port = str(free_port())
    hook = {
        "webhook_url": f"http://127.0.0.1:{port}",
        "webhook_port": port,
        "webhook_secret": SECRET,
    }
    async with BotApi() as api:
        yield Hours(api, folder, hook if way == "webhook" else {}, EVENING)


async def code_for_ana(hours: Hours, way: str) -> str:
    """By polling the first-run code, which is told to whoever starts the bot; by webhook that of
    the link which a builder hands on."""
    log = hours.place.logged()
    owner, builder = re.findall(r"Send the bot: /start (\S+)", log)
    if way == "polling":
        return str(owner)
    bea = Phone(hours, BEA)
    await bea.say(f"/start {builder}")
    link = re.search(r"https://t\.me/\w+\?start=(\S+)", said(await bea.say("/invite Alder House")))
    assert link is not None
    return link[1]


def said(new: Sequence[Shown]) -> str:
    return "\n---\n".join(shown.text for shown in new)


async def set_up(ana: Phone, code: str) -> str:
    """Answered as an owner would, by typing and by buttons; the plan, as it is told then."""
    assert "light nothing until I say so" in said(await ana.say(f"/start {code}"))
    assert "Which town is the oven in" in said(await ana.press("°C"))
    await ana.say("52.2, -1.5")
    assert "How wide" in said(await ana.say("its a thin cast dome"))
    await ana.say("about 60cm across")
    assert "what over it" in said(await ana.say("finished on the 2nd of may"))
    await ana.press("Under a roof, sides open")
    await ana.say("steel door, no flue")
    await ana.press("Up to 550 °C")
    await ana.say("any day")
    assert "somebody else" in said(await ana.say("7am til 10 at night"))
    new = await ana.press("Just me")
    plan = next(shown for shown in new if "Here is your plan" in shown.text)
    assert plan.file is not None
    return said(new)


async def lit_fire(ana: Phone, code: str) -> None:
    """The first fire burns."""
    asked = "Are you still on for fire 1"
    if asked not in await set_up(ana, code):
        await ana.until_told(asked, 12 * A_DAY)
    assert "fire 1, tomorrow" in said(await ana.press("Yes, still on"))
    await ana.until_told("Before fire 1", A_DAY)
    assert "Door off" in said(await ana.say("top 16"))
    assert "First reading at" in said(await ana.press("Lit"))


def nudges(ana: Phone) -> int:
    return said(ana.screen()).count(ASKED)


@pytest.mark.parametrize("way", ["polling", "webhook"])
async def test_the_first_half_hour_with_a_bot_that_is_killed_at_the_fire(
    way: str, tmp_path: Path
) -> None:
    async with evening(tmp_path, way) as hours:
        ana = Phone(hours, ANA)
        async with hours.reached() as process:
            await lit_fire(ana, await code_for_ana(hours, way))
            assert "Leave the fire as it is" in said(await ana.say("what now?"))
            process.send_signal(signal.SIGKILL)
            assert await process.wait() == -signal.SIGKILL
        before_nudge = nudges(ana)

        # Nobody runs when the nudge comes due, nor when Ana asks what she is to do.
        hours.hour += 35 * MINUTE
        await hours.api.say(ANA, "hello? is it ok that it smokes a bit")
        async with hours.reached() as process:
            assert (before_nudge, nudges(ana)) == (0, 1)
            assert "smok" in said(ana.screen()[-3:]).lower()
            (status,) = (shown for shown in ana.screen() if shown.pinned)
            assert "waiting for a fresh number" in status.text

            answer = said(await ana.say("its 58 now"))
            assert "The top stands at 58 °C" in answer
            assert "Put on" in answer
            await ana.press("Done, it’s on")
            await ana.until_told(ASKED, AN_HOUR)
            assert "82 °C" in said(await ana.say("82"))
            assert nudges(ana) == 2
            process.send_signal(signal.SIGTERM)
            assert await process.wait() == 0, hours.place.logged()

        (status,) = (shown for shown in ana.screen() if shown.pinned)
        assert "Top: 82 °C" in status.text
        assert len(hours.api.called("pinChatMessage")) == 1
        assert TOKEN not in hours.place.logged()


async def test_a_nudge_that_was_on_its_way_at_the_kill_is_repeated_once(tmp_path: Path) -> None:
    async with evening(tmp_path, "polling") as hours:
        ana = Phone(hours, ANA)
        async with hours.reached() as process:
            await lit_fire(ana, await code_for_ana(hours, "polling"))
            hours.api.fail("sendMessage", Hang(recorded=True))
            due = hours.place.next_due()
            hours.leap(due)
            await hours.api.until(lambda: nudges(ana) == 1, 60)
            process.send_signal(signal.SIGKILL)
            await process.wait()

        # Later than any lease: nobody can know whether it arrived.
        hours.hour = due + 5 * MINUTE
        async with hours.reached():
            first, second = (shown for shown in ana.screen() if ASKED in shown.text)
            assert first.callback_data == second.callback_data
            assert "58 °C" in said(await ana.say("its 58 now"))
            assert nudges(ana) == 2
