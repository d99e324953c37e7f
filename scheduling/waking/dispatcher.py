"""Takes letters from the outbox to a carrier, side by side, and settles each as it arrives.

A letter is claimed with a lease and the claim committed before anything is sent, so no
transaction is held over a network call. A lease is short and renewed while its letter is being
sent: what a dead process held is free again within seconds. A send that hangs holds up no other
chat, and a danger waits for nothing but another danger.
"""

import asyncio
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import structlog

from scheduling.clock import Clock
from scheduling.outcome import Urgency
from scheduling.pacing import Pacing
from scheduling.patience import PATIENCE, Patience
from scheduling.ports import Letter, Parcel, Store, UnitOfWork
from scheduling.waking.carrying import Carrier, CarrierError, Fate, Load, NotSent, Refused, Unknown
from scheduling.waking.settling import Settling

LEASE = timedelta(seconds=8)
RENEW_S = 2.0
"""By the wall clock, whatever the pace: a quarter of a lease."""

AT_ONCE, RESERVED = 24, 6
"""Letters under way side by side, and as many dangers besides; together fewer than the channel
has connections."""

UNSETTLED_S = 600.0
"""A fate that cannot be written for so long, though others can, is left to its lease."""

_NEVER = datetime.max.replace(tzinfo=UTC)

Again = Callable[[Parcel, Urgency], Parcel]
"""How a letter that may have arrived before is worded."""

_log = structlog.get_logger(__name__)


def as_before(parcel: Parcel, urgency: Urgency) -> Parcel:  # noqa: ARG001 - an ``Again``
    """The same words again."""
    return parcel


@dataclass(frozen=True, slots=True)
class _Arrived:
    """A fate that is still to be written down, and since when, by the loop's clock."""

    load: Load
    fate: Fate
    since_s: float


