"""Anything in any order, with a crash at any step: nothing vanishes, nothing is silently doubled.

One machine over the real SQLite store, looked at from outside through the standard library, and
over the store in memory. Two dispatchers share the database throughout.
"""

import asyncio
import shutil
import sqlite3
import tempfile
from collections import Counter
from collections.abc import Awaitable, Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import timedelta
from functools import partial
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from scheduling.ports import OutboxState
from storage.address import sqlite_url
from storage.memory import MemoryStore
from storage.migrating import migrate_file
from storage.store import SqlStore, make_engine
from tests.contract.samples import settle_in
from tests.crash.world import Crash, Doom, Fate, Process, World

S = OutboxState
FINAL = {S.SENT, S.UNKNOWN, S.FAILED, S.CANCELLED, S.EXPIRED}

CRASHES = st.none() | st.integers(0, 9)
"""The step at which the process ends, if it takes so many."""


@dataclass(frozen=True)
class Row:
    id: str
    person: str
    state: OutboxState
    doubts: int


class AnyOrder(RuleBasedStateMachine):
    store: SqlStore | MemoryStore

    def __init__(self) -> None:
        super().__init__()
        self.runner = asyncio.Runner()
        self.world, self.doom = World(), Doom()
        self.open()
        self.runner.run(settle_in(self.store))
        self.process = Process(self.store, self.world, self.doom)

    def open(self) -> None: ...

    def letters(self) -> list[Row]:
        raise NotImplementedError

    def journal(self) -> list[str]:
        raise NotImplementedError

    def filed(self) -> set[str]:
        """The keys of all news of deliveries."""
        raise NotImplementedError

    # ------------------------------------------------------------ what may happen

    @rule(crash=CRASHES)
    def somebody_writes(self, crash: int | None) -> None:
        update = len(self.world.acknowledged | self.world.unacknowledged) + 1
        self.world.unacknowledged.add(update)
        self.act(lambda: self.process.take_in(update), crash)

    @precondition(lambda self: self.world.acknowledged | self.world.unacknowledged)
    @rule(data=st.data(), crash=CRASHES)
    def an_update_is_handed_over_again(self, data: st.DataObject, crash: int | None) -> None:
        known = sorted(self.world.acknowledged | self.world.unacknowledged)
        update = data.draw(st.sampled_from(known))
        self.act(lambda: self.process.take_in(update), crash)

    @rule(crash=CRASHES)
    def the_inbox_is_worked_through(self, crash: int | None) -> None:
        async def two_workers() -> None:
            await asyncio.gather(self.process.work(), self.process.work())

        self.act(two_workers, crash)

    @rule(crash=CRASHES)
    def alarms_come(self, crash: int | None) -> None:
        self.act(lambda: self.process.engine.run_due(), crash)

    @rule(crash=CRASHES, fates=st.lists(st.sampled_from(Fate), max_size=3))
    def letters_go_out(self, crash: int | None, fates: list[Fate]) -> None:
        self.world.fates.extend(fates)
        self.act(lambda: self.process.one.deliver(), crash)

    @rule(crash=CRASHES, fates=st.lists(st.sampled_from(Fate), max_size=3))
    def two_send_at_once(self, crash: int | None, fates: list[Fate]) -> None:
        async def both() -> None:
            await asyncio.gather(self.process.one.deliver(), self.process.other.deliver())

        self.world.fates.extend(fates)
        self.act(both, crash)

    @rule(crash=CRASHES)
    def the_half_sent_is_settled(self, crash: int | None) -> None:
        self.act(lambda: self.process.one.begin(), crash)

    @rule(seconds=st.sampled_from([1, 30, 100, 400]))
    def time_passes(self, seconds: int) -> None:
        self.world.clock.move_to(self.world.clock.now() + timedelta(seconds=seconds))

    @rule()
    def ana_blocks_us(self) -> None:
        self.world.blocked.add("ana")

    @rule(crash=CRASHES)
    def ana_comes_back(self, crash: int | None) -> None:
        self.world.blocked.discard("ana")
        self.act(lambda: self.process.come_back(), crash)

    @rule(crash=CRASHES)
    def bens_letters_are_cancelled(self, crash: int | None) -> None:
        self.act(lambda: self.process.cancel(), crash)

    # ------------------------------------------------------------ what must hold

    @invariant()
    def what_is_called_sent_was_shown_and_what_is_cancelled_was_not(self) -> None:
        shown = Counter(self.world.shown)
        for letter in self.letters():
            # Once, and once more for each time that nobody knew.
            if letter.state in (S.SENT, S.SENDING):
                assert shown[letter.id] <= letter.doubts + 1, letter
            else:
                assert shown[letter.id] <= letter.doubts, letter
            if letter.state is S.SENT:
                assert shown[letter.id] >= 1, letter
            if letter.state is S.FAILED:
                assert shown[letter.id] == 0, letter

    @invariant()
    def what_is_tried_no_more_is_told(self) -> None:
        filed, told = self.filed(), {S.UNKNOWN: "unknown", S.FAILED: "refused"}
        for letter in self.letters():
            if letter.state in told:
                assert f"{letter.id}/{told[letter.state]}/dome" in filed, letter

    @invariant()
    def every_update_has_one_effect_and_every_effect_its_letters(self) -> None:
        journal = self.journal()
        updates = Counter(name.split()[0] for name in journal if name.split()[0].isdigit())
        assert max(updates.values(), default=1) == 1
        readers = {"tenders": 2, "ana": 1, "nobody": 0}
        assert len(self.letters()) == sum(readers[name.split()[1]] for name in journal)

    def teardown(self) -> None:
        try:
            self.come_to_rest()
        finally:
            self.runner.run(self.store.close())
            self.runner.close()

    def come_to_rest(self) -> None:
        """Without further crashes everything comes to its end, and nothing is missing."""
        self.world.fates.clear()
        for update in sorted(self.world.unacknowledged):
            self.act(partial(self.process.take_in, update), None)
        for _ in range(12):
            self.act(self.everything, None)
            self.time_passes(400)
        assert {letter.state for letter in self.letters()} <= FINAL
        answered = {int(name.split()[0]) for name in self.journal() if name[0].isdigit()}
        assert answered == self.world.acknowledged
        assert self.runner.run(self.process.engine.next_wake_up()) is None
        self.what_is_called_sent_was_shown_and_what_is_cancelled_was_not()
        self.what_is_tried_no_more_is_told()
        self.every_update_has_one_effect_and_every_effect_its_letters()

    async def everything(self) -> None:
        await self.process.work()
        await self.process.engine.run_due()
        await self.process.one.deliver()

    # ------------------------------------------------------------ a process and its end

    def act(self, work: Callable[[], Awaitable[object]], crash: int | None) -> None:
        async def to_the_end() -> None:
            try:
                await work()
            finally:
                rest = asyncio.all_tasks() - {asyncio.current_task()}
                for task in rest:
                    task.cancel()
                await asyncio.gather(*rest, return_exceptions=True)

        self.doom.left = crash
        try:
            self.runner.run(to_the_end())
        except Crash:
            self.restart()
        self.doom.left = None

    def restart(self) -> None:
        self.doom.is_dead, self.doom.left = False, None
        self.world.fates.clear()
        self.process = Process(self.store, self.world, self.doom)


