"""Keeping updates: each is stored before Telegram is told that it came.

Whatever arrives is stored as it is; what nobody can read is told apart by the worker, so that one
odd update never holds back the others of its batch.
"""

import asyncio
import hashlib
import json
from collections.abc import Callable, Sequence
from typing import Any

import structlog

from bot.channels.telegram.translation import CHANNEL, chat_of
from scheduling.clock import Clock
from scheduling.ports import InboxRow, Store

LONGEST_NUMBER = 40
"""Digits of a number that is read as one; nothing in an update is longer."""

_log = structlog.get_logger(__name__)


class Intake:
    """``keep`` returns when its updates are stored. Whoever comes while a unit is being written
    shares the next one: a commit costs as much for a hundred rows as for one."""

    def __init__(
        self,
        store: Store,
        clock: Clock,
        stored: Callable[[InboxRow], None],
        not_kept: Callable[[str], None] = lambda _: None,
    ) -> None:
        """``stored`` is told of each row that was new, ``not_kept`` of each chat whose update
        the store did not take."""
        self._store = store
        self._clock = clock
        self._stored = stored
        self._not_kept = not_kept
        self._next: list[InboxRow] = []
        self._turn = asyncio.Lock()

    async def keep(self, updates: Sequence[object]) -> None:
        """Store them. Raises what the store raises: then none of them counts as taken."""
        rows = [self._row(update) for update in updates]
        self._next += rows
        async with self._turn:
            ours = {id(row) for row in rows}
            if not any(id(row) in ours for row in self._next):
                return  # written with those who came before
            together, self._next = self._next, []
            try:
                new = await self._write(together)
            except BaseException:
                # Whoever shared this unit finds their own rows still to be written.
                self._next = [row for row in together if id(row) not in ours] + self._next
                for chat in {row.chat for row in rows}:
                    self._not_kept(chat)
                raise
        for row in new:
            self._stored(row)

    async def _write(self, rows: Sequence[InboxRow]) -> list[InboxRow]:
        async with self._store.write() as unit:
            new = await unit.inbox.store_each(rows)
            await unit.commit()
        return [row for row in rows if row.key in new]

    def _row(self, update: object) -> InboxRow:
        body = update if isinstance(update, str) else _document(update)
        number = number_of(update)
        if number is None:
            # Kept under a name that the same one has again.
            key = "odd-" + hashlib.sha256(body.encode("utf-8", "replace")).hexdigest()[:32]
        else:
            key = str(number)
        chat = chat_of(update) if isinstance(update, dict) else ""
        return InboxRow(CHANNEL, key, chat, body, self._clock.now())


def _document(update: object) -> str:
    try:
        return json.dumps(update)
    except RecursionError:
        return "nested too deeply"


def number_of(update: object) -> int | None:
    """The ``update_id``, or None where there is none that can be one."""
    number = update.get("update_id") if isinstance(update, dict) else None
    return number if isinstance(number, int) and not isinstance(number, bool) else None


def read(payload: bytes) -> Any:
    """What a JSON document says. Raises ValueError, also for one that is nested beyond reading."""
    try:
        return json.loads(payload, parse_int=_whole_number)
    except RecursionError as error:
        raise ValueError("nested too deeply") from error


def as_text(payload: bytes) -> str:
    """A document that cannot be read, in characters that every database takes."""
    return payload.decode("utf-8", "replace").replace("\x00", "\ufffd")


def _whole_number(digits: str) -> int | str:
    return int(digits) if len(digits) <= LONGEST_NUMBER else digits
