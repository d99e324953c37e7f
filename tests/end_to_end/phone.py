"""People with phones in their hands, and ``stokewatch run`` as a process at the other end."""

from asyncio.subprocess import Process
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager
from datetime import datetime, timedelta
from pathlib import Path

from tests.botapi.server import BotApi
from tests.botapi.shown import Shown
from tests.end_to_end.running import PATIENCE_S, Place

PACE = 4.0
"""A chat is sent a message a second of the bot's clock: at this pace nobody waits long for it."""

MINUTE = timedelta(minutes=1)


class Hours:
    """One hour for everybody, moved on by hand; the bot's clock goes with it."""

    def __init__(
        self, api: BotApi, folder: Path, settings: Mapping[str, str], hour: datetime
    ) -> None:
        self.place = Place(api, folder, settings)
        self.api, self.hour = api, hour
        api.now = lambda: self.hour
        self._process: Process | None = None

    @asynccontextmanager
    async def reached(self) -> AsyncIterator[Process]:
        """The bot runs, and has said what was due; killed when the block is left before it ends."""
        starts = self._starts()
        async with self.place.running(self.hour, PACE) as self._process:
            await self.api.until(lambda: self._starts() > starts, PATIENCE_S)
            await self.place.until_quiet(self.hour)
            yield self._process

    async def pass_until(self, hour: datetime) -> None:
        """Move on, and let everything happen that is due by then."""
        self.leap(hour)
        await self.place.until_quiet(self.hour)

    def leap(self, hour: datetime) -> None:
        """Move on."""
        assert self._process is not None
        assert self._process.stdin is not None
        self.hour = max(hour, self.hour)
        self._process.stdin.write(f"{self.hour.isoformat()}\n".encode())

    def _starts(self) -> int:
        menus = (call.model_dump_json() for call in self.api.called("setMyCommands"))
        return sum("all_private_chats" in menu for menu in menus)


class Phone:
    """One person's chat. Each verb returns what is new in it then."""

    def __init__(self, hours: Hours, chat: int) -> None:
        self._hours, self._api, self._chat = hours, hours.api, chat
        self._seen: dict[int, Shown] = {}

    async def say(self, text: str) -> list[Shown]:
        """Type, a minute later."""
        await self._hours.pass_until(self._hours.hour + MINUTE)
        await self._api.say(self._chat, text)
        return await self._answered()

    async def press(self, label: str) -> list[Shown]:
        """Press the newest button of that label, a minute later."""
        await self._hours.pass_until(self._hours.hour + MINUTE)
        shown = next(one for one in reversed(self.screen()) if label in one.callback_data)
        await self._api.press(shown, label)
        return await self._answered()

    async def wait(self, hour: datetime) -> list[Shown]:
        """Do nothing until then."""
        await self._hours.pass_until(hour)
        return self._new()

    async def until_told(self, words: str, within: timedelta) -> list[Shown]:
        """Do nothing until something new says that."""
        latest = self._hours.hour + within
        while self._hours.hour < latest:
            new = await self.wait(min(latest, self._hours.place.next_due()))
            if any(words in shown.text for shown in new):
                return new
        raise AssertionError(f"{words!r} was not said by {latest}")

    def screen(self) -> list[Shown]:
        """The chat as it stands, oldest first."""
        return self._api.read(self._chat)

    async def _answered(self) -> list[Shown]:
        await self._hours.place.until_quiet(self._hours.hour)
        return self._new()

    def _new(self) -> list[Shown]:
        screen = self.screen()
        new = [shown for shown in screen if self._seen.get(shown.message) != shown]
        self._seen = {shown.message: shown for shown in screen}
        return new
