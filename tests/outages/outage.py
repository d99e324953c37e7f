"""A bot that is killed again and again while the line is bad, and one whose every send fails.

The bot is ``stokewatch run`` in a process of its own over a Bot API on loopback; kill -9 ends it at
any moment. Owners write all the while, also while nothing runs.
"""

import asyncio
import os
import random
import signal
import socket
import sqlite3
import time
from asyncio.subprocess import Process
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, closing
from dataclasses import dataclass, field
from pathlib import Path

from bot.conversation.meeting import first_run_codes
from tests.botapi.server import TOKEN
from tests.end_to_end.running import PATIENCE_S, SET_UP, Place
from tests.outages.rough import KINDS, Rough, Weather
from tests.outages.tally import Tally, found_of, tally, unsettled, updates_of

OWNERS = (7, 8, 9)
SET_UP_OWNER = OWNERS[-1]
SECRET = "outages-and-kills-0123456789"
DANGER = "I hear popping"
SETTLED_S = 1800.0
"""A chat is sent one message a second, and many may have piled up."""

UNWATCHED_S = 60.0
"""So long nothing may change while something is left to be done."""
GONE = "nobody listens"


@dataclass(frozen=True)
class Size:
    """``outage_s`` is how long every send fails, for each of ``kinds``."""

    kills: int = 100
    lives_s: tuple[float, float] = (0.2, 6.0)
    outage_s: float = 30.0
    kinds: tuple[str, ...] = (*KINDS, GONE)
    idle_s: float = 20.0
    seed: int = 1

    @classmethod
    def small(cls) -> "Size":
        kinds = ("502, nothing done", "cut, done", "a polite no")
        return cls(kills=4, lives_s=(0.2, 2.0), outage_s=3.0, kinds=kinds, idle_s=2.0)


@dataclass
class Killed:
    """What is left after all kills. Times in seconds from the start of a process."""

    kills: int = 0
    first_words: list[float] = field(default_factory=list)
    """Of everybody who had written while nothing ran, to the first that they were shown."""
    cut_short: list[float] = field(default_factory=list)
    """Where the process was killed before that: how long it had lived."""
    nudge_s: float = 0.0
    nudge_cpu_s: float = 0.0
    """What of it was work: the rest is waiting, for the disk or for a busy machine."""
    rss_mb: float = 0.0
    idle_cpu: float = 0.0
    said: int = 0
    updates: dict[str, int] = field(default_factory=dict)
    lost_words: int = 0
    doubled_words: int = 0
    letters: dict[str, Tally] = field(default_factory=dict)


class Bot:
    """The place, its owners, and one process after another."""

    def __init__(self, folder: Path, size: Size) -> None:
        self.size = size
        self.chance = random.Random(size.seed)
        self.api = Rough(Weather(random.Random(size.seed + 1)))
        self.settings: dict[str, str] = {"log_level": "ERROR"}
        self.place = Place(self.api, folder, self.settings)
        self.said: list[str] = []

    async def meet(self) -> None:
        """Every owner comes; one of them answers all that is asked, and lights. In fair weather."""
        async with self.place.running():
            await self.ready()
            for chat in OWNERS:
                await self.api.say(chat, f"/start {first_run_codes(TOKEN).owner}")
            for words in (*SET_UP, "it is lit"):
                await self.settled()
                await self.api.say(SET_UP_OWNER, words)
            await self.settled()
        lit = [one.text for one in self.api.read(SET_UP_OWNER) if one.text.startswith("Lit at")]
        assert lit, "the set-up asks otherwise by now, and no fire burns here"

    async def ready(self) -> None:
        """The process has asked something of the server."""
        self.api.called_at = None
        await self.api.until(lambda: self.api.called_at is not None, PATIENCE_S)

    async def settled(self) -> None:
        """All is worked on and has been sent."""
        await self.api.until(lambda: not self.api.waiting, SETTLED_S)
        began = changed = time.monotonic()
        before: list[str] = []
        while left := unsettled(self.place.file):
            now = time.monotonic()
            before, changed = (before, changed) if left == before else (left, now)
            if now - changed > UNWATCHED_S or now - began > SETTLED_S:
                raise AssertionError(f"not settled: {left[:20]}")
            await asyncio.sleep(0.2)

    async def write(self, chat: int) -> None:
        """Something that nobody said before and that means nothing, so that it is found again."""
        number = len(self.said)
        words = "".join("bcdfghjklm"[int(digit)] for digit in f"{number:06d}")
        self.said.append(words)
        await self.api.say(chat, words)

    async def tell_of_the_fire(self) -> None:
        """A reading, or a danger."""
        popping = self.chance.random() < 0.2
        words = DANGER if popping else f"top {self.chance.randint(40, 120)}"
        await self.api.say(SET_UP_OWNER, words)

    def by_webhook(self, port: int | None) -> None:
        """Or by polling."""
        for name in ("webhook_url", "webhook_secret", "webhook_port"):
            self.settings.pop(name, None)
        if port is not None:
            self.settings |= {
                "webhook_url": f"http://127.0.0.1:{port}",
                "webhook_secret": SECRET,
                "webhook_port": str(port),
            }

    def make_overdue(self) -> None:
        """The reminder of the set-up came due an hour ago, while nothing ran."""
        with closing(sqlite3.connect(self.place.file)) as plain, plain:
            plain.execute("update alarms set due = datetime('now', '-1 hour') || '.000000'")


