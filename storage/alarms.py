"""When to look at which oven again."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from sqlalchemy import ColumnElement, bindparam, delete, func, select, tuple_
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.alarm import Alarm, AlarmName
from scheduling.ports import DueAlarm
from storage import tables
from storage.upsert import put, put_each

_A = tables.alarms


class SqlAlarms:
    """``Alarms`` in a table."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def set(self, oven_id: str, alarm: Alarm) -> None:
        """Insert, or move the alarm of that name."""
        values = {"oven": oven_id, "name": alarm.name.value, "due": alarm.due}
        await put(self._connection, _A, values, ["oven", "name"])

    async def drop(self, oven_id: str, name: AlarmName) -> None:
        """Forget it; no error if there is none."""
        await self._connection.execute(delete(_A).where(_is(oven_id, name)))

    async def take(self, oven_id: str, alarm: Alarm) -> bool:
        """Forget exactly this alarm; False if it was taken, moved or dropped meanwhile."""
        gone = await self._connection.execute(
            delete(_A).where(_is(oven_id, alarm.name) & (_A.c.due == alarm.due))
        )
        return bool(gone.rowcount)

    async def take_each(self, due: Sequence[DueAlarm]) -> frozenset[DueAlarm]:
        """Forget exactly these alarms; returns those that were there, as they were asked for."""
        asked = {(one.oven, one.alarm.name.value, one.alarm.due): one for one in due}
        if not asked:
            return frozenset()
        there = tuple_(_A.c.oven, _A.c.name, _A.c.due).in_(list(asked))
        gone = await self._connection.execute(
            delete(_A).where(there).returning(_A.c.oven, _A.c.name, _A.c.due)
        )
        return frozenset(asked[row.oven, row.name, row.due] for row in gone)

    async def change(
        self, dropped: Sequence[tuple[str, AlarmName]], due: Sequence[DueAlarm]
    ) -> None:
        """Drop some, then set others."""
        if dropped:
            this = (_A.c.oven == bindparam("in_oven")) & (_A.c.name == bindparam("so_named"))
            gone = [{"in_oven": oven_id, "so_named": name.value} for oven_id, name in dropped]
            await self._connection.execute(delete(_A).where(this), gone)
        rows = [{"oven": d.oven, "name": d.alarm.name.value, "due": d.alarm.due} for d in due]
        await put_each(self._connection, _A, rows, ["oven", "name"])

    async def of(self, oven_id: str) -> Mapping[AlarmName, datetime]:
        """An oven's alarms."""
        rows = await self._connection.execute(
            select(_A.c.name, _A.c.due).where(_A.c.oven == oven_id).order_by(_A.c.due, _A.c.name)
        )
        return {AlarmName(name): due for name, due in rows}

    async def due(self, until: datetime, limit: int = 100) -> tuple[DueAlarm, ...]:
        """Earliest first, ties by oven and name."""
        rows = await self._connection.execute(
            select(_A)
            .where(_A.c.due <= until)
            .order_by(_A.c.due, _A.c.oven, _A.c.name)
            .limit(limit)
        )
        return tuple(DueAlarm(row.oven, Alarm(AlarmName(row.name), row.due)) for row in rows)

    async def next_due(self) -> datetime | None:
        """The earliest of all."""
        earliest = await self._connection.execute(select(func.min(_A.c.due)))
        due: datetime | None = earliest.scalar_one_or_none()
        return due


def _is(oven_id: str, name: AlarmName) -> ColumnElement[bool]:
    return (_A.c.oven == oven_id) & (_A.c.name == name.value)
