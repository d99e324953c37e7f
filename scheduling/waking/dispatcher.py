"""Takes letters from the outbox to a carrier, and writes down what became of each.

A letter is claimed with a lease and the claim committed before anything is sent, so no
transaction is held over a network call. What the carrier cannot know stays unknown:

    NotSent   tried again, later and later; a told wait pauses that chat, two at once pause all
    Unknown   marked so; danger and fire are repeated once, nothing else is
    Blocked   the person is marked blocked and their unsent letters cancelled
    Refused   a fault of ours: failed for good

    CarrierError
    ├── NotSent
    ├── Unknown
    ├── Blocked
    └── Refused

All but NotSent are reported to the ovens concerned (``waking.report``).
"""

import asyncio
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Protocol

import structlog

from scheduling.clock import Clock
from scheduling.outcome import Urgency
from scheduling.pacing import Backoff, Pacing
from scheduling.ports import EVERYBODY, Letter, OutboxState, Person, Store, UnitOfWork
from scheduling.waking.report import Report, file_report

LEASE = timedelta(seconds=90)
"""Longer than any carrier takes for one letter, with its pictures and waits."""

AT_ONCE = 30

BLOCKED, UNKNOWN, REFUSED = "blocked", "unknown", "refused"
"""``why`` of a Delivery."""

_log = structlog.get_logger(__name__)


class CarrierError(Exception):
    """A letter did not surely arrive."""


class NotSent(CarrierError):  # noqa: N818 - a fate, not a fault
    """It surely did not leave; ``retry_after`` is the wait that the channel asked for."""

    def __init__(self, why: str = "", retry_after: timedelta | None = None) -> None:
        super().__init__(why)
        self.retry_after = retry_after


class Unknown(CarrierError):  # noqa: N818
    """It may have arrived: nobody can know."""


class Blocked(CarrierError):  # noqa: N818
    """Its reader does not let us in any more."""


class Refused(CarrierError):  # noqa: N818
    """The channel does not take such a message: a fault of ours."""


@dataclass(frozen=True, slots=True)
class Sent:
    """It arrived; ``ref`` is the channel's own id of it."""

    ref: str


class Carrier(Protocol):
    """Shows letters to people."""

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        """Show ``letter``, in place of the message ``edit_ref`` if possible.

        Raises NotSent, Unknown, Blocked or Refused; anything else counts as Unknown.
        """
        ...


