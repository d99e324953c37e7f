"""A store and a carrier that tell each step they are about to take, or have just taken.

Whoever listens may end the process there, or raise: the code under test knows nothing of it.
"""

from collections.abc import Callable
from enum import StrEnum
from types import TracebackType
from typing import Self

from scheduling.ports import Letter, Person, Store, UnitOfWork
from scheduling.waking.carrying import Carrier, Sent


class Step(StrEnum):
    BEFORE_COMMIT = "before commit"
    AFTER_COMMIT = "after commit"
    BEFORE_SEND = "before send"
    AFTER_SEND = "after send"


OnStep = Callable[[Step], None]


class MortalStore:
    def __init__(self, store: Store, on_step: OnStep) -> None:
        self._store = store
        self._on_step = on_step

    def write(self) -> "MortalUnit":
        return MortalUnit(self._store.write(), self._on_step)

    def read(self) -> UnitOfWork:
        return self._store.read()

    async def tidy(self) -> None:
        await self._store.tidy()

    async def try_writing(self) -> None:
        await self._store.try_writing()

    async def close(self) -> None:
        await self._store.close()


class MortalUnit:
    def __init__(self, unit: UnitOfWork, on_step: OnStep) -> None:
        self._unit = unit
        self._on_step = on_step

    async def __aenter__(self) -> Self:
        unit = await self._unit.__aenter__()
        self.people, self.ovens, self.alarms = unit.people, unit.ovens, unit.alarms
        self.inbox, self.outbox, self.promises = unit.inbox, unit.outbox, unit.promises
        self.builders, self.ways = unit.builders, unit.ways
        self.invitations, self.erasures = unit.invitations, unit.erasures
        self.hands = unit.hands
        self.calendars = unit.calendars
        return self

    async def __aexit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        await self._unit.__aexit__(kind, error, trace)

    async def commit(self) -> None:
        self._on_step(Step.BEFORE_COMMIT)
        await self._unit.commit()
        self._on_step(Step.AFTER_COMMIT)


class MortalCarrier:
    def __init__(self, carrier: Carrier, on_step: OnStep) -> None:
        self._carrier = carrier
        self._on_step = on_step

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        self._on_step(Step.BEFORE_SEND)
        sent = await self._carrier.send(letter, person, edit_ref)
        self._on_step(Step.AFTER_SEND)
        return sent
