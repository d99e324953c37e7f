"""The store in memory: a unit has copies of the tables, and puts them in place at its commit."""

import asyncio
from types import TracebackType
from typing import Self

from scheduling.ports import (
    Alarms,
    Builders,
    Calendars,
    Erasures,
    Hands,
    Inbox,
    Invitations,
    Outbox,
    Ovens,
    People,
    Promises,
    Ways,
)
from storage.memory.alarms import MemoryAlarms
from storage.memory.builders import (
    MemoryBuilders,
    MemoryErasures,
    MemoryInvitations,
    MemoryWays,
)
from storage.memory.calendars import MemoryCalendars
from storage.memory.hands import MemoryHands
from storage.memory.inbox import MemoryInbox
from storage.memory.outbox import MemoryOutbox
from storage.memory.ovens import MemoryOvens, MemoryPromises
from storage.memory.people import MemoryPeople
from storage.memory.tables import Tables


class MemoryStore:
    """A ``Store`` that forgets everything at its end."""

    def __init__(self) -> None:
        self._tables = Tables()
        self._turn = asyncio.Lock()

    def write(self) -> "MemoryUnit":
        """A unit that no other writer runs beside."""
        return MemoryUnit(self, self._turn)

    def read(self) -> "MemoryUnit":
        """A unit for looking only."""
        return MemoryUnit(self, None)

    async def tidy(self) -> None:
        """What is gone from memory is gone."""

    async def try_writing(self) -> None:
        """There is always room."""

    async def close(self) -> None:
        """Nothing to let go of."""

    def connections_in_use(self) -> int:
        """Whether a writer is at work."""
        return int(self._turn.locked())


class MemoryUnit:
    """A unit of work over memory."""

    people: People
    ovens: Ovens
    alarms: Alarms
    inbox: Inbox
    outbox: Outbox
    promises: Promises
    builders: Builders
    ways: Ways
    invitations: Invitations
    erasures: Erasures
    hands: Hands
    calendars: Calendars

    def __init__(self, store: MemoryStore, turn: asyncio.Lock | None) -> None:
        self._store = store
        self._turn = turn
        self._tables: Tables | None = None

    async def __aenter__(self) -> Self:
        if self._turn is not None:
            await self._turn.acquire()
        tables = self._store._tables.copied()
        self._tables = tables
        self.people = MemoryPeople(tables)
        self.ovens = MemoryOvens(tables)
        self.alarms = MemoryAlarms(tables)
        self.inbox = MemoryInbox(tables)
        self.outbox = MemoryOutbox(tables)
        self.promises = MemoryPromises(tables)
        self.builders = MemoryBuilders(tables)
        self.ways = MemoryWays(tables)
        self.invitations = MemoryInvitations(tables)
        self.erasures = MemoryErasures(tables)
        self.hands = MemoryHands(tables)
        self.calendars = MemoryCalendars(tables)
        return self

    async def __aexit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._tables = None
        if self._turn is not None:
            self._turn.release()

    async def commit(self) -> None:
        """Keep what was done; the unit is over."""
        if self._tables is None:
            raise RuntimeError("a unit of work is open only inside its block")
        if self._turn is not None:
            self._store._tables = self._tables.copied()