class Dispatcher:
    """Sends what is due to be sent. Several may run over one store, in several processes."""

    def __init__(
        self,
        store: Store,
        clock: Clock,
        carriers: Mapping[str, Carrier],
        *,
        pacing: Pacing | None = None,
        patience: Mapping[Urgency, Patience] = PATIENCE,
        lease: timedelta = LEASE,
        again: Again = as_before,
        alone: bool = False,
        at_once: int = AT_ONCE,
    ) -> None:
        """``carriers`` by channel; without ``pacing`` everything goes at once. ``alone``: no
        other process can be sending from this store."""
        self._store = store
        self._clock = clock
        self._carriers = carriers
        self._pacing = pacing
        self._settling = Settling(patience)
        self._lease = lease
        self._again = again
        self._alone = alone
        self._at_once = at_once
        self._in_hand: dict[str, Load] = {}
        self._under_way: set[asyncio.Task[None]] = set()
        self._arrived: list[_Arrived] = []
        self._missed: set[str] = set()
        self._turn = asyncio.Lock()
        self._renewing: asyncio.Task[None] | None = None
        self._freed: Callable[[], None] = lambda: None
        self._reported: Callable[[], None] = lambda: None

    def when_freed(self, call: Callable[[], None]) -> None:
        """``call`` whenever something was settled: its chat may be written to again."""
        self._freed = call

    def when_reported(self, call: Callable[[], None]) -> None:
        """``call`` whenever an oven has been told what became of a letter of its."""
        self._reported = call

    async def begin(self) -> int:
        """What a run that died left half sent is given back, and nothing waits any longer for
        what failed then; returns how many were half sent."""
        now = self._clock.now()
        async with self._store.write() as unit:
            left = await unit.outbox.lapsed(_NEVER if self._alone else now)
            await self._settling.left(unit, left, now)
            await unit.outbox.hasten(now)
            await unit.commit()
        return len(left)

    async def heard(self, channel: str, address: str) -> None:
        """Whoever writes is there: what did not reach them is tried at once."""
        if not self._missed:
            return
        async with self._store.write() as unit:
            person = await unit.people.at(channel, address)
            if person is not None and person.id in self._missed:
                await unit.outbox.hasten(self._clock.now(), person.id)
                await unit.commit()

    async def set_out(self) -> int:
        """Start every send for which there is room, and wait for none; returns how many."""
        try:
            await self._settle_arrived()
        except Exception:  # noqa: BLE001 - where nothing can be written the claim fails as well
            _log.exception("not settled yet")
        count = 0
        # Of each chat one is taken: a claim that was not filled has left nothing.
        while (limit := self._room()) and (claimed := await self._claim(limit)):
            count += claimed
            if claimed < limit:
                break
        return count

    async def deliver(self) -> int:
        """Send every letter that can be sent now, and see all of them settled; returns how many
        were tried."""
        tried = 0
        try:
            while True:
                tried += await self.set_out()
                if not self._under_way:
                    return tried
                done, _ = await asyncio.wait(self._under_way, return_when=asyncio.FIRST_COMPLETED)
                for task in done:
                    task.result()
        except BaseException:
            self.halt()
            raise

    async def next_due(self) -> datetime | None:
        """When there is next something to do; None for never."""
        async with self._store.read() as unit:
            return await unit.outbox.next_sendable(self._in_hand)

    def halt(self) -> None:
        """Give up what is under way; it will be known as half sent."""
        for task in self._under_way:
            task.cancel()

    # ------------------------------------------------------------ claiming

    def _room(self) -> int:
        """How many more may be under way, a danger or not."""
        room = self._at_once - len(self._in_hand)
        return room if room > 0 else max(0, room + RESERVED)

    async def _claim(self, limit: int) -> int:
        now = self._clock.now()
        danger_only = len(self._in_hand) >= self._at_once
        async with self._store.write() as unit:
            await self._take_lapsed(unit, now)
            letters = await unit.outbox.claim(
                now, now + self._lease, limit, self._pacing, danger_only=danger_only
            )
            loads = await self._loads(unit, letters)
            await unit.commit()
        for load in loads:
            self._in_hand[load.letter.id] = load
            task = asyncio.create_task(self._carry(load), name="letter")
            self._under_way.add(task)
            task.add_done_callback(self._ended)
        if self._in_hand and (self._renewing is None or self._renewing.done()):
            self._renewing = asyncio.create_task(self._renew(), name="leases")
        return len(loads)

    async def _take_lapsed(self, unit: UnitOfWork, now: datetime) -> None:
        # Ours are known to be alive, however late their leases were renewed.
        lapsed = await unit.outbox.lapsed(now)
        left = [letter for letter in lapsed if letter.id not in self._in_hand]
        await self._settling.left(unit, left, now)

    async def _loads(self, unit: UnitOfWork, letters: Sequence[Letter]) -> list[Load]:
        people = await unit.people.several([letter.person for letter in letters])
        loads = []
        for letter in letters:
            earlier = None
            if letter.slot is not None:
                earlier = await unit.outbox.sent_in_slot(letter.person, letter.slot)
            ref = earlier.ref if earlier else None
            loads.append(Load(letter, people.get(letter.person), ref))
        return loads

    async def _renew(self) -> None:
        while self._in_hand:
            await asyncio.sleep(RENEW_S)
            if not self._in_hand:
                return
            try:
                async with self._store.write() as unit:
                    await unit.outbox.renew(self._in_hand, self._clock.now() + self._lease)
                    await unit.commit()
            except Exception:  # noqa: BLE001 - tried again in a moment
                _log.exception("leases not renewed")

    # ------------------------------------------------------------ sending

    async def _carry(self, load: Load) -> None:
        try:
            fate = await self._fate_of(load)
        except BaseException:
            self._in_hand.pop(load.letter.id, None)
            raise
        self._arrived.append(_Arrived(load, fate, asyncio.get_running_loop().time()))
        # Whoever comes first settles all that arrived meanwhile: it is the commits that cost time.
        await self._settle_arrived()

    async def _fate_of(self, load: Load) -> Fate:
        if load.person is None:
            return Refused("there is no such person")
        carrier = self._carriers.get(load.person.channel)
        if carrier is None:
            return NotSent(f"the channel {load.person.channel} is not open")
        letter = load.letter
        if letter.doubts and load.edit_ref is None:
            letter = replace(letter, parcel=self._again(letter.parcel, letter.urgency))
        try:
            return await carrier.send(letter, load.person, load.edit_ref)
        except CarrierError as error:
            return error
        except Exception as error:  # noqa: BLE001 - a fault of the carrier leaves the fate unknown
            _log.exception("carrier failed", letter=letter.id)
            return Unknown(repr(error))

    # ------------------------------------------------------------ settling

    async def _settle_arrived(self) -> None:
        async with self._turn:
            batch, self._arrived = self._arrived, []
            if not batch:
                return
            try:
                await self._settle(batch)
            except Exception:
                if len(batch) == 1:
                    self._keep_for_later(batch[0])
                    raise
                _log.exception("settled one by one")
                await self._settle_each(batch)
            except BaseException:
                self._let_go(batch)
                raise
        # With many under way a handful is waited for: to claim costs as much for one as for ten.
        if len(self._in_hand) <= self._at_once * 2 // 3:
            self._freed()

    async def _settle_each(self, batch: Sequence[_Arrived]) -> None:
        """What cannot be written of one letter must not hold up the others."""
        for one in batch:
            try:
                await self._settle([one])
            except Exception:  # noqa: BLE001 - it is tried again with the next
                _log.exception("not settled", letter=one.load.letter.id)
                self._keep_for_later(one)

    async def _settle(self, batch: Sequence[_Arrived]) -> None:
        filed = self._settling.filed
        async with self._store.write() as unit:
            fates = [(one.load, one.fate) for one in batch]
            await self._settling.all(unit, fates, self._clock.now())
            await unit.commit()
        if self._settling.filed > filed:
            self._reported()
        self._let_go(batch)
        for load, fate in fates:
            if isinstance(fate, NotSent | Unknown):
                self._missed.add(load.letter.person)
            else:
                self._missed.discard(load.letter.person)

    def _keep_for_later(self, one: _Arrived) -> None:
        if asyncio.get_running_loop().time() - one.since_s > UNSETTLED_S:
            self._let_go([one])
        else:
            self._arrived.append(one)

    def _let_go(self, batch: Sequence[_Arrived]) -> None:
        for one in batch:
            self._in_hand.pop(one.load.letter.id, None)

    def _ended(self, task: asyncio.Task[None]) -> None:
        self._under_way.discard(task)
        with suppress(asyncio.CancelledError):
            error = task.exception()
            if error is not None:
                _log.error("not settled yet", exc_info=error)
                self._freed()
