"""The days that owners were told."""

from collections.abc import Sequence

from sqlalchemy import delete, insert, select
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.ports import PromisedDay
from storage import tables

_D = tables.promises


class SqlPromises:
    """``Promises`` in a table."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def of(self, oven_id: str) -> tuple[PromisedDay, ...]:
        """As they were told, in that order."""
        rows = await self._connection.execute(
            select(_D.c.firing, _D.c.day, _D.c.told_at)
            .where(_D.c.oven == oven_id)
            .order_by(_D.c.position)
        )
        return tuple(PromisedDay.model_validate(dict(row)) for row in rows.mappings())

    async def replace(self, oven_id: str, days: Sequence[PromisedDay]) -> None:
        """These and no others."""
        await self._connection.execute(delete(_D).where(_D.c.oven == oven_id))
        if days:
            rows = [
                {"oven": oven_id, "position": position, **day.model_dump()}
                for position, day in enumerate(days)
            ]
            await self._connection.execute(insert(_D), rows)
