"""A backup: one file that either database can be put back from.

A zip of JSON lines, one file a table, one object a row: instants and days in ISO 8601, bytes in
base64. ``about.json`` names the shape (1), the revision of the tables, and how many rows each has.
All of it is read in one transaction, while the bot goes on.
"""

import asyncio
import base64
import json
import os
import zipfile
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from pydantic import AwareDatetime, BaseModel, ConfigDict, ValidationError
from sqlalchemy import (
    Connection,
    Date,
    DateTime,
    LargeBinary,
    MetaData,
    Table,
    func,
    insert,
    select,
)
from sqlalchemy.exc import DBAPIError
from sqlalchemy.ext.asyncio import AsyncEngine

from storage import tables
from storage.address import file_of, read_address
from storage.faults import BackupFault, fault_of
from storage.migrating import migrate, upgrade
from storage.store import make_engine

SHAPE = 1
ABOUT = "about.json"
VERSIONS = "alembic_version"
BATCH = 500


class About(BaseModel):
    """What a backup holds."""

    model_config = ConfigDict(frozen=True)

    shape: int
    revision: str
    made_at: AwareDatetime
    rows: dict[str, int]


async def back_up(told: str, to: Path, now: datetime) -> About:
    """Write a backup of the database at a URL into the new file ``to``.

    It is written beside it first, so there is never half a backup under that name. Raises a
    ``StorageFault``, BackupFault when the file exists or cannot be written.
    """
    await asyncio.to_thread(_check_names, file_of(read_address(told)), to)
    half = to.with_name(f".{to.name}.half")
    engine = make_engine(told)
    try:
        async with _snapshot(engine).connect() as connection:
            about = await connection.run_sync(_write, half, now)
        await asyncio.to_thread(_put_in_place, half, to)
    except DBAPIError as error:
        raise fault_of(error) from error
    except OSError as error:
        raise BackupFault(f"{to} cannot be written: {error.strerror}.") from error
    finally:
        await engine.dispose()
        half.unlink(missing_ok=True)
    return about


async def restore(told: str, source: Path) -> About:
    """Put a backup into the database at a URL, which must be new or empty.

    All or nothing: one transaction. Raises a ``StorageFault``, BackupFault when the file cannot
    be read, is not whole, or the database holds something.
    """
    about = await asyncio.to_thread(read_about, source)
    await migrate(told)
    engine = make_engine(told)
    writing = engine.execution_options(stokewatch_writes=True)
    try:
        async with writing.begin() as connection:
            await connection.run_sync(_read_back, source, about)
    except DBAPIError as error:
        raise fault_of(error) from error
    except (zipfile.BadZipFile, OSError, KeyError, ValueError) as error:
        raise BackupFault(f"{source} is damaged: {error}. Nothing was changed.") from error
    finally:
        await engine.dispose()
    return about


def read_about(source: Path) -> About:
    """What a backup says of itself. Raises BackupFault."""
    try:
        with zipfile.ZipFile(source) as archive:
            about = About.model_validate_json(archive.read(ABOUT))
    except FileNotFoundError as error:
        raise BackupFault(f"There is no file {source}.") from error
    except OSError as error:
        raise BackupFault(f"{source} cannot be read: {error.strerror}.") from error
    except (zipfile.BadZipFile, KeyError, ValidationError) as error:
        raise BackupFault(f"{source} is no backup of stokewatch, or not a whole one.") from error
    if about.shape > SHAPE:
        raise BackupFault(f"{source} was made by a newer stokewatch; restore it with that one.")
    return about


def _check_names(path: Path | None, to: Path) -> None:
    if to.exists():
        raise BackupFault(f"{to} exists already; give another name, nothing was overwritten.")
    if path is not None and not path.exists():
        raise BackupFault(f"There is no database at {path} yet, so nothing to back up.")


def _snapshot(engine: AsyncEngine) -> AsyncEngine:
    """On PostgreSQL each statement would otherwise see another moment."""
    if engine.dialect.name == "postgresql":
        return engine.execution_options(isolation_level="REPEATABLE READ")
    return engine


