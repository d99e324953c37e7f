"""Which chats have something waiting, and how many of them are worked on at once."""

import asyncio
from collections import deque
from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager

from scheduling.ports import InboxHead

STUCK_S = 5.0
"""Work that lasts longer gives its slot away: it must not keep others from starting."""


class WaitingChats:
    """Keys of waiting rows by chat, in order of arrival. A chat that has been handed out stays
    with whoever works on it until they ``leave`` it."""

    def __init__(self) -> None:
        self.newest = 0
        """The number of the last row that was read."""
        self._keys: dict[str, deque[str]] = {}
        self._held: set[str] = set()

    def from_the_start(self) -> None:
        """Read all that waits again; what is known already is not taken twice."""
        self.newest = 0

    def add(self, heads: Iterable[InboxHead]) -> list[str]:
        """Take rows in; the chats that had nothing before, in order of arrival."""
        new: list[str] = []
        for head in heads:
            self.newest = max(self.newest, head.seq)
            if head.key in self._held:
                continue
            self._held.add(head.key)
            if head.chat not in self._keys:
                self._keys[head.chat] = deque()
                new.append(head.chat)
            self._keys[head.chat].append(head.key)
        return new

    def first(self, chat: str) -> str | None:
        """The row that is next in this chat."""
        keys = self._keys.get(chat)
        return keys[0] if keys else None

    def count(self, chat: str) -> int:
        """How many rows of this chat wait."""
        return len(self._keys.get(chat, ()))

    def drop_first(self, chat: str) -> None:
        """It is done."""
        if keys := self._keys.get(chat):
            self._held.discard(keys.popleft())

    def drop(self, chat: str) -> None:
        """All of its rows are left for another time."""
        self._held.difference_update(self._keys.get(chat, ()))
        self._keys.get(chat, deque()).clear()

    def leave(self, chat: str) -> None:
        """Nobody works on this chat any more."""
        self._held.difference_update(self._keys.pop(chat, ()))

    def is_empty(self) -> bool:
        """Nothing waits, and nothing is worked on."""
        return not self._keys


class Slots:
    """So many at once, whoever came first."""

    def __init__(self, count: int, stuck_s: float = STUCK_S) -> None:
        self._free = asyncio.Semaphore(count)
        self._stuck_s = stuck_s

    def are_taken(self) -> bool:
        """Whether whoever comes now has to wait."""
        return self._free.locked()

    @asynccontextmanager
    async def one(self) -> AsyncIterator[None]:
        """A slot while the block lasts, but no longer than is fair to those who wait."""
        await self._free.acquire()
        held = True

        def give_back() -> None:
            nonlocal held
            if held:
                self._free.release()
            held = False

        stuck = asyncio.get_running_loop().call_later(self._stuck_s, give_back)
        try:
            yield
        finally:
            stuck.cancel()
            give_back()
