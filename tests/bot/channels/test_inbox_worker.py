"""The inbox is worked through: in order, once, and never held up for ever."""

import asyncio
import json
from collections.abc import Callable
from datetime import UTC, datetime

from bot.channels.inbox_worker import InboxWorker
from bot.conversation.incoming import Incoming
from scheduling.ports import InboxRow, InboxState
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

    def __init__(self, fails: Callable[[Incoming], bool] = lambda _: False) -> None:
        self.received: list[tuple[str, str]] = []
        self.has_received = asyncio.Event()
        self._fails = fails

    async def receive(self, incoming: Incoming) -> None:
        await asyncio.sleep(0)
        if self._fails(incoming):
            raise RuntimeError("no luck")
        self.received.append((incoming.chat, incoming.key))
        self.has_received.set()


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


async def test_a_failing_row_holds_its_own_chat_but_no_other() -> None:
    store = await filled(row("1"), row("2"), row("3", "ben"))
    listening = Listening(lambda incoming: incoming.key == "1")
    worker = InboxWorker("telegram", store.as_store(), listening, translate)
    assert not await worker.drain()
    assert listening.received == [("ben", "3")]
    assert store.inbox.state("2") is InboxState.WAITING


async def test_the_fifth_failure_sets_a_row_aside_and_its_chat_goes_on() -> None:
    store = await filled(row("1"), row("2"))
    listening = Listening(lambda incoming: incoming.key == "1")
    worker = InboxWorker("telegram", store.as_store(), listening, translate)
    went_well = [await worker.drain() for _ in range(5)]
    assert went_well == [False] * 4 + [True]
    assert store.inbox.state("1") is InboxState.SET_ASIDE
    assert listening.received == [("ana", "2")]


async def test_a_passing_failure_loses_nothing() -> None:
    store = await filled(row("1"), row("2"))
    tries = iter([True, True, False])
    listening = Listening(lambda incoming: incoming.key == "1" and next(tries))
    worker = InboxWorker("telegram", store.as_store(), listening, translate)
    while not await worker.drain():
        pass
    assert listening.received == [("ana", "1"), ("ana", "2")]


async def test_the_worker_outlives_a_store_that_fails() -> None:
    store, listening = await filled(row("1")), Listening()
    store.inbox.broken = 1
    worker = InboxWorker("telegram", store.as_store(), listening, translate)
    running = asyncio.create_task(worker.run())
    await asyncio.wait_for(listening.has_received.wait(), 5)
    worker.stop()
    await asyncio.wait_for(running, 5)
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
    running = asyncio.create_task(worker.run())
    await begun.wait()
    worker.stop()
    go_on.set()
    await running
    assert listening.received == [("ana", "1")]
    assert store.inbox.state("2") is InboxState.WAITING


async def test_a_body_nested_beyond_reading_is_set_aside() -> None:
    deep = "[" * 100_000
    store = await filled(row("1", body=deep), row("2", body=json.dumps({})))
    listening = Listening()
    await InboxWorker("telegram", store.as_store(), listening, translate).drain()
    assert store.inbox.state("1") is InboxState.SET_ASIDE
    assert listening.received == [("ana", "2")]
