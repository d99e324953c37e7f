"""Joins the parts into a house that runs, on Telegram, in the terminal or driven by hand."""

import asyncio
import random
import secrets
import tempfile
from collections.abc import AsyncIterator, Callable, Mapping
from contextlib import AsyncExitStack, asynccontextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Any, Protocol

from rich.console import Console

from bot.backups import KEPT, DailyBackup
from bot.calendars.feed import CalendarFeed
from bot.calendars.page import route as calendar_route
from bot.channels.in_real_time import InRealTime
from bot.channels.painter import Painter, SentFiles
from bot.channels.telegram.channel import TelegramChannel, Timeouts, Webhook
from bot.channels.telegram.menus import MenuBook
from bot.channels.telegram.translation import CHANNEL as TELEGRAM
from bot.channels.terminal import CHANNEL as TERMINAL
from bot.channels.terminal import ReadLine, TerminalCarrier, TerminalChannel
from bot.conversation.chat import CHANNEL as REPLAY
from bot.conversation.chat import Chat
from bot.conversation.foundation import Foundation, NewId, Quiet
from bot.conversation.heard import Listener
from bot.conversation.incoming import Receiver
from bot.conversation.keeping import Folder
from bot.conversation.links import Links
from bot.conversation.office import MorningDigest
from bot.conversation.people.sweeping import KeepList, Sweeping
from bot.erased import ErasedList, list_beside
from bot.health import (
    Check,
    Endpoint,
    Watch,
    alarms_on_time,
    can_keep,
    inbox_on_time,
    outbox_on_time,
    set_aside,
)
from bot.house import House
from bot.listening import listening_on
from bot.papers.gathering import RecordGathering
from bot.settings import Settings
from bot.weather.configured import configured_source
from bot.weather.source import WeatherSource
from bot.weather.watch import EVERY, WeatherWatch
from bot.wording.unkept import UNKEPT
from scheduling.clock import Clock, PacedClock, SteppedClock, SystemClock, pace_of
from scheduling.pacing import Pacing
from scheduling.ports import Builder, Person, Store, Voice
from scheduling.waking.carrying import Carrier
from scheduling.waking.dispatcher import LEASE, Dispatcher
from scheduling.waking.engine import Engine
from scheduling.waking.records import Book
from scheduling.waking.waker import Daily, SchedulerWaker
from storage.holding import held_alone

CHAT_LOOKS_EVERY = timedelta(hours=6)
"""Weather of a conversation driven by hand, where weeks pass in seconds."""


class OpenStore(Protocol):
    """Opens a store; one that is not ``lasting`` goes with the process that made it."""

    async def __call__(self, url: str, /, *, lasting: bool = True) -> Store:
        """The opened store. Raises a ``StorageFault``."""
        ...


@dataclass(frozen=True, slots=True)
class Parts:
    """What differs between the real house and one of a test."""

    open_store: OpenStore
    book: Book[Any]
    voice: Voice
    painter: Painter
    receiver: Callable[[Foundation], Receiver]
    menus: MenuBook | None = None
    timeouts: Timeouts | None = None


@asynccontextmanager
async def telegram_house(
    settings: Settings,
    parts: Parts,
    clock: Clock | None = None,
    weather: WeatherSource | None = None,
) -> AsyncIterator[TelegramChannel]:
    """A house on Telegram, running until the block is left; what is in hand is then finished.

    ``weather`` goes before the source that is set.
    """
    if settings.token is None:
        raise ValueError("no token is set")
    carriers: dict[str, Carrier] = {}
    files: dict[str, SentFiles] = {}
    links = Links(calendars=settings.calendars_at)
    clock = clock or SystemClock()
    pace = pace_of(clock)
    async with AsyncExitStack() as stack:
        alone = stack.enter_context(held_alone(settings.database_url))
        source = weather or await stack.enter_async_context(configured_source(settings))
        pacing = Pacing() if pace == 1.0 else None
        house = await _house(settings, parts, clock, carriers, alone, pacing, source, links, files)
        stack.push_async_callback(house.close)
        channel = TelegramChannel(
            settings.token,
            house.store,
            house.clock,
            house,
            parts.painter,
            base_url=settings.telegram_url,
            webhook=_webhook(settings),
            menus=parts.menus,
            timeouts=parts.timeouts,
            gather=partial(RecordGathering, house.store),
            connected=links.learn,
            unkept=UNKEPT,
            beside=(calendar_route(CalendarFeed(house.store, house.clock).read),),
        )
        # Telegram counts in its own seconds, whatever the pace.
        carriers[TELEGRAM] = channel.carrier if pacing else InRealTime(channel.carrier, pace)
        files[TELEGRAM] = channel.files
        # The stack unwinds upward: no more is taken in, what was answered goes out, then the line
        # is closed.
        stack.push_async_callback(channel.close)
        await channel.start()
        stack.push_async_callback(house.stop)
        await house.start()
        stack.push_async_callback(channel.stop_taking_in)
        await _watched(stack, settings, house, channel)
        yield channel


