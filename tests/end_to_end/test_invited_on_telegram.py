"""A builder invites a client on Telegram, who comes by the link, the picture or the code."""

import re
from pathlib import Path

from bot.conversation.meeting import first_run_codes
from bot.parts import shipped
from bot.pictures.qr import draw_qr
from bot.settings import read_settings
from bot.wiring import telegram_house
from tests.botapi.methods import Upload
from tests.botapi.server import TOKEN, BotApi

BEA, ANA = 7, 8


async def test_an_invitation_is_a_link_a_picture_and_a_code(tmp_path: Path) -> None:
    async with BotApi() as api:
        url = f"sqlite+aiosqlite:///{tmp_path / 'ovens.sqlite'}"
        settings = read_settings(None, token=TOKEN, telegram_url=api.url, database_url=url)
        async with telegram_house(settings, shipped(settings)):
            await api.say(BEA, f"/start {first_run_codes(TOKEN).builder}")
            await api.until(lambda: len(api.read(BEA)) >= 2)
            await api.say(BEA, "/invite Alder House")
            await api.until(lambda: len(api.read(BEA)) >= 3)
            shown = api.read(BEA)[-1]
            link = re.search(r"https://t\.me/(\w+)\?start=(\S+)", shown.text)
            assert link is not None
            bot, code = link.groups()
            assert bot == "stokewatchbot"
            assert shown.text.rstrip().endswith(code)
            assert isinstance(shown.file, Upload)
            assert shown.file.content == draw_qr(link[0])
            # A tap on the link sends the code for them.
            await api.say(ANA, f"/start {code}")
            await api.until(lambda: len(api.read(ANA)) >= 2)
        assert api.read(ANA)[0].text.startswith("Please light nothing until I say so")
