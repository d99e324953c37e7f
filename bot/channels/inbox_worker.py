"""Works through what was stored: every chat in order, and no chat behind another's.

A row whose handling fails by a fault of its own is answered and set aside at once. One that fails
because nothing can be read or written waits, and its chat with it, until that works again.
"""

import asyncio
import json
from collections import deque
from collections.abc import Callable
from contextlib import AbstractAsyncContextManager, nullcontext
from enum import Enum
from itertools import groupby
from time import monotonic
from typing import Any

import structlog

from bot.channels.waiting import Slots, WaitingChats
from bot.conversation.incoming import Incoming, Receiver
from bot.logs import place_of
from scheduling.ports import InboxRow, Store
from storage.faults import of_the_store

SIDE_BY_SIDE = 8
"""Rows of so many known chats are worked on at once."""

BATCH, PAGE = 100, 1000
SWEEP_S = 30.0
"""So often everything that waits is looked for, whatever woke us."""

FIRST_PAUSE_S, LONGEST_PAUSE_S = 0.5, 5.0
"""Before a row is tried again that could not be kept."""

STRANGER_S, STRANGER_MEANWHILE_S = 0.1, 0.4
"""Of those who belong to nobody one row is worked on at a time, and one in this time at most is
answered: a third of what a bot may send (core.telegram.org/bots/faq, about 30 a second), and less
while somebody known is about."""

ABOUT_S = 5.0
"""Somebody known is about for so long after their last row."""

REST_OF_STRANGERS = 4.0
"""While somebody known is about strangers' lane rests so many times as long as it worked."""


class Went(Enum):
    """What became of the work on a row."""

    ANSWERED = "heard, and answered as it may be"
    WITHOUT_A_WORD = "said nothing to us"
    NOT_YET = "could not be kept: to be tried again"


Translate = Callable[[InboxRow, dict[str, Any]], Incoming | None]
Failed = Callable[[InboxRow, Exception], None]
Attend = Callable[[Incoming], AbstractAsyncContextManager[object]]

_log = structlog.get_logger(__name__)


