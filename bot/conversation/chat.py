"""A conversation driven by hand on a stepped clock: what replay, rehearsal and tests talk to.

It walks the road that Telegram walks: what is said is stored in the inbox, worked through,
answered into the outbox and sent; only the clock stands still between two steps.
"""

import base64
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any, Final, Protocol

from bot.channels.inbox_worker import InboxWorker
from bot.conversation.heard import Heard, Listener
from bot.conversation.incoming import INLINE, Incoming, Receiver, readable, slash
from bot.conversation.stored import incoming_of, row_of
from scheduling.clock import SteppedClock
from scheduling.ports import InboxRow, Store

CHANNEL: Final = "replay"

STEPS_AT_ONE_INSTANT = 500
"""More than this due at the same moment is a fault that would never end."""


class Road(Protocol):
    """What happens by itself as time passes: alarms come due, letters become sendable."""

    async def run_due(self) -> None:
        """Act on some at least of what is due."""
        ...

    async def deliver(self) -> None:
        """Send every letter that can be sent now."""
        ...

    async def next_due(self) -> datetime | None:
        """When there is next something to do; None for never."""
        ...

    async def close(self) -> None:
        """Let go of the store."""
        ...


class Chat:
    """Several people talking with the bot. Times are aware datetimes and never go back.

    Each verb first lets time pass until ``at``, with every alarm at its own time, then acts, and
    returns all that anybody has heard since the last call, in order.
    """

    def __init__(
        self,
        clock: SteppedClock,
        store: Store,
        road: Road,
        receiver: Receiver,
        listener: Listener,
        tidy_up: Callable[[], None] | None = None,
    ) -> None:
        self._clock = clock
        self.store = store
        self._road = road
        self._listener = listener
        self._tidy_up = tidy_up
        self._faults: list[Exception] = []
        self._worker = InboxWorker(CHANNEL, store, receiver, incoming_of, failed=self._note_fault)
        self._count_at = (clock.now(), 0)
        self._due: datetime | None = None
        self._quiet = False

    @property
    def now(self) -> datetime:
        """The instant at which the clock stands, UTC."""
        return self._clock.now()

    async def say(
        self, person: str, text: str, at: datetime, answering: str | None = None
    ) -> list[Heard]:
        """``person`` writes, or gives a command ("/start"), perhaps as a reply to a message: its
        ``Heard.ref``."""
        words = readable(text)
        told = self._incoming(person, at, text=words, command=slash(words), answering=answering)
        return await self._do(told, at)

    async def press(self, person: str, label: str, at: datetime) -> list[Heard]:
        """``person`` presses a button they were shown. Raises NoSuchButtonError."""
        await self._pass(at)
        key = self._listener.key_of(person, label)
        return await self._do(self._incoming(person, at, press=key), at)

    async def location(
        self, person: str, latitude: float, longitude: float, at: datetime
    ) -> list[Heard]:
        """``person`` shares a place, in degrees."""
        return await self._do(self._incoming(person, at, location=(latitude, longitude)), at)

    async def photo(
        self,
        person: str,
        at: datetime,
        caption: str | None = None,
        answering: str | None = None,
    ) -> list[Heard]:
        """``person`` sends a picture, perhaps as a reply."""
        incoming = self._incoming(person, at, text=caption, answering=answering)
        return await self._do(replace(incoming, photo=f"{CHANNEL}:{incoming.message}"), at)

    async def file(self, person: str, content: bytes, at: datetime) -> list[Heard]:
        """``person`` sends a small text file."""
        kept = INLINE + base64.b64encode(content).decode()
        return await self._do(self._incoming(person, at, file=kept), at)

    async def pass_time(self, until: datetime) -> list[Heard]:
        """Nobody does anything until then."""
        await self._pass(until)
        return self._listener.take()

    def heard(self) -> list[Heard]:
        """What was heard before a verb failed."""
        return self._listener.take()

    def next_due(self) -> datetime | None:
        """When something will happen by itself, as known after the last verb; None for never."""
        return self._due

    async def close(self) -> None:
        """Let go of the store, and of what was only kept for this conversation."""
        await self._road.close()
        if self._tidy_up is not None:
            self._tidy_up()

    async def _do(self, incoming: Incoming, at: datetime) -> list[Heard]:
        await self._pass(at)
        self._quiet = False
        async with self.store.write() as unit:
            await unit.inbox.store(row_of(incoming))
            await unit.commit()
        await self._worker.drain()
        if self._faults:
            raise self._faults.pop()
        await self._pass(at)
        return self._listener.take()

    async def _pass(self, until: datetime) -> None:
        self._check(until)
        if self._quiet and (self._due is None or until < self._due):
            self._clock.move_to(until)
            return
        await self._road.deliver()
        steps = 0
        while (due := await self._road.next_due()) is not None and due <= until:
            steps = steps + 1 if due <= self._clock.now() else 0
            if steps > STEPS_AT_ONE_INSTANT:
                raise RuntimeError(f"something is due again and again at {due.isoformat()}")
            self._clock.move_to(max(due, self._clock.now()))
            await self._road.run_due()
            await self._road.deliver()
        self._clock.move_to(until)
        self._due, self._quiet = due, True

    def _incoming(self, person: str, at: datetime, **what: Any) -> Incoming:
        self._check(at)
        instant, count = self._count_at
        self._count_at = (at, count + 1 if instant == at else 1)
        name = f"{person}/{at.isoformat()}/{self._count_at[1]}"
        told = Incoming(CHANNEL, name, person, at, sender_name=person, message=name)
        return replace(told, **what)

    def _check(self, at: datetime) -> None:
        if at.tzinfo is None:
            raise ValueError("a time needs its offset, like 2026-05-13T09:00:00+01:00")
        if at < self._clock.now():
            now = self._clock.now().astimezone(at.tzinfo)
            raise ValueError(f"time does not go back: it is already {now.isoformat()}")

    def _note_fault(self, _row: InboxRow, error: Exception) -> None:
        self._faults.append(error)
