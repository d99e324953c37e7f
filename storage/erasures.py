"""Who asked to be forgotten."""

import json

from sqlalchemy import RowMapping, select
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.ports import Erasure
from storage import tables
from storage.upsert import put

_E = tables.erasures


class SqlErasures:
    """``Erasures`` in a table."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def put(self, erasure: Erasure) -> None:
        """Insert or replace by person."""
        values = erasure.model_dump() | {"kept": json.dumps(erasure.kept)}
        await put(self._connection, _E, values, ["person"])

    async def get(self, person_id: str) -> Erasure | None:
        """Of this person."""
        rows = await self._connection.execute(select(_E).where(_E.c.person == person_id))
        row = rows.mappings().first()
        return None if row is None else _erasure(row)

    async def pending(self) -> tuple[Erasure, ...]:
        """Those not done yet, the oldest first."""
        return tuple(one for one in await self.all() if one.done_at is None)

    async def all(self) -> tuple[Erasure, ...]:
        """The oldest first."""
        rows = await self._connection.execute(select(_E).order_by(_E.c.asked_at, _E.c.person))
        return tuple(_erasure(row) for row in rows.mappings())


def _erasure(row: RowMapping) -> Erasure:
    return Erasure.model_validate({**row, "kept": json.loads(row["kept"])})
