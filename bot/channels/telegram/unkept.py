"""Tells whoever writes that nothing can be kept, past the outbox, which cannot be written either.

Once to each chat while it lasts: a word at every message would only bury the one that matters.
"""

import time
from collections.abc import Awaitable, Callable

import structlog

AGAIN_AFTER_S = 1800.0
MOST_CHATS = 10_000
"""Remembered; beyond these nobody is told, so that a flood of strangers fills nothing."""

_log = structlog.get_logger(__name__)


class Unkept:
    """``tell`` says it; what cannot be said is said at the next message."""

    def __init__(
        self,
        say: Callable[[str], Awaitable[None]],
        monotonic: Callable[[], float] = time.monotonic,
    ) -> None:
        self._say = say
        self._monotonic = monotonic
        self._told: dict[str, float] = {}

    async def tell(self, chat: str) -> None:
        """Somebody wrote from there, and it could not be kept or worked on."""
        now = self._monotonic()
        self._told = {who: at for who, at in self._told.items() if now - at < AGAIN_AFTER_S}
        if not chat or chat in self._told or len(self._told) >= MOST_CHATS:
            return
        self._told[chat] = now
        try:
            await self._say(chat)
        except Exception as error:  # noqa: BLE001 - the channel may be as broken as the disk
            self._told.pop(chat, None)
            _log.warning("could not say that nothing is kept", why=type(error).__name__)
