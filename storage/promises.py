"""The days that owners were told."""

from collections.abc import Sequence
from datetime import date

from sqlalchemy import delete, insert, select
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.ports import PromisedDay
from storage import tables

_D, _O = tables.promises, tables.ovens
_DAY = [column for column in _D.c if column.name not in ("oven", "position")]


class SqlPromises:
    """``Promises`` in a table."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def of(self, oven_id: str) -> tuple[PromisedDay, ...]:
        """As they were told, in that order."""
        rows = await self._connection.execute(
            select(*_DAY).where(_D.c.oven == oven_id).order_by(_D.c.position)
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

    async def of_builder(
        self, builder_id: str, first: date, last: date, limit: int | None = None
    ) -> tuple[tuple[str, PromisedDay], ...]:
        """Days of all ovens that this builder's team looks after."""
        rows = await self._connection.execute(
            select(_D.c.oven, *_DAY)
            .join(_O, _O.c.id == _D.c.oven)
            .where((_O.c.builder == builder_id) & _D.c.day.between(first, last))
            .order_by(_D.c.day, _D.c.start.is_not(None), _D.c.start, _D.c.oven)
            .limit(limit)
        )
        return tuple(
            (row["oven"], PromisedDay.model_validate({k: row[k] for k in row if k != "oven"}))
            for row in rows.mappings()
        )
