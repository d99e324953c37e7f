"""Brings the tables up to date before anything else touches them.

It has a connection of its own, on SQLite with foreign keys off: a table that is rebuilt with them
on would take the rows of its children with it. Afterwards every key is checked. All of it is one
transaction, so a machine that stops half-way finds the old tables. A SQLite file with anything in
it is first backed up beside itself.
"""

import asyncio
import sqlite3
from contextlib import closing
from importlib.resources import as_file, files
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, create_engine, event, inspect, text
from sqlalchemy.exc import DBAPIError
from sqlalchemy.ext.asyncio import create_async_engine

from storage.address import file_of, read_address
from storage.faults import (
    CannotOpen,
    Damaged,
    DiskFull,
    NewerSchema,
    NotOurs,
    ReadOnly,
    fault_of,
)
from storage.owner import Owner, whose

_LOCK = 7_358_105
"""Key of PostgreSQL's advisory lock: of two processes that start, one migrates."""


async def migrate(told: str, *, to: str = "head", scripts: Path | None = None) -> None:
    """Bring the database at a URL to revision ``to``. Raises a ``StorageFault``.

    ``scripts`` is a folder of revisions in place of our own.
    """
    url = read_address(told)
    if url.get_backend_name() == "sqlite":
        await asyncio.to_thread(migrate_file, file_of(url), to=to, scripts=scripts)
        return
    try:
        engine = create_async_engine(url, connect_args={"connect_timeout": 10})
    except ModuleNotFoundError as error:
        raise CannotOpen(
            "PostgreSQL needs its driver: pip install 'stokewatch[postgres]'"
        ) from error
    try:
        async with engine.begin() as connection:
            await connection.execute(text(f"select pg_advisory_xact_lock({_LOCK})"))
            await connection.run_sync(upgrade, to, scripts)
    except DBAPIError as error:
        raise fault_of(error) from error
    finally:
        await engine.dispose()


def migrate_file(path: Path | None, *, to: str = "head", scripts: Path | None = None) -> None:
    """The same for a SQLite file, which is made, with its folder, if it is not there."""
    if path is None:
        raise CannotOpen("a database in memory is not shared; use MemoryStore, or a file")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CannotOpen(f"The folder {path.parent} cannot be made: {error.strerror}.") from error
    _refuse_what_is_not_ours(path)
    engine = create_engine(f"sqlite:///{path}")

    @event.listens_for(engine, "connect")
    def _opened(connection: sqlite3.Connection, _record: object) -> None:
        connection.isolation_level = None
        connection.execute("PRAGMA busy_timeout = 60000")
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = OFF")

    @event.listens_for(engine, "begin")
    def _begun(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    try:
        with engine.begin() as connection:
            if not _is_behind(connection, to, scripts):
                return
            if inspect(connection).get_table_names():
                _set_by(path, _revision(connection))
            upgrade(connection, to, scripts)
            broken = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
            if broken:
                raise Damaged(
                    f"{len(broken)} rows lost what they belong to in bringing the tables up to "
                    "date; nothing was changed. Please report this."
                )
    except DBAPIError as error:
        raise fault_of(error) from error
    finally:
        engine.dispose()


def _refuse_what_is_not_ours(path: Path) -> None:
    """Before anything is written: even to open a file our way changes it."""
    found = whose(path)
    if found.owner is Owner.ANOTHER:
        raise NotOurs(
            f"{path} is a database of another program (it has the tables {found.by}), and nothing "
            "was changed there. Set STOKEWATCH_DATABASE_URL to a file of our own."
        )
    if found.owner is Owner.NO_DATABASE:
        raise NotOurs(
            f"{path} is no SQLite database, and nothing was changed there. Set "
            "STOKEWATCH_DATABASE_URL to another file; if this one was ours, bring back a backup: "
            "move it away, then stokewatch restore FILE."
        )


def upgrade(connection: Connection, to: str = "head", scripts: Path | None = None) -> None:
    """Run the revisions that are missing, in the transaction that is open."""
    with as_file(files("storage").joinpath("migrations")) as own:
        config = _config(scripts or own)
        revision = _revision(connection)
        known = {script.revision for script in ScriptDirectory.from_config(config).walk_revisions()}
        if revision is not None and revision not in known:
            raise NewerSchema(
                "This database was written by a newer stokewatch; install that version again, or "
                "restore a backup into a new database."
            )
        config.attributes["connection"] = connection
        command.upgrade(config, to)


def _config(scripts: Path) -> Config:
    config = Config()
    config.set_main_option("script_location", str(scripts).replace("%", "%%"))
    return config


def _revision(connection: Connection) -> str | None:
    return MigrationContext.configure(connection).get_current_revision()


def _is_behind(connection: Connection, to: str, scripts: Path | None) -> bool:
    with as_file(files("storage").joinpath("migrations")) as own:
        revisions = ScriptDirectory.from_config(_config(scripts or own))
        wanted = revisions.get_current_head() if to == "head" else to
    return _revision(connection) != wanted


def _set_by(path: Path, revision: str | None) -> None:
    """Copy the file beside itself with SQLite's backup, as nothing else copies a live one."""
    copy = path.with_name(f"{path.name}.before-{revision or 'first'}")
    try:
        with closing(sqlite3.connect(path)) as old, closing(sqlite3.connect(copy)) as new:
            old.backup(new)
    except sqlite3.Error as error:
        kind = ReadOnly if "readonly" in str(error) or "unable" in str(error) else DiskFull
        raise kind(f"{copy} cannot be written before the tables change: {error}") from error
