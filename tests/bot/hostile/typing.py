"""People who type on Telegram, over the whole road: raw update, inbox, reception, SQLite, letter,
and the Bot API that checks what is sent."""

import asyncio
import itertools
import json
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import timedelta
from pathlib import Path
from typing import Any

from telegram import Bot
from telegram.request import HTTPXRequest

from bot.attachments import make
from bot.channels.inbox_worker import InboxWorker
from bot.channels.painter import draw
from bot.channels.telegram.carrier import TelegramCarrier
from bot.channels.telegram.intake import Intake
from bot.channels.telegram.lanes import connections
from bot.channels.telegram.translation import incoming
from bot.conversation.foundation import Foundation
from bot.conversation.links import Links
from bot.conversation.people.arriving import FirstRunCodes
from bot.conversation.reception import Reception
from bot.conversation.setting_up import SettingUp
from bot.papers.gathering import RecordGathering
from bot.papers.record_tables import record_csv, record_json
from bot.wiring import seeded_id
from bot.wording.voice import Voice
from scheduling.clock import SteppedClock
from scheduling.ports import Attachment, OutboxState, OvenCard
from scheduling.record import Record
from scheduling.waking.book import OvenBook
from scheduling.waking.dispatcher import Dispatcher
from scheduling.waking.engine import Engine
from storage import tables
from storage.address import sqlite_url
from storage.migrating import migrate_file
from storage.store import SqlStore, make_engine
from tests.bot.conversation.desk import EVENING, SMALL_SET_UP, FewPlaces
from tests.botapi.server import TOKEN, BotApi
from tests.botapi.shown import Shown

CODES = FirstRunCodes(owner="owner-first-run-code", builder="builder-first-run-code")
BEA, ANA, CAL = 1, 2, 3
"""A builder; a client of hers, who is set up; and one alone who is asked for a place."""


