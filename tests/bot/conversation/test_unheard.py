"""A fault at every stage of the road: one of the message's own, and one of the disk."""

import asyncio
import shutil
from collections.abc import AsyncIterator, Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from bot.channels.inbox_worker import InboxWorker
from bot.conversation.incoming import Incoming, slash
from bot.conversation.people.desk import PeopleDesk
from bot.conversation.stored import incoming_of, row_of
from bot.understanding import heard
from bot.wording.hazards import NOT_WORKED_ON
from bot.wording.voice import Voice as RealVoice
from scheduling.advance import advance
from scheduling.clock import SteppedClock
from scheduling.happening import Spoke, WentUnheard
from scheduling.journal import HazardSeen, Unheard
from scheduling.meaning import Meaning, NotHeard
from scheduling.ports import Parcel, Person
from storage.address import sqlite_url
from storage.faults import DiskFull, RuleBroken
from storage.migrating import migrate_file
from storage.ovens import SqlOvens
from storage.store import SqlStore, make_engine
from storage.unit_of_work import SqlUnitOfWork
from tests.bot.conversation.desk import CODES, EVENING, Desk
from tests.bot.conversation.plain_voice import PlainVoice

POISON = "I hear popping from the purple side"
TOLD = "not_heard"
HEARD = "hazard_told"

Break = Callable[[Exception, "Faulty"], None]


class Faulty:
    """A reception with one owner, and a road that can be broken at a stage of it."""

    def __init__(self, desk: Desk, patch: pytest.MonkeyPatch) -> None:
        self.desk, self.patch = desk, patch
        self.left = 0
        self.worker = InboxWorker("telegram", desk.store, desk.reception, incoming_of)

    async def take_in(self, text: str, who: str = "ana") -> Incoming:
        said = self.desk.incoming(who, text=text, command=slash(text))
        async with self.desk.store.write() as unit:
            await unit.inbox.store(row_of(said))
            await unit.commit()
        return said

    async def hear(self, text: str) -> list[str]:
        await self.take_in(text)
        await self.worker.drain()
        return await self.desk.told("ana")

    async def journal(self, kind: type[Any]) -> list[Any]:
        record = await self.desk.record("ana")
        return [entry for entry in record.entries if isinstance(entry, kind)]

    def breaking(self, real: Callable[..., Any], error: Exception) -> Callable[..., Any]:
        """``real``, that fails as often as it is told to."""

        def call(*told: Any, **more: Any) -> Any:
            if self.left:
                self.left -= 1
                raise error
            return real(*told, **more)

        return call


