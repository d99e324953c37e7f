"""Nobody learns anything of what is not theirs, whatever anybody does (see ``strangers``)."""

import shutil
import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path
from typing import ClassVar

import pytest
from hypothesis import HealthCheck, settings

from scheduling.ports import Store
from storage.address import sqlite_url
from storage.memory import MemoryStore
from storage.migrating import migrate_file
from storage.store import SqlStore, make_engine
from tests.bot.conversation.people.strangers import Strangers

BOUNDED = settings(
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


class InMemory(Strangers):
    def open(self) -> Store:
        self.memory = MemoryStore()
        return self.memory

    def dump(self) -> str:
        return repr(self.memory._tables)


class OnSqlite(Strangers):
    _empty: ClassVar[list[Path]] = []

    def open(self) -> Store:
        self.folder = tempfile.TemporaryDirectory(prefix="stokewatch-strangers-")
        self.path = Path(self.folder.name) / "house.sqlite"
        if not self._empty:
            empty = Path(tempfile.mkdtemp(prefix="stokewatch-empty-")) / "house.sqlite"
            migrate_file(empty)
            self._empty.append(empty)
        shutil.copyfile(self._empty[0], self.path)
        return SqlStore(make_engine(sqlite_url(self.path)))

    def dump(self) -> str:
        with closing(sqlite3.connect(self.path)) as plain:
            names = plain.execute("select name from sqlite_master where type = 'table'").fetchall()
            rows = (plain.execute(f'select * from "{name}"').fetchall() for (name,) in names)
            return repr(list(rows))

    def teardown(self) -> None:
        super().teardown()
        self.folder.cleanup()


TestInMemory = InMemory.TestCase
TestInMemory.settings = settings(BOUNDED, max_examples=8, stateful_step_count=25)


class LongInMemory(InMemory):
    """The same for longer."""


TestLongInMemory = pytest.mark.slow(pytest.mark.timeout(900)(LongInMemory.TestCase))
TestLongInMemory.settings = settings(BOUNDED, max_examples=60, stateful_step_count=40)

TestOnSqlite = pytest.mark.slow(pytest.mark.timeout(900)(OnSqlite.TestCase))
TestOnSqlite.settings = settings(BOUNDED, max_examples=8, stateful_step_count=25)
