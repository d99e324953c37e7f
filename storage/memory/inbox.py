"""The inbox in memory."""

from dataclasses import replace

from scheduling.ports import InboxRow, InboxState
from storage.memory.tables import Kept, Room


class MemoryInbox(Room):
    """``Inbox`` in memory."""

    async def store(self, row: InboxRow) -> bool:
        """True if new; False if the key was stored before (nothing changes)."""
        if (row.channel, row.key) in self._t.inbox:
            return False
        self._t.inbox[row.channel, row.key] = Kept(row)
        return True

    async def waiting(self, channel: str, limit: int = 100) -> tuple[InboxRow, ...]:
        """In order of arrival."""
        rows = [
            kept.row
            for kept in self._t.inbox.values()
            if kept.row.channel == channel and kept.state is InboxState.WAITING
        ]
        return tuple(rows[:limit])

    async def done(self, channel: str, key: str) -> bool:
        """Mark done in this unit; False if it was done already: then do nothing more."""
        kept = self._t.inbox.get((channel, key))
        if kept is None or kept.state is not InboxState.WAITING:
            return False
        self._t.inbox[channel, key] = replace(kept, state=InboxState.DONE)
        return True

    async def failed(self, channel: str, key: str, why: str, set_aside: bool) -> None:
        """Count an attempt; a row set aside waits no more. One that is done stays done."""
        kept = self._t.inbox.get((channel, key))
        if kept is None or kept.state is not InboxState.WAITING:
            return
        row = replace(kept.row, attempts=kept.row.attempts + 1)
        state = InboxState.SET_ASIDE if set_aside else InboxState.WAITING
        self._t.inbox[channel, key] = Kept(row, state, why)
