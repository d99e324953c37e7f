"""What a rehearsal needs of a chat: the shape of ``bot.conversation.chat.Chat``.

Stated here as ports, so that a rehearsal can also be played against anything else that talks.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Protocol


class Heard(Protocol):
    """A message as its reader sees it: plain text, and rows of buttons."""

    @property
    def at(self) -> datetime:
        """When it was heard."""
        ...

    @property
    def to(self) -> str:
        """The person it was for."""
        ...

    @property
    def text(self) -> str:
        """Without markup."""
        ...

    @property
    def buttons(self) -> tuple[tuple[str, ...], ...]:
        """Rows of labels."""
        ...

    @property
    def attachments(self) -> tuple[str, ...]:
        """Names of files."""
        ...


class Chat(Protocol):
    """One conversation on a stepped clock.

    Each verb first lets time pass until ``at``, with every alarm at its own time, then acts,
    and returns all that anybody has heard since the last call.
    """

    async def say(self, person: str, text: str, at: datetime) -> Sequence[Heard]:
        """``person`` types ``text``."""
        ...

    async def press(self, person: str, label: str, at: datetime) -> Sequence[Heard]:
        """``person`` presses the newest button of that label. Raises LookupError if none."""
        ...

    async def location(
        self, person: str, latitude: float, longitude: float, at: datetime
    ) -> Sequence[Heard]:
        """``person`` shares a place."""
        ...

    async def pass_time(self, until: datetime) -> Sequence[Heard]:
        """Nobody says anything until ``until``."""
        ...

    def next_due(self) -> datetime | None:
        """When something will happen by itself; None for never."""
        ...
