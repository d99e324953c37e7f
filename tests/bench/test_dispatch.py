"""2,000 due alarms down the whole road to a Bot API on loopback, without pacing.

Evaluated by a record that only counts (the road is measured, not the arithmetic of a wall). The
server has a process of its own, as Telegram would.
"""

import asyncio
import itertools
import multiprocessing
import sqlite3
import time
from contextlib import closing
from multiprocessing.connection import Connection
from pathlib import Path

import pytest
from sqlalchemy import insert
from telegram import Bot
from telegram.request import HTTPXRequest

from bot.channels.telegram.carrier import TelegramCarrier
from bot.channels.telegram.lanes import connections
from bot.conversation.incoming import Incoming
from bot.house import House
from scheduling.alarm import AlarmName
from scheduling.clock import SystemClock
from scheduling.waking.dispatcher import Dispatcher
from scheduling.waking.engine import Engine
from storage import tables
from storage.address import sqlite_url
from storage.store import SqlStore, make_engine, open_store
from tests.botapi.server import TOKEN, BotApi
from tests.contract.samples import NOON
from tests.end_to_end.small_house import SmallBook, SmallRecord, SmallVoice

COUNT = 2000
CEILING = 30
"""Messages a second that Telegram takes from one bot (core.telegram.org/bots/faq)."""


def serve(pipe: Connection) -> None:
    async def run() -> None:
        async with BotApi() as api:
            api.chats.update(range(COUNT))
            pipe.send(api.url)
            begun_cpu = time.process_time()
            await asyncio.to_thread(pipe.recv)
            pipe.send((len(api.shown), time.process_time() - begun_cpu))

    asyncio.run(run())


class Nobody:
    async def went_unheard(self, incoming: Incoming, why: str) -> None:
        raise NotImplementedError(why)

    async def receive(self, incoming: Incoming) -> None:
        """Nobody writes here."""


async def fill(path: Path) -> None:
    await (await open_store(sqlite_url(path))).close()
    engine = make_engine(sqlite_url(path))
    each = range(COUNT)
    plain = {"channel": "telegram", "name": "", "unit": "C", "zone": "UTC", "blocked": False}
    people = [{"id": f"p{n}", "address": f"{n}", **plain} for n in each]
    ovens = [{"id": f"o{n}", "name": "", "state": "set_up", "place": ""} for n in each]
    owners = [{"oven": f"o{n}", "position": 0, "person": f"p{n}"} for n in each]
    alarms = [{"oven": f"o{n}", "name": AlarmName.NUDGE.value, "due": NOON} for n in each]
    async with engine.begin() as connection:
        for table, rows in (
            (tables.people, people),
            (tables.ovens, ovens),
            (tables.tenders, owners),
            (tables.alarms, alarms),
        ):
            await connection.execute(insert(table), rows)
    await engine.dispose()


@pytest.mark.bench
@pytest.mark.timeout(600)
async def test_two_thousand_alarms_down_the_whole_road(tmp_path: Path) -> None:
    path = tmp_path / "house.sqlite"
    await fill(path)
    ours, theirs = multiprocessing.Pipe()
    server = multiprocessing.get_context("spawn").Process(target=serve, args=(theirs,))
    server.start()
    url = await asyncio.to_thread(ours.recv)
    store, clock, numbers = (
        SqlStore(make_engine(sqlite_url(path))),
        SystemClock(),
        itertools.count(),
    )

    def new_id() -> str:
        return f"l{next(numbers)}"

    bot = Bot(TOKEN, base_url=url, request=HTTPXRequest(httpx_kwargs=connections(64)))
    carrier = TelegramCarrier(bot, lambda kind, data: b"")
    engine: Engine[SmallRecord] = Engine(store, SmallVoice(), clock, SmallBook(), new_id)
    dispatcher = Dispatcher(store, clock, {"telegram": carrier})
    house = House(store, clock, engine, dispatcher, Nobody())
    async with bot:
        begun, begun_cpu = time.perf_counter(), time.process_time()
        await house.start()
        async with asyncio.timeout(300):
            while sent(path) < COUNT:  # noqa: ASYNC110 - as another process would
                await asyncio.sleep(0.1)
        took, cpu = time.perf_counter() - begun, time.process_time() - begun_cpu
        await house.stop()
    ours.send("enough")
    shown, server_cpu = await asyncio.to_thread(ours.recv)
    server.join(10)
    await house.close()
    rate = COUNT / took
    assert shown == COUNT
    print(
        f"\n{COUNT} alarms to {shown} messages: {rate / CEILING:.1f} × {CEILING}/s ({rate:.0f}/s); "
        f"our process used {1e3 * cpu / COUNT:.1f} ms of a core for each, the server "
        f"{1e3 * server_cpu / COUNT:.1f} ms"
    )


def sent(path: Path) -> int:
    with closing(sqlite3.connect(path)) as plain:
        query = "select count(*) from outbox where state = 'sent'"
        return int(plain.execute(query).fetchone()[0])
