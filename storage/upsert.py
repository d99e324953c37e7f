"""Insert-or-else, which both databases can, each in its own words."""

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Table
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.ext.asyncio import AsyncConnection


def _insert(connection: AsyncConnection, table: Table) -> Any:
    return (postgresql if connection.dialect.name == "postgresql" else sqlite).insert(table)


async def put(
    connection: AsyncConnection, table: Table, values: Mapping[str, object], key: Sequence[str]
) -> None:
    """Insert, or replace all other columns of the row that has this ``key``."""
    wanted = _insert(connection, table).values(**values)
    rest = {name: wanted.excluded[name] for name in values if name not in key}
    await connection.execute(wanted.on_conflict_do_update(index_elements=key, set_=rest))


async def put_each(
    connection: AsyncConnection,
    table: Table,
    rows: Sequence[Mapping[str, object]],
    key: Sequence[str],
) -> None:
    """The same for several rows, of the same columns, at once; none at all for no rows."""
    if not rows:
        return
    wanted = _insert(connection, table)
    rest = {name: wanted.excluded[name] for name in rows[0] if name not in key}
    await connection.execute(
        wanted.on_conflict_do_update(index_elements=key, set_=rest), list(map(dict, rows))
    )


async def put_each_if_new(
    connection: AsyncConnection,
    table: Table,
    rows: Sequence[Mapping[str, object]],
    key: Sequence[str],
) -> None:
    """Insert those of these rows, of the same columns, whose key is not there yet."""
    if rows:
        wanted = _insert(connection, table).on_conflict_do_nothing(index_elements=key)
        await connection.execute(wanted, list(map(dict, rows)))


async def put_if_new(
    connection: AsyncConnection, table: Table, values: Mapping[str, object], key: Sequence[str]
) -> bool:
    """Insert; False, and no change, if the key is there already."""
    wanted = _insert(connection, table).values(**values)
    # Not the row count: a driver may not know it for an insert that returns generated numbers.
    new = wanted.on_conflict_do_nothing(index_elements=key).returning(table.c[key[0]])
    return (await connection.execute(new)).first() is not None