@asynccontextmanager
async def terminal_house(
    settings: Settings,
    parts: Parts,
    console: Console,
    pictures: Path,
    read_line: ReadLine,
    name: str,
) -> AsyncIterator[TerminalChannel]:
    """A house in the terminal, at the pace that is set."""
    system = SystemClock()
    paced = settings.pace != 1.0
    clock: Clock = PacedClock(system.now(), settings.pace) if paced else system
    carriers: dict[str, Carrier] = {}
    async with AsyncExitStack() as stack:
        alone = stack.enter_context(held_alone(settings.database_url))
        source = await stack.enter_async_context(configured_source(settings))
        house = await _house(settings, parts, clock, carriers, alone, None, source)
        gather = RecordGathering(house.store)
        carrier = TerminalCarrier(console, clock, parts.painter, pictures, gather)
        carriers[TERMINAL] = carrier
        try:
            await house.start()
            yield TerminalChannel(house.store, clock, house, carrier, console, read_line, name)
        finally:
            await house.stop()
            await house.close()


async def open_chat(
    start: datetime,
    parts: Parts,
    *,
    builder: str | None = None,
    database_url: str | None = None,
    seed: int = 0,
    out: Path | None = None,
    quiet: Quiet = (22.0, 7.0),
    weather: WeatherSource | None = None,
) -> Chat:
    """A conversation driven by hand, beginning at ``start``.

    ``builder`` is who, among those that speak, is the builder. Without ``database_url`` nothing
    outlives it. The same ``seed`` gives the same ids. With ``out`` pictures and papers are drawn
    into that folder. With ``weather`` every oven hears its forecasts.
    """
    clock = SteppedClock(start)
    carriers: dict[str, Carrier] = {}
    new_id = seeded_id(seed)
    folder = None if database_url else tempfile.TemporaryDirectory(prefix="stokewatch-")
    url = database_url or f"sqlite+aiosqlite:///{folder.name if folder else ''}/chat.sqlite"
    store = await parts.open_store(url, lasting=folder is None)
    team = f"team-{builder}" if builder else None
    house = _open(
        store, parts, clock, carriers, new_id, None, quiet, team, weather, CHAT_LOOKS_EVERY
    )
    gather = RecordGathering(house.store)
    listener = Listener(clock, Folder(out, parts.painter, gather).keep) if out else Listener(clock)
    carriers[REPLAY] = listener
    if builder:
        await _introduce_builder(house.store, builder)
    return Chat(clock, house.store, house, house, listener, folder.cleanup if folder else None)


def seeded_id(seed: int) -> NewId:
    """Ids that are the same in every run of one seed."""
    chance = random.Random(seed)  # noqa: S311 - ids of a replay keep no secret
    return lambda: f"{chance.getrandbits(80):020x}"


def secrets_id() -> str:
    """An id that cannot be guessed: it may stand in a button or a link."""
    return secrets.token_urlsafe(15)