class InMemory(AnyOrder):
    store: MemoryStore

    def open(self) -> None:
        self.store = MemoryStore()

    def letters(self) -> list[Row]:
        kept = [one.letter for one in self.store._tables.outbox.values()]
        return [Row(one.id, one.person, one.state, one.doubts) for one in kept]

    def journal(self) -> list[str]:
        kept = self.store._tables.journal.get("dome", ())
        return [str(getattr(one.entry, "name", "")) for one in kept]

    def filed(self) -> set[str]:
        return {key for channel, key in self.store._tables.inbox if channel == "house"}


class OnSqlite(AnyOrder):
    store: SqlStore

    def open(self) -> None:
        self.folder = tempfile.TemporaryDirectory(prefix="stokewatch-any-order-")
        self.path = Path(self.folder.name) / "house.sqlite"
        shutil.copyfile(_empty_file(), self.path)
        self.store = SqlStore(make_engine(sqlite_url(self.path)))

    def restart(self) -> None:
        self.runner.run(self.store.close())
        self.store = SqlStore(make_engine(sqlite_url(self.path)))
        super().restart()

    def teardown(self) -> None:
        super().teardown()
        self.folder.cleanup()

    def letters(self) -> list[Row]:
        rows = self.select("select id, person, state, doubts from outbox")
        return [
            Row(i, person, OutboxState(state), int(doubts)) for i, person, state, doubts in rows
        ]

    def journal(self) -> list[str]:
        order = "select json_extract(entry, '$.name') from journal where oven = 'dome' order by seq"
        return [name for (name,) in self.select(order)]

    def filed(self) -> set[str]:
        return {key for (key,) in self.select("select key from inbox where channel = 'house'")}

    def select(self, order: str) -> list[tuple[str, ...]]:
        with closing(sqlite3.connect(self.path)) as plain:
            return plain.execute(order).fetchall()


_made: list[tempfile.TemporaryDirectory[str]] = []


def _empty_file() -> Path:
    if not _made:
        _made.append(tempfile.TemporaryDirectory(prefix="stokewatch-empty-"))
        migrate_file(Path(_made[0].name) / "house.sqlite")
    return Path(_made[0].name) / "house.sqlite"


BOUNDED = settings(
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)

TestInMemory = InMemory.TestCase
TestInMemory.settings = settings(BOUNDED, max_examples=40, stateful_step_count=25)

TestOnSqlite = OnSqlite.TestCase
TestOnSqlite.settings = settings(BOUNDED, max_examples=8, stateful_step_count=20)


class MoreOnSqlite(OnSqlite):
    """The same for longer."""


TestMoreOnSqlite = pytest.mark.slow(pytest.mark.timeout(900)(MoreOnSqlite.TestCase))
TestMoreOnSqlite.settings = settings(BOUNDED, max_examples=150, stateful_step_count=40)
