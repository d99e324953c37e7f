"""The inbox in memory."""

from collections.abc import Sequence
from dataclasses import replace

from scheduling.ports import InboxHead, InboxRow, InboxState, SetAside
from storage.blotting import blotted_text
from storage.memory.tables import Kept, Room


class MemoryInbox(Room):
    """``Inbox`` in memory."""

    async def store(self, row: InboxRow) -> bool:
        """True if new; False if the key was stored before (nothing changes)."""
        if (row.channel, row.key) in self._t.inbox:
            return False
        newest = next(reversed(self._t.inbox.values()), None)
        self._t.inbox[row.channel, row.key] = Kept(row, 1 if newest is None else newest.seq + 1)
        return True

    async def waiting(self, channel: str, limit: int = 100) -> tuple[InboxRow, ...]:
        """In order of arrival."""
        return tuple(kept.row for kept in self._waiting(channel)[:limit])

    async def heads(self, channel: str, after: int = 0, limit: int = 1000) -> tuple[InboxHead, ...]:
        """Of rows that wait and came after number ``after``, in order of arrival."""
        waiting = [kept for kept in self._waiting(channel) if kept.seq > after]
        return tuple(InboxHead(one.seq, one.row.key, one.row.chat) for one in waiting[:limit])

    async def get(self, channel: str, key: str) -> InboxRow | None:
        """The row, if it still waits."""
        kept = self._t.inbox.get((channel, key))
        return kept.row if kept is not None and kept.state is InboxState.WAITING else None

    async def set_aside(self, limit: int = 100) -> tuple[SetAside, ...]:
        """What could not be worked on, over any channel, the newest first."""
        aside = [one for one in self._t.inbox.values() if one.state is InboxState.SET_ASIDE]
        return tuple(SetAside(one.row, one.why) for one in aside[::-1][:limit])

    async def count_set_aside(self) -> int:
        """How many rows those are."""
        return sum(one.state is InboxState.SET_ASIDE for one in self._t.inbox.values())

    async def done(self, channel: str, key: str) -> bool:
        """Mark done in this unit; False if it was done already: then do nothing more."""
        kept = self._t.inbox.get((channel, key))
        if kept is None or kept.state is not InboxState.WAITING:
            return False
        self._t.inbox[channel, key] = replace(kept, state=InboxState.DONE)
        return True

    async def forget(self, channel: str, chat: str) -> None:
        """Delete all rows of a chat but those that still wait."""
        for key, kept in list(self._t.inbox.items()):
            waits = kept.state is InboxState.WAITING
            if (kept.row.channel, kept.row.chat) == (channel, chat) and not waits:
                del self._t.inbox[key]

    async def blot(self, words: Sequence[str]) -> None:
        """Take words that name somebody out of all rows that wait no more."""
        for key, kept in list(self._t.inbox.items()):
            if kept.state is not InboxState.WAITING:
                row = replace(kept.row, body=blotted_text(kept.row.body, words))
                self._t.inbox[key] = replace(kept, row=row, why=blotted_text(kept.why, words))

    async def failed(self, channel: str, key: str, why: str, set_aside: bool) -> bool:
        """Count an attempt; a row set aside waits no more. False for one that waited no more:
        what is done stays done."""
        kept = self._t.inbox.get((channel, key))
        if kept is None or kept.state is not InboxState.WAITING:
            return False
        row = replace(kept.row, attempts=kept.row.attempts + 1)
        state = InboxState.SET_ASIDE if set_aside else InboxState.WAITING
        self._t.inbox[channel, key] = replace(kept, row=row, state=state, why=why)
        return True

    def _waiting(self, channel: str) -> list[Kept]:
        return [
            kept
            for kept in self._t.inbox.values()
            if kept.row.channel == channel and kept.state is InboxState.WAITING
        ]
