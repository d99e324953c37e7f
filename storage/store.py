"""Opens the database and hands out units of work."""

import asyncio
import sqlite3
from typing import Any

from sqlalchemy import Connection, event
from sqlalchemy.exc import DBAPIError
from sqlalchemy.ext.asyncio import AsyncEngine, create_async_engine

from storage.address import file_of, read_address
from storage.failing import Failing
from storage.faults import Busy, CannotOpen
from storage.migrating import migrate
from storage.unit_of_work import SqlUnitOfWork

BUSY_MS = 15_000
"""How long a writer waits for a writer of another process."""


class SqlStore:
    """A ``Store`` over SQLite or PostgreSQL; made by ``open_store``."""

    def __init__(self, engine: AsyncEngine) -> None:
        self._reading = engine
        self._writing = engine.execution_options(stokewatch_writes=True)
        self._turn = asyncio.Lock() if engine.dialect.name == "sqlite" else None
        self._failing = Failing()

    def write(self) -> SqlUnitOfWork:
        """A unit that holds the write lock from its start (SQLite), or locks as it goes."""
        return SqlUnitOfWork(self._writing, self._turn, self._failing)

    def read(self) -> SqlUnitOfWork:
        """A unit for looking only."""
        return SqlUnitOfWork(self._reading)

    async def tidy(self) -> None:
        """On SQLite write the file anew, without what was deleted; PostgreSQL does so by itself
        (autovacuum). Raises a ``StorageFault``."""
        if self._turn is None:
            return
        async with self._turn:
            try:
                async with self._reading.connect() as connection:
                    raw = await connection.get_raw_connection()
                    await _tidy(raw.driver_connection)
            except (DBAPIError, sqlite3.Error) as error:
                raise Busy(f"the file was not written anew: {error}") from error

    async def try_writing(self) -> None:
        """Write what is there already. Raises a ``StorageFault``: that of this try, or of
        something bigger a moment ago, which may need more room than this does."""
        async with self.write() as unit:
            await unit.rewrite_nothing()
            await unit.commit()
        if (fault := self._failing.lately()) is not None:
            raise fault

    async def close(self) -> None:
        """Let go of all connections."""
        await self._reading.dispose()

    def connections_in_use(self) -> int:
        """How many connections are in somebody's hands now."""
        in_use = getattr(self._reading.pool, "checkedout", None)
        return int(in_use()) if in_use is not None else 0


async def open_store(told: str, *, lasting: bool = True) -> SqlStore:
    """Open the database at a URL, making it and bringing its tables up to date.

    A SQLite file that is not ``lasting``, since it goes with the process that made it, does not
    wait for the disk at every commit. Raises a ``StorageFault`` that says what to do.
    """
    await migrate(told)
    return SqlStore(make_engine(told, lasting=lasting))


def make_engine(told: str, *, lasting: bool = True, **options: Any) -> AsyncEngine:
    """An engine with our ways of opening and beginning. Raises CannotOpen."""
    url = read_address(told)
    if url.get_backend_name() == "sqlite":
        if file_of(url) is None:
            raise CannotOpen("a database in memory is not shared; use MemoryStore, or a file")
        engine = create_async_engine(url, pool_timeout=60, hide_parameters=True, **options)
        _teach_sqlite(engine, synchronous="FULL" if lasting else "OFF")
        return engine
    try:
        return create_async_engine(
            url,
            pool_pre_ping=True,
            pool_timeout=60,
            hide_parameters=True,
            connect_args={"connect_timeout": 10},
            **options,
        )
    except ModuleNotFoundError as error:
        raise CannotOpen(
            "PostgreSQL needs its driver: pip install 'stokewatch[postgres]'"
        ) from error


async def _tidy(connection: Any) -> None:
    """Outside any transaction, as VACUUM wants it; then the log that still has the old pages."""
    for order in ("VACUUM", "PRAGMA wal_checkpoint(TRUNCATE)"):
        cursor = await connection.execute(order)
        await cursor.close()


def _teach_sqlite(engine: AsyncEngine, synchronous: str) -> None:
    @event.listens_for(engine.sync_engine, "connect")
    def _opened(connection: Any, _record: Any) -> None:
        # Otherwise the driver begins transactions itself, later and weaker than we want them.
        connection.isolation_level = None
        cursor = connection.cursor()
        cursor.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
        cursor.execute("PRAGMA journal_mode = WAL")
        cursor.execute(f"PRAGMA synchronous = {synchronous}")
        cursor.execute("PRAGMA foreign_keys = ON")
        cursor.close()

    @event.listens_for(engine.sync_engine, "begin")
    def _begun(connection: Connection) -> None:
        # A plain BEGIN that reads and then writes fails at once when somebody wrote in between,
        # whatever the timeout (sqlite.org/lang_transaction.html).
        writes = connection.get_execution_options().get("stokewatch_writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
