"""Alarms in memory."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from scheduling.alarm import Alarm, AlarmName
from scheduling.ports import DueAlarm
from storage.memory.tables import Room


class MemoryAlarms(Room):
    """``Alarms`` in memory."""

    async def set(self, oven_id: str, alarm: Alarm) -> None:
        """Insert, or move the alarm of that name."""
        self._needs_oven(oven_id)
        self._t.alarms[oven_id, alarm.name] = alarm.due

    async def drop(self, oven_id: str, name: AlarmName) -> None:
        """Forget it; no error if there is none."""
        self._t.alarms.pop((oven_id, name), None)

    async def take(self, oven_id: str, alarm: Alarm) -> bool:
        """Forget exactly this alarm; False if it was taken, moved or dropped meanwhile."""
        if self._t.alarms.get((oven_id, alarm.name)) != alarm.due:
            return False
        del self._t.alarms[oven_id, alarm.name]
        return True

    async def take_each(self, due: Sequence[DueAlarm]) -> frozenset[DueAlarm]:
        """Forget exactly these alarms; returns those that were there, as they were asked for."""
        return frozenset([one for one in due if await self.take(one.oven, one.alarm)])

    async def change(
        self, dropped: Sequence[tuple[str, AlarmName]], due: Sequence[DueAlarm]
    ) -> None:
        """Drop some, then set others."""
        for oven_id, name in dropped:
            await self.drop(oven_id, name)
        for one in due:
            await self.set(one.oven, one.alarm)

    async def of(self, oven_id: str) -> Mapping[AlarmName, datetime]:
        """An oven's alarms, earliest first."""
        theirs = [(due, name) for (oven, name), due in self._t.alarms.items() if oven == oven_id]
        return {name: due for due, name in sorted(theirs)}

    async def due(self, until: datetime, limit: int = 100) -> tuple[DueAlarm, ...]:
        """Earliest first, ties by oven and name."""
        due = sorted((d, oven, name) for (oven, name), d in self._t.alarms.items() if d <= until)
        return tuple(DueAlarm(oven, Alarm(name, d)) for d, oven, name in due[:limit])

    async def next_due(self) -> datetime | None:
        """The earliest of all."""
        return min(self._t.alarms.values(), default=None)
