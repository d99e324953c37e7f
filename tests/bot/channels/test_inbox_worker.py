"""The inbox is worked through: in order, once, and never held up for ever."""

import asyncio
import json
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from datetime import UTC, datetime
from errno import ENOSPC

import pytest

from bot.channels.inbox_worker import InboxWorker
from bot.channels.waiting import Slots
from bot.conversation.incoming import Incoming
from scheduling.ports import Conflict, InboxRow, InboxState
from storage.faults import DiskFull
from tests.bot.channels.inbox_fake import StoreFake

NOW = datetime(2026, 5, 13, 9, 0, tzinfo=UTC)


def row(key: str, chat: str = "ana", body: str = "{}") -> InboxRow:
    return InboxRow("telegram", key, chat, body, NOW)


def translate(stored: InboxRow, _body: object) -> Incoming | None:
    if stored.chat == "group":
        return None
    if stored.chat == "odd":
        raise ValueError("not readable: no date")
    return Incoming("telegram", stored.key, stored.chat, NOW, text=stored.key)


class Listening:
    """A receiver that notes what it was given, and fails where told to."""

    def __init__(
        self,
        fails: Callable[[Incoming], bool] = lambda _: False,
        error: Exception | None = None,
    ) -> None:
        self.received: list[tuple[str, str]] = []
        self.unheard: list[tuple[str, str]] = []
        self.news = asyncio.Condition()
        self._fails = fails
        self._error = error or RuntimeError("no luck")

    async def receive(self, incoming: Incoming) -> None:
        await asyncio.sleep(0)
        if self._fails(incoming):
            raise self._error
        async with self.news:
            self.received.append((incoming.chat, incoming.key))
            self.news.notify_all()

    async def went_unheard(self, incoming: Incoming, why: str) -> None:
        async with self.news:
            self.unheard.append((incoming.chat, incoming.key))
            self.news.notify_all()

    async def until(self, ready: Callable[[], bool]) -> None:
        async with self.news:
            await asyncio.wait_for(self.news.wait_for(ready), 10)


@asynccontextmanager
async def running(worker: InboxWorker) -> AsyncIterator[None]:
    run = asyncio.create_task(worker.run())
    try:
        yield
    finally:
        worker.stop()
        await asyncio.wait_for(run, 10)


async def filled(*rows: InboxRow) -> StoreFake:
    store = StoreFake()
    for stored in rows:
        await store.inbox.store(stored)
    return store


async def test_a_chat_is_worked_through_in_order() -> None:
    rows = [row(f"{i:03}", "ana" if i % 2 else "ben") for i in range(250)]
    store, listening = await filled(*rows), Listening()
    assert await InboxWorker("telegram", store.as_store(), listening, translate).drain()
    for chat in ("ana", "ben"):
        keys = [key for who, key in listening.received if who == chat]
        assert keys == sorted(keys)
    assert len(listening.received) == 250
    assert set(store.inbox.states.values()) == {InboxState.DONE}


async def test_what_says_nothing_is_done_and_what_cannot_be_read_is_set_aside() -> None:
    store = await filled(row("1", "group"), row("2", "odd"), row("3", body="{oops"), row("4"))
    listening = Listening()
    await InboxWorker("telegram", store.as_store(), listening, translate).drain()
    states = [store.inbox.state(key) for key in "1234"]
    aside = InboxState.SET_ASIDE
    assert states == [InboxState.DONE, aside, aside, InboxState.DONE]
    assert "not readable" in store.inbox.why["telegram", "2"]
    assert listening.received == [("ana", "4")]


async def test_a_row_that_fails_by_itself_is_told_and_set_aside_at_once() -> None:
    store = await filled(row("1"), row("2"), row("3", "ben"))
    listening = Listening(lambda incoming: incoming.key == "1")
    worker = InboxWorker("telegram", store.as_store(), listening, translate)
    assert await worker.drain()
    assert listening.unheard == [("ana", "1")]
    assert sorted(listening.received) == [("ana", "2"), ("ben", "3")]
    assert store.inbox.state("1") is InboxState.SET_ASIDE
    assert "no luck" in store.inbox.why["telegram", "1"]