@asynccontextmanager
async def met(folder: Path, size: Size) -> AsyncIterator[Bot]:
    """Its owners have come, and a fire burns."""
    bot = Bot(folder, size)
    async with bot.api:
        await bot.meet()
        yield bot


# ---------------------------------------------------------------- kills


async def killed(bot: Bot) -> Killed:
    """Kill it ``size.kills`` times, by polling and by webhook in turn, in bad weather."""
    told = Killed()
    bot.api.weather.share, bot.api.weather.longest_s = 0.3, 0.5
    for number in range(bot.size.kills):
        bot.by_webhook(_free_port() if number % 2 else None)
        await _live_and_die(bot, told)
    bot.by_webhook(None)
    bot.api.weather.share = bot.api.weather.longest_s = 0.0
    async with bot.place.running() as process:
        await bot.ready()
        await bot.settled()
        told.rss_mb, told.idle_cpu = await _at_rest(process, bot.size.idle_s)
    told.nudge_s, told.nudge_cpu_s = await _first_nudge(bot)
    _look(bot, told)
    return told


async def _live_and_die(bot: Bot, told: Killed) -> None:
    owed = [chat for chat in OWNERS if bot.chance.random() < 0.5]
    for chat in owed:
        await bot.write(chat)
    began, seen = time.monotonic(), set(bot.api.shown_at)
    async with bot.place.running() as process:
        await bot.ready()
        ends = time.monotonic() + bot.chance.uniform(*bot.size.lives_s)
        while (left := ends - time.monotonic()) > 0:
            await asyncio.sleep(min(left, bot.chance.uniform(0.5, 2.5)))
            await bot.write(bot.chance.choice(OWNERS))
            if bot.chance.random() < 0.3:
                await bot.tell_of_the_fire()
        process.send_signal(signal.SIGKILL)
        await process.wait()
    lived_s = time.monotonic() - began
    told.kills += 1
    for chat in owed:
        new = [
            at for which, at in bot.api.shown_at.items() if which not in seen and which[0] == chat
        ]
        if new:
            told.first_words.append(min(new) - began)
        else:
            told.cut_short.append(lived_s)


async def _at_rest(process: Process, seconds: float) -> tuple[float, float]:
    """Memory, and the share of one core that it takes while nobody writes."""
    before, began = _cpu_s(process), time.monotonic()
    await asyncio.sleep(seconds)
    share = (_cpu_s(process) - before) / (time.monotonic() - began)
    return _rss_mb(process), share


def _rss_mb(process: Process) -> float:
    status = Path(f"/proc/{process.pid}/status").read_text()
    line = next(one for one in status.splitlines() if one.startswith("VmRSS"))
    return int(line.split()[1]) / 1024


def _cpu_s(process: Process) -> float:
    fields = Path(f"/proc/{process.pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


async def _first_nudge(bot: Bot) -> tuple[float, float]:
    """From the start of the process to the first overdue one, as its reader sees it: seconds, and
    seconds of work."""
    bot.make_overdue()
    began, seen = time.monotonic(), len(bot.api.shown)
    async with bot.place.running() as process:
        await bot.api.until(lambda: len(bot.api.shown) > seen, PATIENCE_S)
        took = time.monotonic() - began, _cpu_s(process)
        await bot.settled()
    return took


def _look(bot: Bot, told: Killed) -> None:
    told.said = len(bot.said)
    told.updates = dict(updates_of(bot.place.file))
    found = found_of(bot.place.file, bot.said)
    told.lost_words = sum(found[words] == 0 for words in bot.said)
    told.doubled_words = sum(found[words] > 1 for words in bot.said)
    told.letters = tally(bot.place.file, bot.api)


def _free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as server:
        port: int = server.getsockname()[1]
        return port


# ---------------------------------------------------------------- failed sends


@dataclass
class Failed:
    """After every send failed in one way: seconds from its end to the danger and to all."""

    kind: str
    danger_s: float
    all_s: float
    letters: dict[str, Tally]


async def failed_sends(bot: Bot) -> list[Failed]:
    """Each kind in turn, on one process."""
    async with bot.place.running():
        await bot.ready()
        return [await _outage(bot, kind) for kind in bot.size.kinds]


async def _outage(bot: Bot, kind: str) -> Failed:
    chat = OWNERS[0]
    before = tally(bot.place.file, bot.api)
    if kind == GONE:
        await bot.api.say(chat, DANGER)
        await bot.write(OWNERS[1])
        await asyncio.sleep(0.2)
        await bot.api.close_up()
    else:
        bot.api.weather.kind = kind
        await bot.api.say(chat, DANGER)
        await bot.write(OWNERS[1])
    await asyncio.sleep(bot.size.outage_s)
    if kind == GONE:
        await bot.api.open_again()
    bot.api.weather.kind = None
    ended = time.monotonic()
    await bot.api.until(lambda: _dangers(bot, before) > 0, SETTLED_S)
    danger_s = time.monotonic() - ended
    await bot.settled()
    after = tally(bot.place.file, bot.api)
    letters = {one: _less(after[one], before[one]) for one in after}
    return Failed(kind, danger_s, time.monotonic() - ended, letters)


def _dangers(bot: Bot, before: dict[str, Tally]) -> int:
    now = tally(bot.place.file, bot.api)["danger"]
    return now.letters - before["danger"].letters and now.arrived - before["danger"].arrived


def _less(one: Tally, other: Tally) -> Tally:
    return Tally(**{name: count - getattr(other, name) for name, count in vars(one).items()})
