"""A builder begins on Telegram: menus, a list of clients, and a calendar read over the web."""

import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import httpx
import pytest

from bot.conversation.meeting import first_run_codes
from bot.parts import shipped
from bot.settings import read_settings
from bot.wiring import telegram_house
from bot.wording import menu
from tests.botapi.server import TOKEN, BotApi
from tests.botapi.shown import Shown
from tests.end_to_end.test_telegram import SECRET, free_port

KEV, ANA = 7, 8
LIST = b"name;model\r\nIvy;\r\nZo\xeb;\r\n"
"""As old Windows writes it."""


class Phones:
    """What people do, and what is shown to them for it."""

    def __init__(self, api: BotApi) -> None:
        self.api = api

    async def says(self, chat: int, text: str, part: str) -> Shown:
        """Type, and wait for a message that has ``part``."""
        before = len(self.api.read(chat))
        await self.api.say(chat, text)
        return await self._shown(chat, before, part)

    async def presses(self, chat: int, label: str, part: str) -> Shown:
        before = len(self.api.read(chat))
        shown = next(one for one in reversed(self.api.read(chat)) if label in one.callback_data)
        await self.api.press(shown, label)
        return await self._shown(chat, before, part)

    async def sends(self, chat: int, name: str, content: bytes, part: str) -> Shown:
        before = len(self.api.read(chat))
        await self.api.send_file(chat, name, content)
        return await self._shown(chat, before, part)

    async def _shown(self, chat: int, before: int, part: str) -> Shown:
        def ready() -> bool:
            return any(part in one.text for one in self.api.read(chat)[before:])

        await self.api.until(ready)
        return next(one for one in self.api.read(chat)[before:] if part in one.text)


@asynccontextmanager
async def begun(api: BotApi, folder: Path, **told: Any) -> AsyncIterator[Phones]:
    url = f"sqlite+aiosqlite:///{folder / 'ovens.sqlite'}"
    settings = read_settings(None, token=TOKEN, telegram_url=api.url, database_url=url, **told)
    async with telegram_house(settings, shipped(settings)):
        phones = Phones(api)
        code = first_run_codes(TOKEN).builder
        await phones.says(KEV, f"/start {code}", "What do clients know you by?")
        yield phones


@pytest.mark.timeout(120)
async def test_a_builders_chat_has_a_menu_of_its_own(tmp_path: Path) -> None:
    async with BotApi() as api, begun(api, tmp_path) as phones:
        await api.until(lambda: KEV in api.chat_commands)
        assert api.chat_commands[KEV] == [name for name, _ in menu.BUILDER]
        assert [one.command for one in api.commands] == [name for name, _ in menu.OWNER]
        await phones.says(KEV, "Alder & Sons", "what are you called yourself")


@pytest.mark.timeout(120)
async def test_a_list_from_a_spreadsheet_invites_its_clients(tmp_path: Path) -> None:
    async with BotApi() as api, begun(api, tmp_path) as phones:
        shown = await phones.sends(KEV, "clients.csv", LIST, "Two clients to invite")
        assert "Ivy and Zoë" in shown.text
        await phones.presses(KEV, "Invite the 2", "Two clients invited")


@pytest.mark.timeout(120)
async def test_a_calendar_is_read_at_its_address_until_it_is_taken_back(tmp_path: Path) -> None:
    port = free_port()
    web = f"http://127.0.0.1:{port}"
    hook = {"webhook_url": web, "webhook_secret": SECRET, "webhook_port": port}
    async with BotApi() as api, begun(api, tmp_path, **hook) as phones, httpx.AsyncClient() as http:
        await phones.says(KEV, "/week", "No clients yet")
        await phones.presses(KEV, "For my calendar", "subscribe to an address")
        shown = await phones.presses(KEV, "An address to subscribe to", "/calendar/")
        address = re.search(rf"{web}/calendar/\S+\.ics", shown.text)
        assert address is not None
        answer = await http.get(address[0])
        assert answer.status_code == 200
        assert answer.text.startswith("BEGIN:VCALENDAR")
        await phones.presses(KEV, "Take the address back", "Taken back")
        assert (await http.get(address[0])).status_code == 404