@pytest.mark.parametrize(
    "error", [DiskFull("no room"), Conflict("busy"), OSError(ENOSPC, "no room")], ids=repr
)
async def test_a_row_that_cannot_be_kept_waits_and_holds_its_own_chat_alone(
    error: Exception,
) -> None:
    store = await filled(row("1"), row("2"), row("3", "ben"))
    full = True
    listening = Listening(lambda incoming: full and incoming.key == "1", error)
    worker = InboxWorker("telegram", store.as_store(), listening, translate)
    assert not await worker.drain()
    assert listening.received == [("ben", "3")]
    assert not listening.unheard
    assert store.inbox.state("1") is store.inbox.state("2") is InboxState.WAITING
    full = False
    assert await worker.drain()
    assert listening.received == [("ben", "3"), ("ana", "1"), ("ana", "2")]


async def test_a_row_that_could_not_be_kept_is_worked_on_by_itself_once_it_can() -> None:
    store, tries = await filled(row("1"), row("2")), iter([True, True, False])
    listening = Listening(lambda incoming: incoming.key == "1" and next(tries), DiskFull("no room"))
    worker = InboxWorker("telegram", store.as_store(), listening, translate)
    async with running(worker):
        await listening.until(lambda: len(listening.received) == 2)
    assert listening.received == [("ana", "1"), ("ana", "2")]
    assert not listening.unheard


async def test_a_row_that_neither_works_nor_can_be_told_is_set_aside() -> None:
    store = await filled(row("1"), row("2"))

    class Broken(Listening):
        async def went_unheard(self, incoming: Incoming, why: str) -> None:
            raise KeyError("no words either")

    listening = Broken(lambda incoming: incoming.key == "1")
    await InboxWorker("telegram", store.as_store(), listening, translate).drain()
    assert store.inbox.state("1") is InboxState.SET_ASIDE
    assert listening.received == [("ana", "2")]


async def test_somebody_known_is_told_of_a_row_that_cannot_be_read_and_a_group_is_not() -> None:
    store = StoreFake(strangers=lambda chat: chat == "group")
    await store.inbox.store(row("1", body="{oops"))
    await store.inbox.store(row("2", "group", body="{oops"))
    listening = Listening()
    await InboxWorker("telegram", store.as_store(), listening, translate).drain()
    assert listening.unheard == [("ana", "1")]
    assert store.inbox.state("1") is store.inbox.state("2") is InboxState.SET_ASIDE


# ---------------------------------------------------------------- lanes


class Held(Listening):
    """Works on one chat's rows only when it is let go."""

    def __init__(self, held: str) -> None:
        super().__init__()
        self._held = held
        self.begun, self.go_on = asyncio.Event(), asyncio.Event()

    async def receive(self, incoming: Incoming) -> None:
        if incoming.chat.startswith(self._held):
            self.begun.set()
            await self.go_on.wait()
        await super().receive(incoming)


async def test_no_chat_waits_for_the_work_on_anothers() -> None:
    store, listening = await filled(row("1", "slow"), row("2", "slow")), Held("slow")
    worker = InboxWorker("telegram", store.as_store(), listening, translate)
    async with running(worker):
        await listening.begun.wait()
        await store.inbox.store(row("3", "ben"))
        worker.wake()
        await listening.until(lambda: listening.received == [("ben", "3")])
        listening.go_on.set()
        await listening.until(lambda: len(listening.received) == 3)
    assert listening.received[1:] == [("slow", "1"), ("slow", "2")]


async def test_a_chat_behind_hundreds_of_rows_of_another_is_answered_among_the_first() -> None:
    rows = [row(f"{i:04}", "flood") for i in range(2500)]
    store, listening = await filled(*rows, row("last", "ben")), Listening()
    worker = InboxWorker("telegram", store.as_store(), listening, translate)
    async with running(worker):
        await listening.until(lambda: ("ben", "last") in listening.received)
        before = listening.received.index(("ben", "last"))
    assert before < 100