class Typed:
    """Chats over one store. What is typed is answered before the verb returns."""

    def __init__(self, store: SqlStore, api: BotApi, bot: Bot, seed: int) -> None:
        self.store, self.api = store, api
        self.clock = SteppedClock(EVENING + timedelta(days=seed))
        self.files: dict[str, bytes] = {}
        new_id, voice = seeded_id(seed), Voice()
        self.engine: Engine[Record] = Engine(store, voice, self.clock, OvenBook(), new_id)
        places: Any = FewPlaces
        base = Foundation(
            store, self.clock, self.engine, new_id, None, voice, None, Links("stoke_bot"), 7,
            {"telegram": self._file},
        )  # fmt: skip
        self.reception = Reception(base, CODES, SettingUp(places))
        self.worker = InboxWorker("telegram", store, self.reception, incoming)
        self.intake = Intake(store, self.clock, lambda _: None)
        self.gather = RecordGathering(store)
        carrier = TelegramCarrier(bot, make, self.gather)
        self.dispatcher = Dispatcher(store, self.clock, {"telegram": carrier})
        self._updates = itertools.count(seed * 100_000 + 1)

    async def _file(self, reference: str) -> bytes | None:
        return self.files.get(reference.removeprefix("telegram:"))

    async def say(self, chat: int, text: str, **more: Any) -> list[Shown]:
        return await self._arrive(chat, {"text": text, **more})

    async def caption(self, chat: int, text: str) -> list[Shown]:
        sizes = [{"file_id": "f1", "file_unique_id": "u1", "width": 9, "height": 9}]
        return await self._arrive(chat, {"photo": sizes, "caption": text})

    async def edit(self, chat: int, text: str) -> list[Shown]:
        """First something ordinary, then this in its place."""
        number = next(self._updates)
        await self._arrive(chat, {"text": "thanks"}, number=number)
        return await self._arrive(chat, {"text": text}, "edited_message", number=number)

    async def send_file(self, chat: int, name: str, content: bytes) -> list[Shown]:
        self.files["d1"] = content
        told = {"file_id": "d1", "file_name": name, "file_size": len(content)}
        return await self._arrive(chat, {"document": told | {"mime_type": "text/plain"}})

    async def press_key(self, chat: int, data: str) -> list[Shown]:
        under = {"chat": {"id": chat, "type": "private"}}
        query = {"id": "q1", "data": data, "from": _who("Ana"), "message": under}
        return await self._take({"callback_query": query}, chat)

    async def press(self, chat: int, label: str) -> list[Shown]:
        shown = next(one for one in reversed(self.api.read(chat)) if label in one.callback_data)
        return await self.press_key(chat, shown.callback_data[label])

    async def _arrive(
        self,
        chat: int,
        content: dict[str, Any],
        kind: str = "message",
        name: str | None = None,
        number: int | None = None,
    ) -> list[Shown]:
        name = content.pop("name", name or "Ana")
        message = {
            "message_id": number or next(self._updates),
            "date": int(self.clock.now().timestamp()),
            "chat": {"id": chat, "type": "private"},
            "from": _who(name),
            **content,
        }
        return await self._take({kind: message}, chat)

    async def _take(self, update: dict[str, Any], chat: int) -> list[Shown]:
        self.api.chats.add(chat)
        self.clock.move_to(self.clock.now() + timedelta(seconds=20))
        seen = {shown.message for shown in self.api.read(chat)}
        # As it comes over the line: JSON, read again.
        raw = json.loads(json.dumps({"update_id": next(self._updates), **update}))
        await self.intake.keep([raw])
        await self.worker.drain()
        await self.dispatcher.deliver()
        return [shown for shown in self.api.read(chat) if shown.message not in seen]

    # ------------------------------------------------------------ what came of it

    async def all_is_well(self) -> None:
        """Nothing was set aside, nothing waits, and every letter that could be sent was taken."""
        async with self.store.read() as unit:
            aside = await unit.inbox.set_aside()
            assert not aside, [(one.why, one.row.body[:300]) for one in aside]
            assert not await unit.inbox.waiting("telegram")
        async with self.store._reading.connect() as connection:
            failed = await connection.execute(
                tables.outbox.select().where(
                    tables.outbox.c.state.in_([OutboxState.FAILED.value, OutboxState.UNKNOWN.value])
                )
            )
            assert not [(row.why, row.parcel[:500]) for row in failed]

    async def card(self, chat: int) -> OvenCard:
        async with self.store.read() as unit:
            person = await unit.people.at("telegram", str(chat))
            assert person is not None
            (card,) = await unit.ovens.of_person(person.id)
        return card

    async def papers(self, chat: int) -> dict[str, bytes | str]:
        """The record of that owner's oven in all its forms."""
        card = await self.card(chat)
        gathered = await self.gather.gathered(card.id)
        paper = gathered.paper(self.clock.now())
        data = {"oven_id": card.id, "oven": card.name, "at": self.clock.now().isoformat()}
        record = Attachment(kind="record", name="oven-record.pdf", data=data)
        drawn = draw(make, await self.gather(record))
        return {"pdf": drawn.content, "csv": record_csv(paper), "json": record_json(paper)}


def _who(name: str) -> dict[str, Any]:
    return {"id": 7, "is_bot": False, "first_name": name}


@asynccontextmanager
async def typed(path: Path, seed: int) -> AsyncIterator[Typed]:
    store = SqlStore(make_engine(sqlite_url(path), lasting=False))
    request = HTTPXRequest(read_timeout=30.0, httpx_kwargs=connections(4))
    async with BotApi() as api, Bot(TOKEN, base_url=api.url, request=request) as bot:
        try:
            yield Typed(store, api, bot, seed)
        finally:
            await store.close()


async def furnish(path: Path) -> None:
    """Bea and her client Ana, who is set up; and Cal, who is alone and has said the unit."""
    await asyncio.to_thread(migrate_file, path)
    async with typed(path, 0) as they:
        await they.say(BEA, f"/start {CODES.builder}", name="Bea")
        (made,) = await they.say(BEA, "/invite Alder House")
        code = made.text.rpartition("?start=")[2].split()[0]
        for words in (f"/start {code}", *SMALL_SET_UP):
            await they.say(ANA, words)
        for words in (f"/start {CODES.owner}", "C"):
            await they.say(CAL, words, name="Cal")
        await they.all_is_well()