@pytest.fixture(scope="module")
def set_up(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file with one oven in it, which its owner has begun to describe."""
    path = tmp_path_factory.mktemp("unheard") / "house.sqlite"
    migrate_file(path)

    async def describe() -> None:
        store = SqlStore(make_engine(sqlite_url(path), lasting=False))
        desk = Desk(channel="telegram", store=store)
        await desk.say("ana", f"/start {CODES.owner}")
        await desk.say("ana", "C")
        await store.close()

    # In a thread: the test that asks first has a running loop of its own.
    with ThreadPoolExecutor(1) as thread:
        thread.submit(asyncio.run, describe()).result()
    return path


@pytest.fixture
async def faulty(
    set_up: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> AsyncIterator[Faulty]:
    path = tmp_path / "house.sqlite"
    shutil.copyfile(set_up, path)
    store = SqlStore(make_engine(sqlite_url(path), lasting=False))
    clock = SteppedClock(EVENING + timedelta(hours=1))
    desk = Desk(channel="telegram", store=store, voice=Voice(), clock=clock, first_id=1000)
    yield Faulty(desk, monkeypatch)
    await store.close()


class Voice(PlainVoice):
    """Can be broken."""

    def render(self, meaning: Meaning, *told: Any) -> Parcel:
        return super().render(meaning, *told)


def understanding(error: Exception, faulty: Faulty) -> None:
    broken = faulty.breaking(heard, error)
    faulty.patch.setattr("bot.conversation.reception.heard", broken)
    faulty.patch.setattr("bot.conversation.reception.understand", broken)


def advancing(error: Exception, faulty: Faulty) -> None:
    faulty.patch.setattr("scheduling.waking.book.advance", faulty.breaking(advance, error))


def wording(error: Exception, faulty: Faulty) -> None:
    faulty.patch.setattr(Voice, "render", faulty.breaking(Voice.render, error))


def writing(error: Exception, faulty: Faulty) -> None:
    real = SqlOvens.append_each
    faulty.patch.setattr(SqlOvens, "append_each", faulty.breaking(real, error))


def committing(error: Exception, faulty: Faulty) -> None:
    real = SqlUnitOfWork.commit
    faulty.patch.setattr(SqlUnitOfWork, "commit", faulty.breaking(real, error))


STAGES = [understanding, advancing, wording, writing, committing]


@pytest.mark.parametrize("stage", STAGES, ids=lambda stage: stage.__name__)
@pytest.mark.parametrize(
    "error", [TypeError("not like this"), RuleBroken("refused")], ids=lambda e: type(e).__name__
)
async def test_a_fault_of_the_message_is_told_at_once_and_kept(
    faulty: Faulty, stage: Break, error: Exception
) -> None:
    stage(error, faulty)
    await faulty.take_in(POISON)
    await faulty.take_in("thanks")
    faulty.left = 1
    assert await faulty.worker.drain()
    told = await faulty.desk.told("ana")
    assert [one.split()[0] for one in told][:2] == [TOLD, "greeted"], "in order, and at once"
    assert len(await faulty.journal(Unheard)) == 1
    async with faulty.desk.store.read() as unit:
        (kept,) = await unit.inbox.set_aside()
    assert POISON in kept.row.body
    assert str(error) in kept.why


@pytest.mark.parametrize("stage", STAGES, ids=lambda stage: stage.__name__)
async def test_a_fault_of_the_disk_is_never_blamed_on_the_message(
    faulty: Faulty, stage: Break
) -> None:
    stage(DiskFull("no room"), faulty)
    await faulty.take_in(POISON)
    faulty.left = 1
    assert not await faulty.worker.drain()
    assert await faulty.desk.told("ana") == []
    faulty.left = 2
    assert not await faulty.worker.drain()
    faulty.left = 0
    assert await faulty.worker.drain()
    told = await faulty.desk.told("ana")
    assert [one.split()[0] for one in told] == [HEARD]
    assert len(await faulty.journal(HazardSeen)) == 1
    assert not await faulty.journal(Unheard)
    async with faulty.desk.store.read() as unit:
        assert await unit.inbox.count_set_aside() == 0


async def test_a_disk_that_fails_while_it_is_told_blames_nobody_either(faulty: Faulty) -> None:
    """The message fails by itself, and then that cannot be kept: all is done again later."""
    understanding(TypeError("not like this"), faulty)
    real = SqlUnitOfWork.commit
    full = True

    async def commit(unit: SqlUnitOfWork) -> None:
        if full:
            raise DiskFull("no room")
        await real(unit)

    await faulty.take_in(POISON)
    faulty.patch.setattr(SqlUnitOfWork, "commit", commit)
    faulty.left = 1
    with pytest.raises(DiskFull):
        await faulty.worker.drain()
    full = False
    faulty.left = 1
    assert await faulty.worker.drain()
    assert await faulty.desk.told("ana") == [TOLD]


async def test_a_fault_after_the_commit_is_not_told_for_all_has_been_done(faulty: Faulty) -> None:
    real = SqlUnitOfWork.commit

    async def commit(unit: SqlUnitOfWork) -> None:
        await real(unit)
        if faulty.left:
            faulty.left -= 1
            raise TypeError("too late")

    faulty.patch.setattr(SqlUnitOfWork, "commit", commit)
    await faulty.take_in(POISON)
    faulty.left = 1
    await faulty.worker.drain()
    assert [one.split()[0] for one in await faulty.desk.told("ana")] == [HEARD]
    assert not await faulty.journal(Unheard)


async def test_where_the_road_itself_is_broken_it_is_told_beside_it(faulty: Faulty) -> None:
    def broken(record: Any, happening: Any, now: Any) -> Any:
        if isinstance(happening, Spoke | WentUnheard):
            raise KeyError("nothing works for this oven")
        return advance(record, happening, now)

    faulty.patch.setattr("scheduling.waking.book.advance", broken)
    assert await faulty.hear(POISON) == [TOLD]


async def test_where_no_sentence_can_be_made_it_is_told_in_a_fixed_one(faulty: Faulty) -> None:
    def render(voice: Voice, meaning: Meaning, *told: Any) -> Parcel:
        raise KeyError("no words")

    faulty.patch.setattr(Voice, "render", render)
    (told,) = await faulty.hear(POISON)
    assert told == NOT_WORKED_ON


async def test_a_stranger_is_told_too(faulty: Faulty) -> None:
    def came_with(*_: Any) -> bool:
        raise TypeError("not like this")

    faulty.patch.setattr(PeopleDesk, "came_with", came_with)
    await faulty.take_in("a-code-of-some-kind-000", who="eve")
    await faulty.worker.drain()
    assert await faulty.desk.told("eve") == [TOLD]


async def test_no_words_of_anybody_get_into_the_log(
    faulty: Faulty, caplog: pytest.LogCaptureFixture, capsys: pytest.CaptureFixture[str]
) -> None:
    understanding(ValueError(f"cannot read {POISON}"), faulty)
    faulty.left = 1
    assert await faulty.hear(POISON) == [TOLD]
    printed = capsys.readouterr()
    logged = caplog.text + printed.out + printed.err
    assert "set aside" in logged
    assert "ValueError" in logged
    assert POISON not in logged


def test_the_fixed_sentence_is_what_is_said_where_nothing_is_known() -> None:
    eve = Person(id="eve", channel="telegram", address="7", name="Eve")
    said = RealVoice().render(NotHeard(words="", lit=False), eve, "UTC", EVENING)
    assert said.text == NOT_WORKED_ON
