"""Days moved by message: said as people say it, confirmed with one tap, undone with another.

The oven is set up once; every test goes on from a copy of that database.
"""

import asyncio
import shutil
from collections.abc import AsyncIterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from bot.attachments import make
from bot.conversation.chat import CHANNEL, Chat
from bot.conversation.heard import Heard
from bot.parts import shipped
from bot.wiring import open_chat
from bot.wording.voice import Voice
from scheduling.choice import About, SetUpAnswer
from scheduling.clock import SteppedClock
from scheduling.happening import Begun, Chose
from scheduling.ports import Letter, OvenCard, Person
from scheduling.record import Record
from scheduling.waking.book import OvenBook
from scheduling.waking.engine import Engine
from storage.store import open_store
from tests.scheduling.road import ANSWERS

MONDAY = datetime(2026, 5, 4, 8, 0, tzinfo=UTC)  # nine o'clock in London
TOMORROW, SATURDAY = date(2026, 5, 5), date(2026, 5, 9)
OVEN = "dome"

UNDER_A_SHEET = ANSWERS | {About.STANDS: "sky+sheet"}

Days = tuple[tuple[int, date], ...]


class RuleBook(OvenBook):
    """By the rule of thumb alone: the days are tried here, the wall elsewhere."""

    def empty(self, card: OvenCard) -> Record:
        return Record(oven=card.id, members=0)


