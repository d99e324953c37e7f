"""Works through what was stored: every chat in order, different chats side by side."""

import asyncio
import json
from collections.abc import Callable
from contextlib import AbstractAsyncContextManager, nullcontext
from itertools import groupby
from typing import Any

import structlog

from bot.conversation.incoming import Incoming, Receiver
from scheduling.ports import InboxRow, Store

ATTEMPTS = 5
"""A row that failed so often is set aside, so that it does not hold its chat for ever."""

SIDE_BY_SIDE = 8
BATCH = 100
SWEEP_S = 30.0
FIRST_PAUSE_S = 0.5

Translate = Callable[[InboxRow, dict[str, Any]], Incoming | None]
Failed = Callable[[InboxRow, Exception], None]
Attend = Callable[[Incoming], AbstractAsyncContextManager[object]]

_log = structlog.get_logger(__name__)


class InboxWorker:
    """Reads one channel's waiting rows and hands them to the receiver.

    ``attend`` surrounds the work on one row (a typing indicator). A row whose handling fails is
    tried again, before anything newer of its chat; after so many ``attempts`` it is set aside.
    ``failed`` is told of each failure.
    """

    def __init__(
        self,
        channel: str,
        store: Store,
        receiver: Receiver,
        translate: Translate,
        attend: Attend = lambda _: nullcontext(),
        attempts: int = ATTEMPTS,
        failed: Failed = lambda *_: None,
    ) -> None:
        self._channel = channel
        self._store = store
        self._receiver = receiver
        self._translate = translate
        self._attend = attend
        self._attempts = attempts
        self._tell_failed = failed
        self._news = asyncio.Event()
        self._stopping = False
        self._finishing = False

    def wake(self) -> None:
        """There is something new in the inbox."""
        self._news.set()

    def stop(self) -> None:
        """Let ``run`` end after the row in hand."""
        self._stopping = True
        self._news.set()

    def finish(self) -> None:
        """Let ``run`` end after what waits now; what fails is left for the next time."""
        self._finishing = True
        self._news.set()

    async def run(self) -> None:
        """Work until stopped. A store that cannot be read is tried again, ever more slowly."""
        pause_s = FIRST_PAUSE_S
        while not self._stopping:
            self._news.clear()
            try:
                all_well = await self.drain()
            except Exception:  # noqa: BLE001 - the worker outlives whatever a row does to it
                _log.exception("inbox not read", channel=self._channel)
                all_well = False
            if self._finishing and not self._news.is_set():
                break
            if all_well:
                pause_s = FIRST_PAUSE_S
                await self._wait(SWEEP_S)
            elif not self._stopping:
                await asyncio.sleep(pause_s)
                pause_s = min(2 * pause_s, SWEEP_S)

    async def drain(self) -> bool:
        """Work through all that waits; False if something has to be tried again."""
        all_well = True
        while not self._stopping:
            async with self._store.read() as unit:
                rows = await unit.inbox.waiting(self._channel, BATCH)
            if not rows:
                break
            in_hand = asyncio.Semaphore(SIDE_BY_SIDE)
            by_chat = groupby(sorted(rows, key=lambda row: row.chat), key=lambda row: row.chat)
            went_well = await asyncio.gather(
                *(self._work_through(tuple(rows), in_hand) for _, rows in by_chat)
            )
            if not all(went_well):
                all_well = False
                break
        return all_well

    async def _work_through(self, rows: tuple[InboxRow, ...], in_hand: asyncio.Semaphore) -> bool:
        """One chat's rows in order; stops at the first that has to be tried again."""
        async with in_hand:
            for row in rows:
                if self._stopping:
                    return True
                if not await self._work_on(row):
                    return False
        return True

    async def _work_on(self, row: InboxRow) -> bool:
        log = _log.bind(channel=self._channel, key=row.key)
        try:
            incoming = self._translate(row, json.loads(row.body))
        except (ValueError, RecursionError) as error:
            log.warning("set aside", why=str(error))
            await self._failed(row, str(error), set_aside=True)
            return True
        try:
            if incoming is not None:
                async with self._attend(incoming):
                    await self._receiver.receive(incoming)
            await self._done(row)
        except Exception as error:
            give_up = row.attempts + 1 >= self._attempts
            self._tell_failed(row, error)
            log.exception("set aside" if give_up else "to be tried again")
            await self._failed(row, repr(error), set_aside=give_up)
            return give_up
        return True

    async def _done(self, row: InboxRow) -> None:
        """No effect where the receiver has marked it, as it should in its own unit of work."""
        async with self._store.write() as unit:
            await unit.inbox.done(self._channel, row.key)
            await unit.commit()

    async def _failed(self, row: InboxRow, why: str, set_aside: bool) -> None:
        async with self._store.write() as unit:
            await unit.inbox.failed(self._channel, row.key, why, set_aside)
            await unit.commit()

    async def _wait(self, at_most_s: float) -> None:
        try:
            await asyncio.wait_for(self._news.wait(), at_most_s)
        except TimeoutError:
            return
