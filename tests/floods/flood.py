"""Floods against a running bot, and how a known owner is answered meanwhile.

The bot is a process of its own over a Bot API on loopback. An owner asks and waits, first in quiet
and then during each flood; their answers are compared within the one run. Memory is what the
process holds (VmRSS), before the floods and when all is drained.
"""

import asyncio
import itertools
import time
from asyncio.subprocess import Process
from collections import Counter
from collections.abc import AsyncIterator, Awaitable, Callable, Container
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median
from typing import Any

from bot.conversation.meeting import first_run_codes
from tests.botapi import methods, updates
from tests.botapi.server import TOKEN, BotApi
from tests.end_to_end.running import SET_UP, Place

OWNER, OTHER = 7, 8
STRANGERS_FROM, POISONER = 100_000, 99_000
POISON = "🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥🔥"
PATIENCE_S = 120.0


class Counting(BotApi):
    """Knows at any time how much each chat has been shown."""

    def __init__(self) -> None:
        super().__init__()
        self.count: Counter[int] = Counter()

    def _show(
        self,
        chat: int,
        text: str,
        keyboard: methods.Keyboard | None,
        file: methods.Upload | str | None,
    ) -> dict[str, Any]:
        self.count[chat] += 1
        return super()._show(chat, text, keyboard, file)

    async def until_more(self, chat: int, than: int, within_s: float = PATIENCE_S) -> None:
        await self.until(lambda: self.count[chat] > than, within_s)


@dataclass(frozen=True)
class Size:
    """How large the floods are; ``whole`` is what is asked for."""

    strangers: int = 1000
    of_one_chat: int = 1000
    odd: int = 5000
    at_once: int = 120
    a_second: int = 100
    asks: int = 15

    @classmethod
    def small(cls) -> "Size":
        return cls(strangers=40, of_one_chat=40, odd=100, at_once=20, asks=3)


@dataclass
class Told:
    """What a flood did: the owner's answers, seconds, and until all of it was worked on."""

    name: str
    answers: list[float] = field(default_factory=list)
    quiet: list[float] = field(default_factory=list)
    """Answers right before it: others use the machine too, and not evenly."""
    drained_s: float = 0.0
    rss_mb: float = 0.0
    rest_mb: float = 0.0
    ahead: int = 0
    """Of those who flooded, how many had been answered when the owner last was."""

    def __str__(self) -> str:
        return (
            f"{self.name:24s} n {len(self.answers):3d}  median {median(self.answers):6.3f} s  "
            f"worst {max(self.answers):6.3f} s  before it {median(self.quiet):6.3f} s and "
            f"{max(self.quiet):6.3f} s  drained after {self.drained_s:6.1f} s  "
            f"{self.rss_mb:5.0f} MB"
        )


