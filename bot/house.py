"""The parts that run, joined: what comes in wakes what comes due, that wakes what goes out."""

import asyncio
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from functools import partial
from typing import Protocol

import structlog

from bot.conversation.incoming import Incoming, Receiver
from scheduling.clock import Clock
from scheduling.ports import Store
from scheduling.waking.rounds import Rounds
from scheduling.waking.waker import NextDue, Waker, Work

HELD_BACK = timedelta(seconds=0.25)
"""What is due but was not taken waits for its chat's turn: looked at again after this."""

MakeWaker = Callable[[Work, NextDue], Waker]

_log = structlog.get_logger(__name__)


class Alarms(Protocol):
    """What the house needs of the engine."""

    async def run_some(self) -> int:
        """Act on the first of them; returns how many."""
        ...

    async def next_wake_up(self) -> datetime | None:
        """When there is next something to act on."""
        ...


class Deliveries(Protocol):
    """What the house needs of the dispatcher."""

    async def begin(self) -> object:
        """Give back what a run that died left half sent."""
        ...

    async def heard(self, channel: str, address: str) -> None:
        """Somebody wrote from there."""
        ...

    async def set_out(self) -> object:
        """Start every send that can be started, and wait for none."""
        ...

    async def deliver(self) -> object:
        """Send every letter that can be sent now, and see them settled."""
        ...

    async def next_due(self) -> datetime | None:
        """When there is next something to send or to give back; None for never."""
        ...

    def when_freed(self, call: Callable[[], None]) -> None:
        """``call`` whenever a chat may be written to again."""
        ...

    def when_reported(self, call: Callable[[], None]) -> None:
        """``call`` whenever an oven has been told what became of a letter of its."""
        ...

    def halt(self) -> None:
        """Give up what is under way."""
        ...


class Job(Protocol):
    """Something to be looked after from time to time, such as the weather."""

    async def look(self) -> int:
        """Do what is due, nothing before it is; returns how much came of it."""
        ...

    async def next_due(self) -> datetime:
        """When to look next."""
        ...

    async def fault(self) -> str | None:
        """What is wrong with it, in a sentence."""
        ...


class Chore(Protocol):
    """Something to be seen to now and then, such as tidying up, or the morning's digest."""

    async def look(self) -> int:
        """Do what is due; returns how much came of it."""
        ...

    async def next_due(self) -> datetime | None:
        """When there is next something to do; None for never."""
        ...


class House:
    """Alarms, deliveries and a receiver over one store.

    By itself (``start``, ``stop``) it runs on a clock that moves; driven by hand (``run_due``,
    ``deliver``, ``next_due``) it is the road of a ``Chat``.
    """

    def __init__(
        self,
        store: Store,
        clock: Clock,
        alarms: Alarms,
        deliveries: Deliveries,
        receiver: Receiver,
        weather: Job | None = None,
        chores: Sequence[Chore] = (),
        alarm_waker: MakeWaker | None = None,
    ) -> None:
        """Without an ``alarm_waker`` alarms are minded in rounds on ``clock``."""
        self.store = store
        self.clock = clock
        self._alarms = alarms
        self._deliveries = deliveries
        self._receiver = receiver
        self._weather = weather
        self._chores = chores
        self._chores_due: dict[Chore, datetime | None] = {}
        make = alarm_waker or (lambda work, due: Rounds("alarms", work, due, clock))
        self._alarm_waker = make(self._run_alarms, alarms.next_wake_up)
        self._delivery_waker = Rounds("deliveries", deliveries.set_out, self._sendable, clock)
        deliveries.when_freed(self._delivery_waker.wake)
        deliveries.when_reported(self._alarm_waker.wake)
        self._wakers: list[Waker] = [self._alarm_waker, self._delivery_waker]
        if weather is not None:
            self._wakers.append(Rounds("weather", self._look_at_weather, weather.next_due, clock))
        self._wakers += [
            Rounds(f"chore {number}", partial(self._do, chore), chore.next_due, clock)
            for number, chore in enumerate(chores, 1)
        ]

    async def receive(self, incoming: Incoming) -> None:
        """Hand on what came in; the answer is sent and new alarms are minded at once."""
        try:
            await self._receiver.receive(incoming)
        finally:
            await self._hasten(incoming)
            self._delivery_waker.wake()
            self._alarm_waker.wake()

    async def _hasten(self, incoming: Incoming) -> None:
        try:
            await self._deliveries.heard(incoming.channel, incoming.chat)
        except Exception:  # noqa: BLE001 - no fault of what they wrote
            _log.exception("what missed them is not hastened")

    async def went_unheard(self, incoming: Incoming, why: str) -> None:
        """Hand on what could not be worked on; it is answered at once."""
        try:
            await self._receiver.went_unheard(incoming, why)
        finally:
            self._delivery_waker.wake()
            self._alarm_waker.wake()

    async def start(self) -> None:
        """Give back what the last run left, then mind alarms and deliveries."""
        await self._deliveries.begin()
        for waker in self._wakers:
            waker.start()

    async def stop(self) -> None:
        """Finish what is in hand, then send what is ready to be sent."""
        await asyncio.gather(*(waker.stop() for waker in self._wakers))
        try:
            await self._deliveries.deliver()
        except Exception:  # noqa: BLE001 - it is stored, and sent at the next start
            _log.exception("not everything was sent")
        self._deliveries.halt()

    def fault(self) -> str | None:
        """What has stopped though it should run, or None."""
        faults = [waker.fault() for waker in self._wakers]
        return ", ".join(fault for fault in faults if fault) or None

    async def weather_fault(self) -> str | None:
        """What is wrong with the weather, or None."""
        return None if self._weather is None else await self._weather.fault()

    async def run_due(self) -> None:
        """Act on some at least of the alarms that are due, and look at the weather and do chores
        when it is time."""
        now = self.clock.now()
        if self._weather is not None:
            await self._weather.look()
        await self._alarms.run_some()
        for chore in self._chores:
            due = self._chores_due.get(chore, now)
            if due is not None and due <= now:
                await chore.look()

    async def deliver(self) -> None:
        """Send every letter that can be sent now."""
        await self._deliveries.deliver()

    async def next_due(self) -> datetime | None:
        """When an alarm comes due, a letter may be sent or the weather is looked at."""
        times = [await self._alarms.next_wake_up(), await self._deliveries.next_due()]
        if self._weather is not None:
            times.append(await self._weather.next_due())
        self._chores_due = {chore: await chore.next_due() for chore in self._chores}
        times += self._chores_due.values()
        return min((time for time in times if time is not None), default=None)

    async def close(self) -> None:
        """Let go of the store."""
        await self.store.close()

    async def _look_at_weather(self) -> None:
        if self._weather is not None and await self._weather.look():
            self._delivery_waker.wake()
            self._alarm_waker.wake()

    async def _do(self, chore: Chore) -> None:
        if await chore.look():
            self._delivery_waker.wake()

    async def _run_alarms(self) -> None:
        # The first of many that came due while nothing ran does not wait for the last of them.
        while await self._alarms.run_some():
            self._delivery_waker.wake()

    async def _sendable(self) -> datetime | None:
        due = await self._deliveries.next_due()
        return None if due is None else max(due, self.clock.now() + HELD_BACK)
