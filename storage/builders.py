"""Builders, and every version of their ways."""

from sqlalchemy import RowMapping, delete, func, insert, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.ports import Builder, Conflict, TeamEntry, Way
from storage import tables
from storage.upsert import put

_B, _W, _L = tables.builders, tables.ways, tables.team_log


class SqlBuilders:
    """``Builders`` in a table."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def get(self, builder_id: str) -> Builder | None:
        """By id."""
        rows = await self._connection.execute(select(_B).where(_B.c.id == builder_id))
        row = rows.mappings().first()
        return None if row is None else Builder.model_validate(dict(row))

    async def put(self, builder: Builder) -> None:
        """Insert or replace by id."""
        await put(self._connection, _B, builder.model_dump(), ["id"])

    async def forget(self, builder_id: str) -> None:
        """Delete the row with its ways, journal and invitations."""
        await self._connection.execute(delete(_B).where(_B.c.id == builder_id))

    async def note(self, entry: TeamEntry) -> None:
        """Append to a team's journal."""
        await self._connection.execute(insert(_L).values(**entry.model_dump()))

    async def log(self, builder_id: str) -> tuple[TeamEntry, ...]:
        """A team's journal, in the order in which it was written."""
        rows = await self._connection.execute(
            select(_L).where(_L.c.builder == builder_id).order_by(_L.c.seq)
        )
        return tuple(TeamEntry.model_validate(dict(row)) for row in rows.mappings())

    async def blot_log(self, person_id: str, somebody: str) -> None:
        """Put ``somebody`` in the place of a person in every team's journal."""
        for column in (_L.c.person, _L.c.by):
            blotted = update(_L).where(column == person_id).values({column: somebody})
            await self._connection.execute(blotted)


class SqlWays:
    """``Ways`` in a table."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def latest(self, builder_id: str) -> Way | None:
        """The newest version; None where there is none."""
        newest = select(_W).where(_W.c.builder == builder_id).order_by(_W.c.version.desc())
        row = (await self._connection.execute(newest.limit(1))).mappings().first()
        return None if row is None else _way(row)

    async def put(self, way: Way) -> None:
        """Keep the next version. Raises Conflict when it is not the one after the latest."""
        last = select(func.max(_W.c.version)).where(_W.c.builder == way.builder)
        newest = (await self._connection.execute(last)).scalar_one() or 0
        if way.version != newest + 1:
            raise Conflict(f"the latest version of {way.builder} is {newest}")
        # Of two who write the same version at once the key refuses the later one.
        await self._connection.execute(insert(_W).values(**way.model_dump()))

    async def rewrite(self, way: Way) -> None:
        """Put a version in the place of itself, to forget somebody."""
        mine = (_W.c.builder == way.builder) & (_W.c.version == way.version)
        await self._connection.execute(update(_W).where(mine).values(**way.model_dump()))

    async def all(self, builder_id: str) -> tuple[Way, ...]:
        """All versions, the oldest first."""
        rows = await self._connection.execute(
            select(_W).where(_W.c.builder == builder_id).order_by(_W.c.version)
        )
        return tuple(_way(row) for row in rows.mappings())


def _way(row: RowMapping) -> Way:
    return Way.model_validate(dict(row))
