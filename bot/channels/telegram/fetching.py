"""Asking Telegram for updates: a batch is acknowledged only once all of it is stored."""

import asyncio
import json
import re
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from typing import Any

import httpx
import structlog

from bot.channels.telegram.intake import Intake, as_text, number_of, read
from bot.channels.telegram.translation import KINDS
from bot.logs import place_of

FIRST_PAUSE_S, LONGEST_PAUSE_S = 0.5, 30.0
"""After a call that failed, however politely, twice as long each time."""

BATCH = 100

_NUMBER = re.compile(rb'"update_id"\s*:\s*(\d{1,40})')

_log = structlog.get_logger(__name__)


class NotFetchedError(Exception):
    """No updates came; ``wait_s`` is how long Telegram wants us to wait, if it says so."""

    def __init__(self, why: str, wait_s: float = 0.0) -> None:
        super().__init__(why)
        self.wait_s = wait_s


class UnreadableError(NotFetchedError):
    """An answer came that cannot be read: ``payload``."""

    def __init__(self, payload: bytes) -> None:
        super().__init__("the answer cannot be read")
        self.payload = payload


@dataclass(frozen=True, slots=True)
class Line:
    """One call of getUpdates after another, over a connection of its own. ``url`` is the method's
    whole address (with the token: it is in no text of ours)."""

    client: httpx.AsyncClient
    url: str
    poll_s: float

    async def ask(self, offset: int | None, limit: int = BATCH, *, wait: bool = True) -> list[Any]:
        """The updates from ``offset`` on. Raises NotFetchedError."""
        told = {"timeout": int(self.poll_s) if wait else 0, "limit": limit}
        told |= {"offset": offset} if offset is not None else {}
        form = {**told, "allowed_updates": json.dumps(KINDS)}
        patience = httpx.Timeout(self.client.timeout)
        if wait:
            patience.read = (patience.read or 0.0) + self.poll_s
        try:
            answer = await self.client.post(self.url, data=form, timeout=patience)
        except httpx.HTTPError as error:
            # Its text may hold the URL.
            raise NotFetchedError(type(error).__name__) from None
        try:
            said = read(answer.content)
        except ValueError:
            if answer.status_code == httpx.codes.OK:
                raise UnreadableError(answer.content) from None
            said = None
        updates = said.get("result") if isinstance(said, dict) else None
        if answer.status_code == httpx.codes.OK and isinstance(updates, list):
            return updates
        raise NotFetchedError(f"answered {answer.status_code}", _wait_in(said))


class Polling:
    """Fetches until cancelled. ``answered`` is called after each answer that can be used: a line
    that is dead is known by its silence."""

    def __init__(
        self,
        line: Line,
        intake: Intake,
        answered: Callable[[], None],
        begin: Callable[[], Awaitable[object]],
    ) -> None:
        """``begin`` is done first, and again until it works: it lets polling begin at all."""
        self._line = line
        self._intake = intake
        self._answered = answered
        self._begin = begin
        self._offset: int | None = None
        self._limit = BATCH

    async def run(self) -> None:
        """Fetch and store; every failure is tried again, ever more slowly."""
        began, pause_s = False, FIRST_PAUSE_S
        while True:
            wait_s = 0.0
            try:
                if not began:
                    await self._begin()
                    began = True
                await self._fetch()
                pause_s = FIRST_PAUSE_S
                continue
            except NotFetchedError as error:
                wait_s = error.wait_s
                _log.warning("updates not fetched", why=str(error))
            except Exception as error:  # noqa: BLE001 - the line outlives whatever comes over it
                _log.error("updates not stored", why=place_of(error))
            await asyncio.sleep(max(pause_s, wait_s))
            pause_s = min(2 * pause_s, LONGEST_PAUSE_S)

    async def acknowledge(self) -> None:
        """Tell Telegram, before we go, what has been stored; else it comes once more."""
        if self._offset is None:
            return
        try:
            await self._line.ask(self._offset, 1, wait=False)
        except NotFetchedError as error:
            _log.info("not acknowledged", why=str(error))

    async def _fetch(self) -> None:
        try:
            updates = await self._line.ask(self._offset, self._limit)
        except UnreadableError as error:
            number = _NUMBER.search(error.payload)
            if self._limit > 1 or number is None:
                self._limit = 1  # one of them cannot be read: the next answer has it alone
                raise
            await self._intake.keep([as_text(error.payload)])
            self._offset, self._limit = int(number[1]) + 1, BATCH
            return
        self._answered()
        if not updates:
            return
        await self._intake.keep(updates)
        numbers = [n for one in updates if (n := number_of(one)) is not None]
        self._offset = max(numbers) + 1 if numbers else self._offset


def _wait_in(said: object) -> float:
    """How long a 429 wants us to wait, in seconds; 0.0 where nothing says so."""
    told = said.get("parameters") if isinstance(said, dict) else None
    wait = told.get("retry_after") if isinstance(told, dict) else None
    return float(wait) if isinstance(wait, int | float) and 0 < wait < 3600 else 0.0
