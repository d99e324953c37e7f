"""The menu of commands: one for everybody, and others for chats of a builder's people.

Telegram shows the narrowest scope that fits (core.telegram.org/bots/api#botcommandscope). A chat's
menu is looked after whenever something was shown there, since whatever makes somebody a builder, or
ends that, is told to them. What was set is remembered until the process ends; a menu that stays
from before costs nobody more than a tap.
"""

import asyncio
import time
from collections.abc import Callable, Coroutine, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import structlog
from telegram import (
    Bot,
    BotCommand,
    BotCommandScopeAllPrivateChats,
    BotCommandScopeChat,
    BotCommandScopeDefault,
)
from telegram.error import TelegramError

from scheduling.ports import Person, Store

Commands = Sequence[tuple[str, str]]
Role = Literal["owner", "builder", "both"]

LOOK_AGAIN_S = 300.0
"""A builder may come to have an oven of their own: it is seen within this time (own choice)."""

_log = structlog.get_logger(__name__)


@dataclass(frozen=True, slots=True)
class MenuBook:
    """Command and what it does, for whom: everybody, a builder, a builder with an oven besides."""

    owner: Commands = ()
    builder: Commands = ()
    both: Commands = ()

    def of(self, role: Role) -> Commands:
        """The menu of a role."""
        return {"owner": self.owner, "builder": self.builder, "both": self.both}[role]


@dataclass(slots=True)
class _Set:
    role: Role
    at_s: float


class Menus:
    """``begin`` once connected; ``suit`` whenever something was shown to somebody."""

    def __init__(
        self,
        bot: Bot,
        book: MenuBook,
        store: Store,
        aside: Callable[[Coroutine[Any, Any, None]], None],
        monotonic: Callable[[], float] = time.monotonic,
    ) -> None:
        """``aside`` runs what nobody waits for."""
        self._bot = bot
        self._book = book
        self._store = store
        self._aside = aside
        self._monotonic = monotonic
        self._set: dict[str, _Set] = {}
        self._one = asyncio.Lock()

    async def begin(self) -> None:
        """The menu of everybody: in chats of one person, since we read no others."""
        if not self._book.owner:
            return
        try:
            await self._bot.set_my_commands(
                _commands(self._book.owner), scope=BotCommandScopeAllPrivateChats()
            )
            await self._bot.delete_my_commands(scope=BotCommandScopeDefault())
        except TelegramError as error:
            _log.warning("the menu of commands was not set", why=str(error))

    def suit(self, person: Person) -> None:
        """See to the menu of this person's chat, if it may have to change."""
        if not self._book.builder:
            return
        known = self._set.get(person.address)
        if person.builder is None and (known is None or known.role == "owner"):
            return
        fresh = known is not None and self._monotonic() - known.at_s < LOOK_AGAIN_S
        if known is not None and fresh and (known.role == "owner") == (person.builder is None):
            return
        self._aside(self._see_to(person))

    async def _see_to(self, person: Person) -> None:
        async with self._one:
            role = await self._role(person)
            known = self._set.get(person.address)
            if known is None or known.role != role:
                try:
                    await self._show(int(person.address), role)
                except (TelegramError, ValueError) as error:
                    _log.info("a chat's menu was not set", why=str(error))
                    return
            self._set[person.address] = _Set(role, self._monotonic())

    async def _role(self, person: Person) -> Role:
        if person.builder is None:
            return "owner"
        async with self._store.read() as unit:
            own = await unit.ovens.of_person(person.id)
        return "both" if own else "builder"

    async def _show(self, chat: int, role: Role) -> None:
        scope = BotCommandScopeChat(chat)
        if role == "owner":
            await self._bot.delete_my_commands(scope=scope)
        else:
            await self._bot.set_my_commands(_commands(self._book.of(role)), scope=scope)


def _commands(told: Commands) -> list[BotCommand]:
    return [BotCommand(name, what) for name, what in told]