async def _house(
    settings: Settings,
    parts: Parts,
    clock: Clock,
    carriers: dict[str, Carrier],
    alone: bool,
    pacing: Pacing | None,
    weather: WeatherSource | None,
    links: Links | None = None,
    files: Mapping[str, SentFiles] | None = None,
) -> House:
    folder = settings.backup_folder
    backup = DailyBackup(settings.database_url, folder, clock).daily() if folder else None
    erased = list_beside(settings.database_url, folder)
    return _open(
        await parts.open_store(settings.database_url),
        parts,
        clock,
        carriers,
        secrets_id,
        pacing,
        settings.quiet(),
        weather=weather,
        daily=(backup,) if backup else (),
        links=links,
        backup_days=KEPT if backup else None,
        keep_erased=ErasedList(erased, settings.database_url).keep if erased else None,
        files=files,
        alone=alone,
    )


def _open(
    store: Store,
    parts: Parts,
    clock: Clock,
    carriers: dict[str, Carrier],
    new_id: NewId,
    pacing: Pacing | None,
    quiet: Quiet,
    builder: str | None = None,
    weather: WeatherSource | None = None,
    look_every: timedelta = EVERY,
    daily: tuple[Daily, ...] = (),
    links: Links | None = None,
    backup_days: int | None = None,
    keep_erased: KeepList | None = None,
    files: Mapping[str, SentFiles] | None = None,
    alone: bool = False,
) -> House:
    """APScheduler knows no hours but the machine's, so another clock is followed in rounds."""
    engine: Engine[Any] = Engine(store, parts.voice, clock, parts.book, new_id)
    lease = LEASE * pace_of(clock)
    dispatcher = Dispatcher(
        store, clock, carriers, pacing=pacing, lease=lease, again=parts.voice.again, alone=alone
    )
    base = Foundation(
        store,
        clock,
        engine,
        new_id,
        quiet,
        parts.voice,
        builder,
        links or Links(),
        backup_days,
        files if files is not None else {},
    )
    receiver = parts.receiver(base)
    sweeping = Sweeping(store, clock, keep_erased)
    watch = WeatherWatch(weather, store, engine, clock, look_every) if weather else None
    on_time = isinstance(clock, SystemClock)
    waker = partial(SchedulerWaker, daily=daily) if on_time else None
    digest = MorningDigest(store, clock, parts.voice, new_id)
    return House(store, clock, engine, dispatcher, receiver, watch, (sweeping, digest), waker)


async def _introduce_builder(store: Store, name: str) -> None:
    """The builder is known before anybody speaks, as one who set the bot up would be."""
    async with store.write() as unit:
        if await unit.people.at(REPLAY, name) is None:
            person = Person(id=f"builder-{name}", channel=REPLAY, address=name, name=name)
            team = Builder(id=f"team-{name}", name=name, founder=person.id)
            await unit.builders.put(team)
            await unit.people.put(person.model_copy(update={"builder": team.id}))
            await unit.commit()


async def _watched(
    stack: AsyncExitStack, settings: Settings, house: House, channel: TelegramChannel
) -> None:
    """Look after the house, and answer those who ask after its health."""

    async def running() -> str | None:
        return house.fault() or channel.fault()

    async def mend() -> None:
        if channel.fault() is not None:
            await channel.revive()

    store, clock = house.store, house.clock
    checks: list[Check] = [running, can_keep(store), house.weather_fault]
    if pace_of(clock) == 1.0:
        # On a faster clock two minutes are over before anybody could be late.
        checks += [
            inbox_on_time(store, clock, TELEGRAM),
            alarms_on_time(store, clock),
            outbox_on_time(store, clock),
        ]
    watching = asyncio.create_task(Watch(checks, mend).run(), name="watch")
    stack.callback(watching.cancel)
    if settings.health_port is not None:
        counts = {"set_aside": set_aside(store)}
        endpoint = Endpoint(checks, settings.health_port, counts)
        with listening_on("127.0.0.1", settings.health_port, "STOKEWATCH_HEALTH_PORT"):
            endpoint.open()
        stack.push_async_callback(endpoint.close)


def _webhook(settings: Settings) -> Webhook | None:
    if not settings.webhook_url or settings.webhook_secret is None:
        return None
    return Webhook(
        settings.webhook_url,
        settings.webhook_secret,
        settings.webhook_listen,
        settings.webhook_port,
    )