@pytest.fixture(scope="module")
def set_up(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database with one oven, cured, its days told on Monday morning."""
    file = tmp_path_factory.mktemp("days") / "oven.sqlite"
    asyncio.run(_set_up(file))
    return file


async def _set_up(file: Path) -> None:
    store = await open_store(f"sqlite+aiosqlite:///{file}")
    ids = (f"set-up-{n}" for n in range(10_000))
    engine: Engine[Record] = Engine(
        store, Voice(), SteppedClock(MONDAY), RuleBook(), lambda: next(ids)
    )
    async with store.write() as unit:
        ana = Person(id="ana", channel=CHANNEL, address="ana", name="Ana", zone="Europe/London")
        await unit.people.put(ana)
        await unit.ovens.put(OvenCard(id=OVEN, name="dome", owners=("ana",)))
        await unit.commit()
    await engine.happen(OVEN, Begun("ana", "dome"))
    for about, value in UNDER_A_SHEET.items():
        await engine.happen(OVEN, Chose("ana", SetUpAnswer(about=about, value=value)))
    await store.close()


class Talk:
    """Ana's conversation, minute by minute."""

    def __init__(self, chat: Chat) -> None:
        self.chat = chat

    async def says(self, text: str) -> list[Heard]:
        return await self.chat.say("ana", text, self.chat.now + timedelta(minutes=1))

    async def presses(self, label: str) -> list[Heard]:
        return await self.chat.press("ana", label, self.chat.now + timedelta(minutes=1))

    async def days(self) -> Days:
        async with self.chat.store.read() as unit:
            return tuple((one.firing, one.day) for one in await unit.promises.of(OVEN))

    async def length(self) -> int:
        async with self.chat.store.read() as unit:
            return len(await unit.ovens.journal(OVEN))

    async def last_letter(self) -> Letter:
        async with self.chat.store.read() as unit:
            letter = await unit.outbox.last_sent("ana")
        assert letter is not None
        return letter

    async def calendar(self) -> "File":
        """The file that came with the last message, as the owner's calendar reads it."""
        (file,) = (await self.last_letter()).parcel.attachments
        assert file.name == "firing-days.ics"
        return File(Calendar.from_ical(make(file.kind, file.data)))


class File:
    """What a calendar program finds in a file."""

    def __init__(self, calendar: Any) -> None:
        self.events = calendar.walk("VEVENT")

    @property
    def uids(self) -> list[str]:
        return [str(one["UID"]) for one in self.events]

    @property
    def sequences(self) -> list[int]:
        return [int(one["SEQUENCE"]) for one in self.events]

    @property
    def days(self) -> list[date]:
        return [one["DTSTART"].dt.date() for one in self.events]


@pytest.fixture
async def talk(set_up: Path, tmp_path: Path) -> AsyncIterator[Talk]:
    file = tmp_path / "oven.sqlite"
    shutil.copy(set_up, file)
    parts = replace(shipped(), book=RuleBook())
    chat = await open_chat(
        MONDAY + timedelta(minutes=5), parts, database_url=f"sqlite+aiosqlite:///{file}", seed=1
    )
    await chat.pass_time(MONDAY + timedelta(minutes=10))
    yield Talk(chat)
    await chat.close()


def buttons(heard: list[Heard]) -> list[str]:
    return [label for one in heard for row in one.buttons for label in row]


async def test_the_days_begin_tomorrow_and_reach_over_saturday(talk: Talk) -> None:
    days = dict(await talk.days())
    assert days[1] == TOMORROW
    assert SATURDAY in days.values()


@pytest.mark.parametrize(
    ("words", "day"),
    [
        ("wet all day tomorrow", TOMORROW),
        ("blowing a gale tomorrow", TOMORROW),
        ("30 knots tomorrow", TOMORROW),
        ("can't do Saturday", SATURDAY),
        ("away 9th to 10th", SATURDAY),
    ],
)
async def test_a_day_moves_by_one_tap_and_comes_back_by_another(
    talk: Talk, words: str, day: date
) -> None:
    before = await talk.days()
    proposed = await talk.says(words)
    assert "Shall I move the days like this?" in proposed[-1].text
    assert await talk.days() == before, "nothing moves before it is confirmed"
    moved = await talk.presses("Yes, move them")
    after = await talk.days()
    assert "firing-days.ics" in moved[-1].attachments
    assert day in dict(before).values()
    assert day not in dict(after).values()
    assert [number for number, _ in after] == [number for number, _ in before]
    await talk.presses("Take that back")
    assert await talk.days() == before, "undoing restores exactly"


async def test_no_leaves_the_days_as_they_are(talk: Talk) -> None:
    before = await talk.days()
    await talk.says("can't do Saturday")
    heard = await talk.presses("No, leave them")
    assert "stay as they are" in heard[-1].text
    assert await talk.days() == before


async def test_the_same_words_twice_change_nothing_more(talk: Talk) -> None:
    await talk.says("can't do Saturday")
    await talk.presses("Yes, move them")
    once = await talk.days()
    again = await talk.says("can't do Saturday")
    assert "stay as they are" in again[-1].text
    assert "Yes, move them" not in buttons(again)
    assert await talk.days() == once


async def test_a_second_tap_on_the_same_button_changes_nothing_more(talk: Talk) -> None:
    await talk.says("can't do Saturday")
    await talk.presses("Yes, move them")
    once = await talk.days()
    await talk.presses("Yes, move them")
    assert await talk.days() == once


@pytest.mark.parametrize(
    "words", ["can't do 31 February", "away 1 May to 2 May", "away 7th to 3rd"]
)
async def test_days_that_cannot_be_are_asked_back_and_move_nothing(talk: Talk, words: str) -> None:
    before = await talk.days()
    heard = await talk.says(words)
    assert heard, "it is never met with silence"
    assert "Yes, move them" not in buttons(heard)
    assert await talk.days() == before


async def test_the_calendar_file_replaces_the_one_before(talk: Talk) -> None:
    await talk.says("/days")
    first = await talk.calendar()
    await talk.says("can't do Saturday")
    await talk.presses("Yes, move them")
    second = await talk.calendar()
    assert first.uids == second.uids, "the same firings, moved"
    assert max(first.sequences) < min(second.sequences)
    assert second.days == [day for _, day in await talk.days()]


async def test_undoing_brings_a_calendar_file_that_puts_the_days_back(talk: Talk) -> None:
    before = await talk.days()
    await talk.says("can't do Saturday")
    await talk.presses("Yes, move them")
    moved = await talk.calendar()
    await talk.presses("Take that back")
    back = await talk.calendar()
    assert back.days == [day for _, day in before]
    assert max(moved.sequences) < min(back.sequences)
