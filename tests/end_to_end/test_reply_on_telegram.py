"""A builder answers an old message on Telegram: the order is for the oven of that message."""

import re
from pathlib import Path
from typing import Any

from bot.conversation.meeting import first_run_codes
from bot.parts import shipped
from bot.settings import read_settings
from bot.wiring import telegram_house
from tests.botapi.server import TOKEN, BotApi
from tests.botapi.shown import Shown, message_of

BEA, ANA, BEN = 7, 8, 9
SOON_S = 60.0


async def told(api: BotApi, text: str, words: str, **more: Any) -> Shown:
    """The answer to what Bea typed: the first new message that begins so."""
    before = len(api.read(BEA))
    await api.say(BEA, text, **more)
    await api.until(
        lambda: any(one.text.startswith(words) for one in api.read(BEA)[before:]), SOON_S
    )
    return next(one for one in api.read(BEA)[before:] if one.text.startswith(words))


async def test_an_order_in_a_reply_is_for_the_oven_of_its_message(tmp_path: Path) -> None:
    async with BotApi() as api:
        url = f"sqlite+aiosqlite:///{tmp_path / 'ovens.sqlite'}"
        settings = read_settings(None, token=TOKEN, telegram_url=api.url, database_url=url)
        async with telegram_house(settings, shipped(settings)):
            await api.say(BEA, f"/start {first_run_codes(TOKEN).builder}")
            await api.until(lambda: len(api.read(BEA)) >= 2, SOON_S)
            for client, name in ((ANA, "Alder House"), (BEN, "Alder Lodge")):
                shown = await told(api, f"/invite {name}", "Pass this message on")
                link = re.search(r"start=(\S+)", shown.text)
                assert link is not None
                await api.say(client, f"/start {link[1]}")
                await api.until(lambda chat=client: len(api.read(chat)) >= 2, SOON_S)  # type: ignore[misc]
            house = await told(api, "alder house", "Alder House")
            await told(api, "alder lodge", "Alder Lodge")
            answered = message_of(house)
            done = await told(api, "hold, storm", "Alder House", reply_to_message=answered)
            assert done.text.startswith("Alder House: all fires are on hold.")
            asked = await told(api, "hold alder", "“hold alder”: for whom?")
            for_whom = {
                one.rpartition(" Alder ")[2] for one in asked.callback_data if "Alder" in one
            }
            assert for_whom == {"House", "Lodge"}
            await api.press(asked, next(one for one in asked.callback_data if "Lodge" in one))
            await api.until(
                lambda: api.read(BEA)[-1].text.startswith("Alder Lodge: all fires"), SOON_S
            )