async def test_work_that_is_stuck_gives_its_slot_to_those_who_wait() -> None:
    slots, begun = Slots(1, stuck_s=0.01), asyncio.Event()

    async def stuck() -> None:
        async with slots.one():
            begun.set()
            await asyncio.Event().wait()

    holding = asyncio.create_task(stuck())
    await begun.wait()
    async with asyncio.timeout(5), slots.one():
        holding.cancel()
    with pytest.raises(asyncio.CancelledError):
        await holding
    async with asyncio.timeout(5), slots.one():
        assert slots.are_taken(), "what was given away came back twice"


async def test_strangers_share_one_lane_in_turn() -> None:
    at_once, most = 0, 0

    class Counting(Listening):
        async def receive(self, incoming: Incoming) -> None:
            nonlocal at_once, most
            at_once += 1
            most = max(most, at_once)
            await asyncio.sleep(0)
            at_once -= 1
            await super().receive(incoming)

    store = StoreFake(strangers=lambda chat: chat.startswith("eve"))
    for number, chat in enumerate(("eve1", "eve1", "eve1", "eve2", "eve3")):
        await store.inbox.store(row(f"{number}", chat))
    listening = Counting()
    async with running(InboxWorker("telegram", store.as_store(), listening, translate)):
        await listening.until(lambda: len(listening.received) == 5)
    assert most == 1
    assert [chat for chat, _ in listening.received[:3]] == ["eve1", "eve2", "eve3"]


async def test_a_stranger_who_is_let_in_leaves_the_strangers_lane() -> None:
    strangers = {"eve", "ana"}
    store = StoreFake(strangers=lambda chat: chat in strangers)
    await store.inbox.store(row("1", "ana"))
    await store.inbox.store(row("2", "ana"))
    listening = Held("eve")

    class LetIn(Listening):
        async def receive(self, incoming: Incoming) -> None:
            strangers.discard("ana")
            if incoming.key == "1":
                await store.inbox.store(row("3", "eve"))
                worker.wake()
            await listening.receive(incoming)

    worker = InboxWorker("telegram", store.as_store(), LetIn(), translate)
    async with running(worker):
        await listening.begun.wait()
        await listening.until(lambda: ("ana", "2") in listening.received)
        listening.go_on.set()
        await listening.until(lambda: ("eve", "3") in listening.received)


async def test_the_worker_outlives_a_store_that_fails() -> None:
    store, listening = await filled(row("1")), Listening()
    store.inbox.broken = 1
    worker = InboxWorker("telegram", store.as_store(), listening, translate)
    async with running(worker):
        await listening.until(lambda: bool(listening.received))
    assert listening.received == [("ana", "1")]


async def test_stopping_finishes_the_row_in_hand_and_leaves_the_rest_stored() -> None:
    store = await filled(row("1"), row("2"))
    begun, go_on = asyncio.Event(), asyncio.Event()

    class Slow(Listening):
        async def receive(self, incoming: Incoming) -> None:
            begun.set()
            await go_on.wait()
            await super().receive(incoming)

    listening = Slow()
    worker = InboxWorker("telegram", store.as_store(), listening, translate)
    async with running(worker):
        await begun.wait()
        worker.stop()
        go_on.set()
    assert listening.received == [("ana", "1")]
    assert store.inbox.state("2") is InboxState.WAITING


async def test_a_body_nested_beyond_reading_is_set_aside() -> None:
    deep = "[" * 100_000
    store = await filled(row("1", body=deep), row("2", body=json.dumps({})))
    listening = Listening()
    await InboxWorker("telegram", store.as_store(), listening, translate).drain()
    assert store.inbox.state("1") is InboxState.SET_ASIDE
    assert listening.received == [("ana", "2")]
