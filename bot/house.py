"""The parts that run, joined: what comes in wakes what comes due, that wakes what goes out."""

import asyncio
from datetime import datetime
from typing import Protocol

import structlog

from bot.conversation.incoming import Incoming, Receiver
from bot.rounds import Rounds
from scheduling.clock import Clock
from scheduling.ports import Store

DELIVERERS = 3
"""Side by side, so that a send which hangs until its timeout holds up nobody else."""

_log = structlog.get_logger(__name__)


class Alarms(Protocol):
    """What the house needs of the engine."""

    async def run_due(self) -> object:
        """Act on every alarm that is due."""
        ...

    async def next_wake_up(self) -> datetime | None:
        """When there is next something to act on."""
        ...


class Deliveries(Protocol):
    """What the house needs of the dispatcher."""

    async def deliver(self) -> object:
        """Send every letter that can be sent now."""
        ...

    async def recover(self) -> object:
        """Settle what a run that died left half sent."""
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
    ) -> None:
        self.store = store
        self.clock = clock
        self._alarms = alarms
        self._deliveries = deliveries
        self._receiver = receiver
        self._weather = weather
        self._weather_rounds = (
            [Rounds("weather", self._look_at_weather, weather.next_due, clock)] if weather else []
        )
        self._alarm_rounds = Rounds("alarms", self._run_alarms, alarms.next_wake_up, clock)
        self._delivery_rounds = [
            Rounds(f"deliveries {number}", deliveries.deliver, self._sendable, clock)
            for number in range(1, DELIVERERS + 1)
        ]
        self._running: list[asyncio.Task[None]] = []

    async def receive(self, incoming: Incoming) -> None:
        """Hand on what came in; the answer is sent and new alarms are minded at once."""
        try:
            await self._receiver.receive(incoming)
        finally:
            self._wake_deliveries()
            self._alarm_rounds.wake()

    async def start(self) -> None:
        """Settle what the last run left, then mind alarms and deliveries."""
        await self._deliveries.recover()
        self._running = [
            asyncio.create_task(rounds.run(), name=rounds.name)
            for rounds in (self._alarm_rounds, *self._delivery_rounds, *self._weather_rounds)
        ]

    async def stop(self) -> None:
        """Finish the rounds in hand, then send what is ready to be sent."""
        self._alarm_rounds.stop()
        for rounds in (*self._delivery_rounds, *self._weather_rounds):
            rounds.stop()
        await asyncio.gather(*self._running, return_exceptions=True)
        self._running = []
        try:
            await self._deliveries.deliver()
        except Exception:  # noqa: BLE001 - it is stored, and sent at the next start
            _log.exception("not everything was sent")

    def fault(self) -> str | None:
        """What has stopped though it should run, or None."""
        dead = [task.get_name() for task in self._running if task.done()]
        return f"{' and '.join(dead)} stopped" if dead else None

    async def weather_fault(self) -> str | None:
        """What is wrong with the weather, or None."""
        return None if self._weather is None else await self._weather.fault()

    async def run_due(self) -> None:
        """Act on every alarm that is due, and look at the weather when it is time."""
        if self._weather is not None:
            await self._weather.look()
        await self._alarms.run_due()

    async def deliver(self) -> None:
        """Send every letter that can be sent now, and settle those that a dead run left."""
        await self._deliveries.recover()
        await self._deliveries.deliver()

    async def next_due(self) -> datetime | None:
        """When an alarm comes due, a letter may be sent or the weather is looked at."""
        times = [await self._alarms.next_wake_up(), await self._sendable()]
        if self._weather is not None:
            times.append(await self._weather.next_due())
        return min((time for time in times if time is not None), default=None)

    async def close(self) -> None:
        """Let go of the store."""
        await self.store.close()

    def _wake_deliveries(self) -> None:
        for rounds in self._delivery_rounds:
            rounds.wake()

    async def _look_at_weather(self) -> None:
        if self._weather is not None and await self._weather.look():
            self._wake_deliveries()
            self._alarm_rounds.wake()

    async def _run_alarms(self) -> None:
        await self._alarms.run_due()
        await self._deliveries.recover()
        self._wake_deliveries()

    async def _sendable(self) -> datetime | None:
        async with self.store.read() as unit:
            return await unit.outbox.next_sendable()
