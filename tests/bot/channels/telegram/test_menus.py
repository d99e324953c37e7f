"""Everybody has one menu of commands, and a builder's chat its own, as long as they are one."""

import asyncio
from collections.abc import AsyncIterator, Coroutine
from contextlib import asynccontextmanager
from typing import Any

import pytest
from telegram import Bot

from bot.channels.telegram.menus import LOOK_AGAIN_S, MenuBook, Menus
from bot.conversation.incoming import slash
from bot.wording import menu
from scheduling.choice import CommandName
from scheduling.ports import OvenCard, Person
from storage.memory import MemoryStore
from tests.bot.calendars.test_allowance import Seconds
from tests.botapi.faults import Refusal
from tests.botapi.server import TOKEN, BotApi

BOOK = MenuBook((("now", "Now"),), (("week", "Week"),), (("week", "Week"), ("plan", "Plan")))
OWNER = Person(id="ana", channel="telegram", address="7", name="Ana")
BUILDER = OWNER.model_copy(update={"builder": "team"})


class Chats:
    """A bot with its menus over the local Bot API."""

    def __init__(self, api: BotApi, bot: Bot) -> None:
        self.api, self.store, self.seconds = api, MemoryStore(), Seconds()
        self._work: list[Coroutine[Any, Any, None]] = []
        self.menus = Menus(bot, BOOK, self.store, self._work.append, self.seconds)

    async def shown_to(self, person: Person) -> list[str] | None:
        """Something is shown to them; the menu of their chat afterwards."""
        self.menus.suit(person)
        await asyncio.gather(*self._work)
        self._work.clear()
        return self.api.chat_commands.get(int(person.address))

    def calls(self) -> int:
        return len(self.api.called("setMyCommands")) + len(self.api.called("deleteMyCommands"))


@asynccontextmanager
async def talking() -> AsyncIterator[Chats]:
    async with BotApi() as api:
        bot = Bot(TOKEN, base_url=api.url)
        async with bot:
            yield Chats(api, bot)


@pytest.fixture
async def chats() -> AsyncIterator[Chats]:
    async with talking() as opened:
        yield opened


async def test_everybody_has_the_menu_of_an_owner(chats: Chats) -> None:
    await chats.menus.begin()
    assert [one.command for one in chats.api.commands] == ["now"]
    assert await chats.shown_to(OWNER) is None
    assert chats.calls() == 2


async def test_a_builders_chat_has_its_own_set_once(chats: Chats) -> None:
    assert await chats.shown_to(BUILDER) == ["week"]
    for _ in range(5):
        await chats.shown_to(BUILDER)
    assert chats.calls() == 1


async def test_whoever_leaves_the_team_has_the_owners_again(chats: Chats) -> None:
    await chats.shown_to(BUILDER)
    assert await chats.shown_to(OWNER) is None
    assert await chats.shown_to(BUILDER) == ["week"]


async def test_a_builder_who_comes_to_have_an_oven_gets_both(chats: Chats) -> None:
    await chats.shown_to(BUILDER)
    async with chats.store.write() as unit:
        await unit.people.put(BUILDER)
        await unit.ovens.put(OvenCard(id="own", name="Own", owners=("ana",)))
        await unit.commit()
    chats.seconds.now += LOOK_AGAIN_S + 1
    assert await chats.shown_to(BUILDER) == ["week", "plan"]


async def test_a_menu_that_could_not_be_set_is_set_the_next_time(chats: Chats) -> None:
    chats.api.fail("setMyCommands", Refusal(400, "Bad Request: chat not found"))
    assert await chats.shown_to(BUILDER) is None
    assert await chats.shown_to(BUILDER) == ["week"]


@pytest.mark.parametrize("told", [menu.OWNER, menu.BUILDER, menu.BOTH])
def test_every_command_of_a_menu_is_known_and_can_be_shown(
    told: tuple[tuple[str, str], ...],
) -> None:
    names = [name for name, _ in told]
    assert len(set(names)) == len(names) <= 100
    assert set(names) <= {one.value for one in CommandName}
    assert all(slash(f"/{name}") is not None for name in names)
    assert all(3 <= len(what) <= 256 for _, what in told)