class InboxWorker:
    """Reads one channel's waiting rows and hands them to the receiver.

    ``attend`` surrounds the work on one row (a typing indicator). ``failed`` is told of each
    failure. ``run`` keeps strangers apart; ``drain`` goes once through all that waits.
    """

    def __init__(
        self,
        channel: str,
        store: Store,
        receiver: Receiver,
        translate: Translate,
        attend: Attend = lambda _: nullcontext(),
        failed: Failed = lambda *_: None,
    ) -> None:
        self._channel = channel
        self._store = store
        self._receiver = receiver
        self._translate = translate
        self._attend = attend
        self._tell_failed = failed
        self._slots = Slots(SIDE_BY_SIDE)
        self._news = asyncio.Event()
        self._halt = asyncio.Event()
        self._stopping = False
        self._begin()
        self._finishing = False

    def _begin(self) -> None:
        """Nothing is known of what waits, and nobody works on it."""
        self._waiting = WaitingChats()
        self._known: set[asyncio.Task[None]] = set()
        self._strangers: deque[str] = deque()
        self._stranger_came = asyncio.Event()
        self._unsorted: list[str] = []
        self._swept_at = -SWEEP_S
        self._known_at = -ABOUT_S
        if not self._stopping:
            self._halt.clear()

    def wake(self) -> None:
        """There is something new in the inbox."""
        self._news.set()

    def stop(self) -> None:
        """Let ``run`` end after the rows in hand."""
        self._stopping = True
        self._end()

    def _end(self) -> None:
        self._halt.set()
        self._news.set()
        self._stranger_came.set()

    def finish(self) -> None:
        """Let ``run`` end after what waits now; what fails is left for the next time."""
        self._finishing = True
        self._news.set()

    async def run(self) -> None:
        """Work until stopped. A store that cannot be read is tried again, ever more slowly."""
        self._begin()
        pause_s = FIRST_PAUSE_S
        strangers = asyncio.create_task(self._work_for_strangers(), name="strangers")
        try:
            while not self._halt.is_set():
                self._news.clear()
                try:
                    await self._take_up()
                    pause_s = FIRST_PAUSE_S
                except Exception:  # noqa: BLE001 - it outlives whatever the store does
                    _log.exception("inbox not read", channel=self._channel)
                    await self._rest(pause_s)
                    pause_s = min(2 * pause_s, LONGEST_PAUSE_S)
                    continue
                if self._finishing and not self._news.is_set() and self._waiting.is_empty():
                    break
                await _wait(self._news, SWEEP_S)
        finally:
            # What is in hand is finished; a run that was cancelled leaves it for the next start.
            self._end()
            await asyncio.gather(strangers, *self._known, return_exceptions=True)

    async def drain(self) -> bool:
        """Work through all that waits; False if something has to be tried again."""
        all_well = True
        while all_well and not self._halt.is_set():
            async with self._store.read() as unit:
                rows = await unit.inbox.waiting(self._channel, BATCH)
            if not rows:
                break
            by_chat = groupby(sorted(rows, key=lambda row: row.chat), key=lambda row: row.chat)
            went_well = await asyncio.gather(*(self._in_turn(tuple(rows)) for _, rows in by_chat))
            all_well = all(went_well)
        return all_well

    async def _in_turn(self, rows: tuple[InboxRow, ...]) -> bool:
        for row in rows:
            if self._halt.is_set():
                return True
            async with self._slots.one():
                if await self._work_on(row) is Went.NOT_YET:
                    return False
        return True

    # ------------------------------------------------------------ lanes

    async def _take_up(self) -> None:
        """Give every chat with something new a lane of its own, or its place among strangers."""
        if monotonic() - self._swept_at >= SWEEP_S:
            # Another process may have stored a row with a lower number in the meantime.
            self._swept_at = monotonic()
            self._waiting.from_the_start()
        heads = None
        while heads is None or len(heads) == PAGE:
            async with self._store.read() as unit:
                heads = await unit.inbox.heads(self._channel, self._waiting.newest, PAGE)
                self._unsorted += self._waiting.add(heads)
                known = frozenset[str]()
                if self._unsorted:
                    known = await unit.people.belonging(self._channel, self._unsorted)
            chats, self._unsorted = self._unsorted, []
            for chat in chats:
                if chat in known:
                    task = asyncio.create_task(self._work_in_lane(chat), name="lane of a chat")
                    self._known.add(task)
                    task.add_done_callback(self._known.discard)
                else:
                    self._strangers.append(chat)
                    self._stranger_came.set()

    async def _work_in_lane(self, chat: str) -> None:
        """One known chat's rows in order, each when a slot is free."""
        pause_s = FIRST_PAUSE_S
        while not self._halt.is_set() and (key := self._waiting.first(chat)) is not None:
            async with self._slots.one():
                went = await self._work_on_key(key)
            if went is not Went.NOT_YET:
                self._waiting.drop_first(chat)
                pause_s = FIRST_PAUSE_S
            elif self._finishing:
                self._waiting.drop(chat)
            else:
                await self._rest(pause_s)
                pause_s = min(2 * pause_s, LONGEST_PAUSE_S)
        self._waiting.leave(chat)
        self._known_at = monotonic()
        self._news.set()

    async def _work_for_strangers(self) -> None:
        """One row at a time, each stranger in turn, and never more than their share."""
        while not self._halt.is_set():
            if not self._strangers:
                self._stranger_came.clear()
                await self._stranger_came.wait()
                continue
            chat, began = self._strangers.popleft(), monotonic()
            key = self._waiting.first(chat)
            went = Went.WITHOUT_A_WORD if key is None else await self._work_on_key(key)
            took_s = monotonic() - began
            if went is not Went.NOT_YET or self._finishing:
                self._waiting.drop_first(chat)
            if self._waiting.first(chat) is None:
                self._waiting.leave(chat)
            else:
                self._unsorted.append(chat)  # by now they may be known
            self._news.set()
            await self._rest(self._rest_of_strangers(went, took_s))

    def _rest_of_strangers(self, went: Went, took_s: float) -> float:
        """Seconds until their next row, after one that took so long."""
        if went is Went.NOT_YET:
            return FIRST_PAUSE_S
        about = bool(self._known) or monotonic() - self._known_at < ABOUT_S
        share_s = STRANGER_MEANWHILE_S if about else STRANGER_S
        rest_s = REST_OF_STRANGERS * took_s if about else 0.0
        return max(rest_s, share_s - took_s if went is Went.ANSWERED else 0.0)

    async def _rest(self, seconds: float) -> None:
        await _wait(self._halt, 0.0 if self._finishing else seconds)

    # ------------------------------------------------------------ one row

    async def _work_on_key(self, key: str) -> Went:
        try:
            async with self._store.read() as unit:
                row = await unit.inbox.get(self._channel, key)
            return Went.WITHOUT_A_WORD if row is None else await self._work_on(row)
        except asyncio.CancelledError:
            task = asyncio.current_task()
            if task is None or task.cancelling():
                raise
            _log.error("the work on a row was given up", channel=self._channel, key=key)
        except Exception as error:  # noqa: BLE001 - the lane outlives whatever a row does to it
            _log.warning("to be tried again", channel=self._channel, key=key, why=place_of(error))
        return Went.NOT_YET

    async def _work_on(self, row: InboxRow) -> Went:
        """Raises a fault of the store where not even its failing can be kept."""
        log = _log.bind(channel=self._channel, key=row.key)
        try:
            incoming = self._translate(row, json.loads(row.body))
        except Exception as error:  # noqa: BLE001 - whatever it stumbles over, others must pass
            log.warning("not readable", why=place_of(error))
            nameless = await self._nameless(row)
            await self._went_unheard(row, nameless, str(error))
            return Went.WITHOUT_A_WORD if nameless is None else Went.ANSWERED
        try:
            if incoming is not None:
                async with self._attend(incoming):
                    await self._receiver.receive(incoming)
            await self._done(row)
        except Exception as error:  # noqa: BLE001 - whose fault it is is looked at
            self._tell_failed(row, error)
            if of_the_store(error):
                log.warning("to be tried again", why=place_of(error))
                return Went.NOT_YET
            log.error("set aside", why=place_of(error))
            await self._went_unheard(row, incoming, repr(error))
        return Went.WITHOUT_A_WORD if incoming is None else Went.ANSWERED

    async def _nameless(self, row: InboxRow) -> Incoming | None:
        """Of a row that cannot be read all that is known, to answer it; None where it is nobody's
        here: what shape a stranger's or a group's rows have is not ours to say."""
        async with self._store.read() as unit:
            known = await unit.people.belonging(self._channel, [row.chat])
        return Incoming(row.channel, row.key, row.chat, row.received_at) if known else None

    async def _went_unheard(self, row: InboxRow, incoming: Incoming | None, why: str) -> None:
        """Tell whoever wrote it, and keep it out of the way of what they write next."""
        try:
            if incoming is not None:
                await self._receiver.went_unheard(incoming, why)
        except Exception as error:
            if of_the_store(error):
                raise
            _log.error("not told either", key=row.key, why=place_of(error))
        await self._set_aside(row, why)

    async def _done(self, row: InboxRow) -> None:
        """No effect where the receiver has marked it, as it should in its own unit of work."""
        async with self._store.write() as unit:
            await unit.inbox.done(self._channel, row.key)
            await unit.commit()

    async def _set_aside(self, row: InboxRow, why: str) -> None:
        """No effect on a row that waits no more."""
        async with self._store.write() as unit:
            await unit.inbox.failed(self._channel, row.key, why, set_aside=True)
            await unit.commit()


async def _wait(event: asyncio.Event, at_most_s: float) -> None:
    try:
        await asyncio.wait_for(event.wait(), at_most_s)
    except TimeoutError:
        return