class Flooded:
    """One bot, one owner who is set up, one more who is, and whoever floods."""

    def __init__(self, api: Counting, place: Place, process: Process) -> None:
        self.api, self.place, self.process = api, place, process
        self._numbers = itertools.count(10_000_000)

    # ------------------------------------------------------------ people

    async def set_up(self, chat: int, *, wholly: bool = True) -> None:
        code = first_run_codes(TOKEN).owner
        for words in (f"/start {code}", *(SET_UP if wholly else SET_UP[:1])):
            seen = self.api.count[chat]
            await self.api.say(chat, words)
            await self.api.until_more(chat, seen)
        await self.drained()
        if wholly:
            promised = self.place.count("select count(*) from promises")
            assert promised, "the set-up asks otherwise by now, and nobody has a plan here"

    async def ask(self) -> float:
        """Seconds to the answer."""
        seen, began = self.api.count[OWNER], time.perf_counter()
        await self.api.say(OWNER, "what now?")
        await self.api.until_more(OWNER, seen)
        return time.perf_counter() - began

    async def asks(self, count: int) -> list[float]:
        """One after another, no faster than a chat may be written to: an answer that waits for its
        turn behind the last says nothing about the flood."""
        told = []
        for _ in range(count):
            told.append(await self.ask())
            await self.place.until_none(
                "select count(*) from outbox o join people p on p.id = o.person"
                f" where p.address = '{OWNER}' and o.state in ('todo', 'sending')"
                " and o.not_before <= datetime('now', '+1 minute')"
            )
            await asyncio.sleep(1.2)
        return told

    async def during(
        self, name: str, size: Size, flood: Callable[[], Awaitable[None]], answered: set[int]
    ) -> Told:
        """Ask while it floods. ``answered`` are chats that are counted among those ahead."""
        told = Told(name, quiet=await self.asks(size.asks))
        began = time.perf_counter()
        flooding = asyncio.ensure_future(flood())
        told.answers = await self.asks(size.asks)
        told.ahead = sum(self.api.count[chat] > 0 for chat in answered)
        await flooding
        await self.drained()
        told.drained_s = time.perf_counter() - began
        told.rss_mb = self.rss_mb()
        return told

    # ------------------------------------------------------------ floods

    async def strangers(self, size: Size) -> None:
        await self._at_a_rate(
            size, size.strangers, lambda n: self.api.say(STRANGERS_FROM + n, "hello")
        )

    async def one_chat(self, size: Size) -> None:
        await self._at_a_rate(size, size.of_one_chat, lambda n: self.api.say(OTHER, f"top {n}?"))

    async def odd(self, size: Size) -> None:
        await self._at_a_rate(size, size.odd, lambda n: self.api.hand_in(odd_update(n)), 500)

    async def poisoned(self, size: Size) -> None:
        for _ in range(size.asks // 2 + 1):
            await self.api.say(POISONER, POISON)
            await asyncio.sleep(3.0 if size.asks > 5 else 0.5)

    async def poisoned_at_once(self, size: Size) -> None:
        for _ in range(size.at_once):
            await self.api.say(POISONER, POISON)

    async def dated_far_back(self, size: Size) -> None:
        for at in (0, 1, 1_700_000_000):
            message = updates.message(OTHER, next(self._numbers), {"text": "top 60"}, "Bea")
            message["message"]["date"] = at
            await self.api.hand_in(message)

    async def _at_a_rate(
        self,
        size: Size,
        count: int,
        one: Callable[[int], Awaitable[object]],
        a_second: int | None = None,
    ) -> None:
        rate, began = a_second or size.a_second, time.perf_counter()
        for number in range(count):
            await one(number)
            ahead_s = number / rate - (time.perf_counter() - began)
            if ahead_s > 0.01:
                await asyncio.sleep(ahead_s)

    # ------------------------------------------------------------ the process

    async def drained(self) -> None:
        """All that came in has been worked on."""
        await self.api.until(lambda: not self.api.waiting, PATIENCE_S)
        await self.place.until_none("select count(*) from inbox where state = 'waiting'", 480.0)

    def rss_mb(self) -> float:
        status = Path(f"/proc/{self.process.pid}/status").read_text()
        (line,) = (one for one in status.splitlines() if one.startswith("VmRSS"))
        return int(line.split()[1]) / 1024


def odd_update(number: int) -> dict[str, Any]:
    """Shapes that nobody expects, some of them from chats that are known."""
    chat = {"id": STRANGERS_FROM + number % 50, "type": "private"}
    kinds: tuple[dict[str, Any], ...] = (
        {"hologram": {"depth": number}},
        {"message": None},
        {"message": {"chat": chat, "date": "yesterday", "message_id": number}},
        {"message": {"chat": chat, "date": 10**30, "message_id": number, "text": "x" * 4096}},
        {"message": {"chat": chat, "date": 0, "message_id": number, "text": "\ud83d" * 4096}},
        {"callback_query": {"id": f"q{number}", "data": "x" * 64, "message": {"chat": chat}}},
        {"edited_message": [[[[number]]]]},
        {"message": {"chat": {"id": -number, "type": "group"}, "date": 1, "message_id": 1}},
        {"my_chat_member": {"chat": chat, "date": 1, "new_chat_member": {"status": 7}}},
        {"message": {"chat": chat, "date": 1, "message_id": 1, "text": "1/" * 2048}},
    )
    return kinds[number % len(kinds)]


@asynccontextmanager
async def flooded(folder: Path, *, wholly: bool = True) -> AsyncIterator[Flooded]:
    """A bot that runs, with two owners, whose ovens are described ``wholly`` or have just begun."""
    async with Counting() as api:
        place = Place(api, folder, {"log_level": "ERROR"})
        async with place.running() as process:
            one = Flooded(api, place, process)
            await api.until(lambda: bool(api.called("setMyCommands")), PATIENCE_S)
            for chat in (OWNER, OTHER):
                await one.set_up(chat, wholly=wholly)
            await one.asks(2)
            yield one


async def trial(folder: Path, size: Size, only: Container[str] = ()) -> AsyncIterator[Told]:
    """Every flood, or ``only`` those named, each with the quiet before it; and quiet at last."""
    async with flooded(folder) as bot:
        strangers = {STRANGERS_FROM + n for n in range(size.strangers)}

        async def nothing() -> None:
            return

        floods: tuple[tuple[str, Callable[[Size], Awaitable[None]]], ...] = (
            ("poisoned, now and then", bot.poisoned),
            ("poisoned, at once", bot.poisoned_at_once),
            ("dated far back", bot.dated_far_back),
            ("strangers", bot.strangers),
            ("odd updates", bot.odd),
            ("one known chat", bot.one_chat),
        )
        wanted = [one for one in floods if not only or one[0] in only]
        rest_mb = bot.rss_mb()
        for name, flood in wanted:
            seen = strangers if name == "strangers" else set[int]()
            told = await bot.during(name, size, lambda f=flood: f(size), seen)  # type: ignore[misc]
            told.rest_mb = rest_mb
            yield told
        told = await bot.during("quiet again", size, nothing, set())
        told.rest_mb = rest_mb
        yield told
