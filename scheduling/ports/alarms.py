"""Alarms: when to look at which oven again."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from scheduling.alarm import Alarm, AlarmName


@dataclass(frozen=True, slots=True)
class DueAlarm:
    """An alarm with the oven that it belongs to."""

    oven: str
    alarm: Alarm


class Alarms(Protocol):
    """One row an oven and name."""

    async def set(self, oven_id: str, alarm: Alarm) -> None:
        """Insert, or move the alarm of that name."""
        ...

    async def drop(self, oven_id: str, name: AlarmName) -> None:
        """Forget it; no error if there is none."""
        ...

    async def take(self, oven_id: str, alarm: Alarm) -> bool:
        """Forget exactly this alarm; False if it was taken, moved or dropped meanwhile."""
        ...

    async def take_each(self, due: Sequence[DueAlarm]) -> frozenset[DueAlarm]:
        """Forget exactly these alarms; returns those that were there, as they were asked for."""
        ...

    async def change(
        self, dropped: Sequence[tuple[str, AlarmName]], due: Sequence[DueAlarm]
    ) -> None:
        """Drop some, then set others."""
        ...

    async def of(self, oven_id: str) -> Mapping[AlarmName, datetime]:
        """An oven's alarms, earliest first."""
        ...

    async def due(self, until: datetime, limit: int = 100) -> tuple[DueAlarm, ...]:
        """Earliest first, ties by oven and name."""
        ...

    async def next_due(self) -> datetime | None:
        """The earliest of all."""
        ...