class Dispatcher:
    """Sends what is due to be sent. Several may run over one store, in several processes."""

    def __init__(
        self,
        store: Store,
        clock: Clock,
        carriers: dict[str, Carrier],
        new_id: Callable[[], str],
        *,
        pacing: Pacing | None = None,
        backoff: Backoff | None = None,
        lease: timedelta = LEASE,
    ) -> None:
        """``carriers`` by channel; without ``pacing`` everything goes at once."""
        self._store = store
        self._clock = clock
        self._carriers = carriers
        self._new_id = new_id
        self._pacing = pacing
        self._backoff = backoff or Backoff()
        self._lease = lease

    async def deliver(self) -> int:
        """Send every letter that can be sent now; returns how many were tried."""
        tried = 0
        while count := await self.deliver_some():
            tried += count
        return tried

    async def deliver_some(self, limit: int = AT_ONCE) -> int:
        """Claim up to ``limit`` letters and send them side by side; returns how many."""
        now = self._clock.now()
        async with self._store.write() as unit:
            letters = await unit.outbox.claim(now, now + self._lease, limit, self._pacing)
            loads = await self._loads(unit, letters)
            await unit.commit()
        under_way = {asyncio.create_task(self._carry(load)): load for load in loads}
        try:
            while under_way:
                # Settled as they arrive: what waits to be settled is unknown after a crash, and
                # one that hangs holds up no other chat's next letter.
                done, _ = await asyncio.wait(under_way, return_when=asyncio.FIRST_COMPLETED)
                here = [task for task in under_way if task in done]
                await self._settle_all([(under_way.pop(task), task.result()) for task in here])
        finally:
            for task in under_way:
                task.cancel()
        return len(letters)

    async def recover(self) -> int:
        """Mark letters unknown whose lease ran out, and repeat what may be; returns how many."""
        now = self._clock.now()
        async with self._store.write() as unit:
            lapsed = await unit.outbox.lapsed(now)
            for letter in lapsed:
                await self._settle_unknown(unit, letter, now, "stopped while it was being sent")
            await unit.commit()
        return len(lapsed)

    async def _loads(self, unit: UnitOfWork, letters: Sequence[Letter]) -> "list[_Load]":
        people = await unit.people.several([letter.person for letter in letters])
        loads = []
        for letter in letters:
            earlier = None
            if letter.slot is not None:
                earlier = await unit.outbox.sent_in_slot(letter.person, letter.slot)
            ref = earlier.ref if earlier else None
            loads.append(_Load(letter, people.get(letter.person), ref))
        return loads

    async def _carry(self, load: "_Load") -> "Sent | CarrierError":
        if load.person is None:
            return Refused("there is no such person")
        carrier = self._carriers.get(load.person.channel)
        if carrier is None:
            return NotSent(f"the channel {load.person.channel} is not open")
        try:
            return await carrier.send(load.letter, load.person, load.edit_ref)
        except CarrierError as error:
            return error
        except Exception as error:  # noqa: BLE001 - a fault of the carrier leaves the fate unknown
            _log.exception("carrier failed", letter=load.letter.id)
            return Unknown(repr(error))

    async def _settle_all(self, fates: "Sequence[tuple[_Load, Sent | CarrierError]]") -> None:
        async with self._store.write() as unit:
            sent = {load.letter.id: fate.ref for load, fate in fates if isinstance(fate, Sent)}
            await unit.outbox.sent(sent, self._clock.now())
            for load, fate in fates:
                if isinstance(fate, CarrierError):
                    await self._settle_other(unit, load, fate)
            await unit.commit()

    async def _settle_other(self, unit: UnitOfWork, load: "_Load", fate: CarrierError) -> None:
        now, letter = self._clock.now(), load.letter
        match fate:
            case NotSent():
                await self._settle_not_sent(unit, letter, now, fate)
            case Blocked():
                await self._settle_blocked(unit, load, now, str(fate))
            case Refused():
                _log.error("refused", letter=letter.id, why=str(fate))
                await unit.outbox.settle(letter.id, OutboxState.FAILED, now, why=str(fate))
                await self._tell_oven(unit, letter, now, REFUSED)
            case _:
                await self._settle_unknown(unit, letter, now, str(fate))

    async def _settle_not_sent(
        self, unit: UnitOfWork, letter: Letter, now: datetime, fate: NotSent
    ) -> None:
        if now - letter.not_before > self._backoff.give_up_after:
            await unit.outbox.settle(letter.id, OutboxState.FAILED, now, why=str(fate))
            await self._tell_oven(unit, letter, now, REFUSED)
            return
        again = now + (fate.retry_after or self._backoff.wait(letter.attempts))
        await unit.outbox.settle(letter.id, OutboxState.TODO, now, why=str(fate), not_before=again)
        if fate.retry_after is not None:
            others = set(await unit.outbox.paused(now)) - {letter.person}
            # A wait does not say whether it is about the chat or about all of us; a second chat
            # told to wait meanwhile says that it is about all.
            await unit.outbox.pause(EVERYBODY if others else letter.person, again)

    async def _settle_blocked(
        self, unit: UnitOfWork, load: "_Load", now: datetime, why: str
    ) -> None:
        letter, person = load.letter, load.person
        await unit.outbox.settle(letter.id, OutboxState.CANCELLED, now, why=BLOCKED)
        if person is None:
            return
        _log.warning("blocked", person=person.id, why=why)
        current = await unit.people.get(person.id) or person
        await unit.people.put(current.model_copy(update={"blocked": True}))
        await unit.outbox.cancel_for(person.id, BLOCKED)
        for card in await unit.ovens.of_person(person.id):
            report = Report(oven=card.id, person=person.id, reached=False, why=BLOCKED)
            await file_report(unit, report, f"{letter.id}/{BLOCKED}", now)

    async def _settle_unknown(
        self, unit: UnitOfWork, letter: Letter, now: datetime, why: str
    ) -> None:
        if not await unit.outbox.settle(letter.id, OutboxState.UNKNOWN, now, why=why):
            return
        _log.warning("unknown whether sent", letter=letter.id, why=why)
        if await self._may_repeat(unit, letter, now):
            again = replace(
                letter,
                id=self._new_id(),
                repeat_of=letter.id,
                state=OutboxState.TODO,
                attempts=0,
                created_at=now,
                not_before=now,
                why="",
            )
            await unit.outbox.post(again)
        await self._tell_oven(unit, letter, now, UNKNOWN)

    async def _may_repeat(self, unit: UnitOfWork, letter: Letter, now: datetime) -> bool:
        return (
            letter.urgency in (Urgency.DANGER, Urgency.FIRE)
            and letter.repeat_of is None
            and (letter.expires is None or letter.expires > now)
            and not await unit.outbox.superseded(letter)
        )

    async def _tell_oven(self, unit: UnitOfWork, letter: Letter, now: datetime, why: str) -> None:
        """Only of letters to those who tend it: a failed one to the builder begets no other."""
        card = await unit.ovens.get(letter.oven) if letter.oven else None
        if card is None or letter.person not in card.owners:
            return
        report = Report(oven=card.id, person=letter.person, reached=False, why=why)
        await file_report(unit, report, f"{letter.id}/{why}", now)


@dataclass(frozen=True, slots=True)
class _Load:
    letter: Letter
    person: Person | None
    edit_ref: str | None
