"""People with the bot in their hands: what they do becomes updates."""

import itertools
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

from tests.botapi import updates
from tests.botapi.shown import Shown


def this_moment() -> datetime:
    return datetime.now(UTC)


class People:
    """What people do in their chats, at the time that ``now`` tells."""

    def __init__(self, now: Callable[[], datetime]) -> None:
        self.now = now
        self.chats: set[int] = set()
        self.blocked: set[int] = set()
        self.files: dict[str, bytes] = {}
        self._message_ids = itertools.count(1)
        self._first_sent: dict[tuple[int, int], datetime] = {}

    async def hand_in(self, update: dict[str, Any]) -> dict[str, Any]:
        """Where updates go."""
        raise NotImplementedError

    async def say(self, chat: int, text: str, *, name: str = "Ana", **more: Any) -> int:
        """A person writes; returns the message id."""
        return await self._arrive(chat, {"text": text, **more}, name)

    async def press(self, shown: Shown, label: str, *, name: str = "Ana") -> None:
        """A person presses a button of a message that was shown to them."""
        data, query = shown.callback_data[label], f"q{next(self._message_ids)}"
        under = shown.chat, shown.message, shown.text
        await self.hand_in(updates.pressed(*under, data, query, name, self.now()))

    async def edit(self, chat: int, message: int, text: str, *, name: str = "Ana") -> None:
        """A person edits an earlier message."""
        first = self._first_sent.get((chat, message))
        await self.hand_in(updates.edited(chat, message, text, name, self.now(), first))

    async def send_photo(self, chat: int, file_id: str, caption: str = "") -> int:
        """A person sends a photo."""
        return await self._arrive(chat, updates.photo(file_id, caption), "Ana")

    async def send_file(self, chat: int, name: str, content: bytes) -> int:
        """A person sends a file, which can be fetched again by its id."""
        file_id = f"file-{name}"
        self.files[file_id] = content
        document = {
            "file_id": file_id,
            "file_unique_id": f"u-{name}",
            "file_name": name,
            "file_size": len(content),
        }
        return await self._arrive(chat, {"document": document}, "Ana")

    async def send_location(self, chat: int, latitude: float, longitude: float) -> int:
        """A person shares a place."""
        place = {"latitude": latitude, "longitude": longitude}
        return await self._arrive(chat, {"location": place}, "Ana")

    async def block(self, chat: int) -> None:
        """A person blocks the bot: sends to them are refused from now on."""
        self.blocked.add(chat)
        await self.hand_in(updates.membership(chat, "member", "kicked", self.now()))

    async def come_back(self, chat: int) -> None:
        """They unblock it."""
        self.blocked.discard(chat)
        await self.hand_in(updates.membership(chat, "kicked", "member", self.now()))

    async def _arrive(self, chat: int, content: dict[str, Any], name: str) -> int:
        self.chats.add(chat)
        number, at = next(self._message_ids), self.now()
        self._first_sent[chat, number] = at
        await self.hand_in(updates.message(chat, number, content, name, at))
        return number
