"""What came in."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Protocol


class InboxState(StrEnum):
    """Stored, then done or set aside after repeated failure (and reported)."""

    WAITING = "waiting"
    DONE = "done"
    SET_ASIDE = "set_aside"


@dataclass(frozen=True, slots=True)
class InboxRow:
    """Something that came in, as it came, before anything was made of it."""

    channel: str
    key: str
    """Unique within the channel (Telegram: the update_id)."""
    chat: str
    """Rows of one chat are worked through in order of arrival."""
    body: str
    """The channel's own JSON."""
    received_at: datetime
    attempts: int = 0


@dataclass(frozen=True, slots=True)
class InboxHead:
    """As much of a waiting row as its place in the order needs. ``seq`` grows with arrival."""

    seq: int
    key: str
    chat: str


@dataclass(frozen=True, slots=True)
class SetAside:
    """A row that could not be worked on, kept for whoever runs the bot."""

    row: InboxRow
    why: str


class Inbox(Protocol):
    """Every message is stored here before it is acted on."""

    async def store(self, row: InboxRow) -> bool:
        """True if new; False if the key was stored before (nothing changes)."""
        ...

    async def waiting(self, channel: str, limit: int = 100) -> tuple[InboxRow, ...]:
        """In order of arrival."""
        ...

    async def heads(self, channel: str, after: int = 0, limit: int = 1000) -> tuple[InboxHead, ...]:
        """Of rows that wait and came after number ``after``, in order of arrival."""
        ...

    async def get(self, channel: str, key: str) -> InboxRow | None:
        """The row, if it still waits."""
        ...

    async def set_aside(self, limit: int = 100) -> tuple[SetAside, ...]:
        """What could not be worked on, over any channel, the newest first."""
        ...

    async def count_set_aside(self) -> int:
        """How many rows those are."""
        ...

    async def done(self, channel: str, key: str) -> bool:
        """Mark done in this unit; False if it was done already: then do nothing more."""
        ...

    async def forget(self, channel: str, chat: str) -> None:
        """Delete all rows of a chat but those that still wait."""
        ...

    async def blot(self, words: Sequence[str]) -> None:
        """Take words that name somebody out of all rows that wait no more."""
        ...

    async def failed(self, channel: str, key: str, why: str, set_aside: bool) -> bool:
        """Count an attempt; a row set aside waits no more. False for one that waited no more:
        what is done stays done."""
        ...
