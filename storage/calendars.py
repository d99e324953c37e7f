"""Addresses of calendars."""

from sqlalchemy import ColumnElement, delete, select
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.ports import CalendarAddress
from storage import tables
from storage.upsert import put

_C = tables.calendars


class SqlCalendars:
    """``Calendars`` in a table."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def by_digest(self, digest: str) -> CalendarAddress | None:
        """The one whose code has this digest."""
        return next(iter(await self._all(_C.c.digest == digest)), None)

    async def of(self, person_id: str) -> CalendarAddress | None:
        """The one of this person."""
        return next(iter(await self._all(_C.c.person == person_id)), None)

    async def put(self, address: CalendarAddress) -> None:
        """Insert or replace by person."""
        await put(self._connection, _C, address.model_dump(), ["person"])

    async def revoke(self, person_id: str) -> bool:
        """It opens nothing any more; False if there was none."""
        gone = await self._connection.execute(delete(_C).where(_C.c.person == person_id))
        return bool(gone.rowcount)

    async def with_letters(self) -> tuple[CalendarAddress, ...]:
        """Those whose address may still be read in a letter, the oldest first."""
        return await self._all(_C.c.letter.is_not(None))

    async def _all(self, which: ColumnElement[bool]) -> tuple[CalendarAddress, ...]:
        rows = await self._connection.execute(
            select(_C).where(which).order_by(_C.c.made_at, _C.c.person)
        )
        return tuple(CalendarAddress.model_validate(dict(row)) for row in rows.mappings())
