"""One transaction over SQL."""

import asyncio
from contextlib import AbstractAsyncContextManager
from types import TracebackType
from typing import Self

from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as PoolTimeoutError
from sqlalchemy.ext.asyncio import AsyncConnection, AsyncEngine

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
from storage.alarms import SqlAlarms
from storage.builders import SqlBuilders, SqlWays
from storage.calendars import SqlCalendars
from storage.erasures import SqlErasures
from storage.failing import Failing
from storage.faults import Busy, fault_of
from storage.hands import SqlHands
from storage.inbox import SqlInbox
from storage.invitations import SqlInvitations
from storage.outbox import SqlOutbox
from storage.ovens import SqlOvens
from storage.people import SqlPeople
from storage.promises import SqlPromises


class SqlUnitOfWork:
    """Opened with ``async with``; gone without a trace unless ``commit`` is called.

    ``turn`` is held for as long as the unit is open: writers of one process queue there in the
    order of their coming, which SQLite's own lock does not promise.
    """

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

    def __init__(
        self,
        engine: AsyncEngine,
        turn: AbstractAsyncContextManager[object] | None = None,
        failing: Failing | None = None,
    ) -> None:
        self._engine = engine
        self._turn = turn
        self._failing = failing
        self._connection: AsyncConnection | None = None

    async def __aenter__(self) -> Self:
        if self._turn is not None:
            await self._turn.__aenter__()
        try:
            connection = await self._open()
        except BaseException:
            await self._leave()
            raise
        self._connection = connection
        self.people = SqlPeople(connection)
        self.ovens = SqlOvens(connection)
        self.alarms = SqlAlarms(connection)
        self.inbox = SqlInbox(connection)
        self.outbox = SqlOutbox(connection)
        self.promises = SqlPromises(connection)
        self.builders = SqlBuilders(connection)
        self.ways = SqlWays(connection)
        self.invitations = SqlInvitations(connection)
        self.erasures = SqlErasures(connection)
        self.hands = SqlHands(connection)
        self.calendars = SqlCalendars(connection)
        return self

    async def __aexit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        try:
            # Shielded: a cancelled task must neither leak a connection nor leave a lock behind.
            await asyncio.shield(self._close())
        finally:
            await self._leave()
        if isinstance(error, DBAPIError):
            fault = fault_of(error)
            if self._failing is not None:
                self._failing.note(fault)
            raise fault from error

    async def rewrite_nothing(self) -> None:
        """Change a page to what it is (SQLite): whether that can be kept shows at the commit."""
        if self._connection is None:
            raise RuntimeError("a unit of work is open only inside its block")
        if self._connection.dialect.name != "sqlite":
            await self._connection.exec_driver_sql("select 1")
            return
        told = await self._connection.exec_driver_sql("PRAGMA user_version")
        await self._connection.exec_driver_sql(f"PRAGMA user_version = {int(told.scalar_one())}")

    async def commit(self) -> None:
        """Keep what was done; the unit is over."""
        if self._connection is None:
            raise RuntimeError("a unit of work is open only inside its block")
        await self._connection.commit()

    async def _open(self) -> AsyncConnection:
        try:
            connection = await self._engine.connect()
        except DBAPIError as error:
            raise fault_of(error) from error
        except PoolTimeoutError as error:
            raise Busy("too much goes on at once: no connection came free") from error
        try:
            await connection.begin()
        except DBAPIError as error:
            await connection.close()
            raise fault_of(error) from error
        except BaseException:
            await connection.close()
            raise
        return connection

    async def _close(self) -> None:
        connection, self._connection = self._connection, None
        if connection is not None:
            await connection.close()

    async def _leave(self) -> None:
        if self._turn is not None:
            await self._turn.__aexit__(None, None, None)
