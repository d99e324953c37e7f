"""The stores that one suite of behaviour runs over."""

import asyncio
import shutil
from collections.abc import AsyncIterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from sqlalchemy import text

from storage import tables
from storage.address import sqlite_url
from storage.memory import MemoryStore
from storage.migrating import migrate, migrate_file
from storage.store import SqlStore, make_engine
from tests.postgres import new_database


@pytest.fixture(scope="session")
def postgres_house(postgres: str) -> str:
    """The URL of a database with our tables; they are emptied before each use."""

    async def make() -> str:
        url = await new_database(postgres, "house")
        await migrate(url)
        return url

    # In a thread: the test that asks first has a running loop of its own.
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, make()).result()


@pytest.fixture(scope="session")
def empty_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A SQLite file with our tables and nothing in them, to be copied."""
    path = tmp_path_factory.mktemp("empty") / "house.sqlite"
    migrate_file(path)
    return path


@pytest.fixture(params=["memory", "sqlite", "postgres"])
async def store(
    request: pytest.FixtureRequest, tmp_path: Path, empty_file: Path
) -> AsyncIterator[MemoryStore | SqlStore]:
    """A new store of each kind; afterwards no connection may still be in anybody's hands."""
    opened: MemoryStore | SqlStore
    if request.param == "memory":
        opened = MemoryStore()
    elif request.param == "sqlite":
        path = tmp_path / "house.sqlite"
        shutil.copyfile(empty_file, path)
        opened = SqlStore(make_engine(sqlite_url(path)))
    else:
        engine = make_engine(request.getfixturevalue("postgres_house"))
        names = ", ".join(f'"{table.name}"' for table in tables.metadata.sorted_tables)
        async with engine.begin() as connection:
            await connection.execute(text(f"truncate {names} restart identity"))
        opened = SqlStore(engine)
    yield opened
    leaked = opened.connections_in_use()
    await opened.close()
    assert leaked == 0, f"{leaked} connections were not given back"