def _write(connection: Connection, to: Path, now: datetime) -> About:
    schema = _reflected(connection)
    if VERSIONS not in schema.tables:
        raise BackupFault("This database has no tables of ours, so there is nothing to back up.")
    revision = connection.execute(select(schema.tables[VERSIONS])).scalar_one()
    counts = {}
    with zipfile.ZipFile(to, "w", zipfile.ZIP_DEFLATED) as archive:
        for table in _ours(schema):
            with archive.open(f"{table.name}.jsonl", "w") as lines:
                counts[table.name] = 0
                for row in connection.execute(select(table).order_by(*table.primary_key)):
                    told = {name: _shown(value) for name, value in row._mapping.items()}
                    lines.write(json.dumps(told, ensure_ascii=False).encode() + b"\n")
                    counts[table.name] += 1
        about = About(shape=SHAPE, revision=revision, made_at=now, rows=counts)
        archive.writestr(ABOUT, about.model_dump_json(indent=2))
    return about


def _read_back(connection: Connection, source: Path, about: About) -> None:
    schema = _reflected(connection)
    for table in _ours(schema):
        if connection.execute(select(func.count()).select_from(table)).scalar_one():
            raise BackupFault(
                "This database holds something already, and nothing was changed. Move its file "
                "away, or give another one in STOKEWATCH_DATABASE_URL, then restore again."
            )
    if connection.execute(select(schema.tables[VERSIONS])).scalar_one() != about.revision:
        # The rows fit the tables of their own time; they come forward like any old database.
        schema.drop_all(connection)
        upgrade(connection, about.revision)
        schema = _reflected(connection)
    with zipfile.ZipFile(source) as archive:
        for table in _ours(schema):
            count = 0
            for batch in _batches(archive, table, connection.dialect.name):
                connection.execute(insert(table), batch)
                count += len(batch)
            if count != about.rows.get(table.name):
                raise BackupFault(
                    f"{source} is not whole: {table.name} has {count} rows of "
                    f"{about.rows.get(table.name)}. Nothing was changed."
                )
    if connection.dialect.name == "postgresql":
        _go_on_counting(connection, schema)
    upgrade(connection)


def _batches(
    archive: zipfile.ZipFile, table: Table, dialect: str
) -> Iterator[list[dict[str, Any]]]:
    batch = []
    with archive.open(f"{table.name}.jsonl") as lines:
        for line in lines:
            told = json.loads(line)
            batch.append({name: _read(value, table, name, dialect) for name, value in told.items()})
            if len(batch) == BATCH:
                yield batch
                batch = []
    if batch:
        yield batch


def _shown(value: object) -> object:
    match value:
        case datetime():
            aware = value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)
            return aware.isoformat()
        case date():
            return value.isoformat()
        case bytes() | memoryview():
            return base64.b64encode(bytes(value)).decode()
        case _:
            return value


def _read(value: Any, table: Table, name: str, dialect: str) -> object:
    kind = table.c[name].type
    if value is None:
        return None
    if isinstance(kind, DateTime):
        instant = datetime.fromisoformat(value)
        return instant.replace(tzinfo=None) if dialect == "sqlite" else instant
    if isinstance(kind, Date):
        return date.fromisoformat(value)
    if isinstance(kind, LargeBinary):
        return base64.b64decode(value, validate=True)
    return value


def _reflected(connection: Connection) -> MetaData:
    schema = MetaData()
    schema.reflect(connection)
    return schema


def _ours(schema: MetaData) -> list[Table]:
    """Parents before children."""
    return [table for table in schema.sorted_tables if table.name != VERSIONS]


def _go_on_counting(connection: Connection, schema: MetaData) -> None:
    """Rows were put back with their numbers, which PostgreSQL's counters know nothing of."""
    for table in (tables.inbox, tables.outbox):
        kept = schema.tables[table.name]
        last = connection.execute(select(func.max(kept.c.seq))).scalar_one()
        if last is not None:
            sequence = func.pg_get_serial_sequence(table.name, "seq")
            connection.execute(select(func.setval(sequence, last)))


def _put_in_place(half: Path, to: Path) -> None:
    with half.open("rb+") as file:
        os.fsync(file.fileno())
    try:
        # A hard link fails where a name is taken; a rename would write over it.
        os.link(half, to)
    except FileExistsError:
        raise BackupFault(f"{to} exists already; nothing was overwritten.") from None
    except OSError:
        half.rename(to)
