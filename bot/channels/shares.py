"""How much of our time strangers get, and a chat that writes faster than it can be answered."""

from collections.abc import Callable
from time import monotonic

ABOUT_S = 5.0
"""Somebody known is about for so long after their last row (own choice, as all here)."""

STRANGER_S, STRANGER_MEANWHILE_S = 0.1, 0.4
"""Of those who belong to nobody one row is worked on at a time, and one in this time at most is
answered: a third of what a bot may send (core.telegram.org/bots/faq, about 30 a second), and less
while somebody known is about."""

REST_OF_STRANGERS = 4.0
"""While somebody known is about strangers' lane rests so many times as long as it worked."""

BURST = 5
"""More rows than these wait in no chat in which somebody types."""

REST_OF_A_FLOOD = 2.0
"""A known chat in which more wait rests so many times as long as it worked, while another is
about."""


class Shares:
    """``worked`` is told of every row of a known chat; the rests are in seconds."""

    def __init__(self, now: Callable[[], float] = monotonic) -> None:
        self._now = now
        self._last: dict[str, float] = {}
        """When the last two known chats were worked on: enough to know of another one."""

    def worked(self, chat: str) -> None:
        """A row of this known chat was worked on just now."""
        self._last.pop(chat, None)
        self._last[chat] = self._now()
        if len(self._last) > 2:
            self._last.pop(next(iter(self._last)))

    def stranger(self, took_s: float, *, answered: bool) -> float:
        """Until strangers' next row, after one that took so long."""
        about = self._is_about(besides=None)
        share_s = STRANGER_MEANWHILE_S if about else STRANGER_S
        rest_s = REST_OF_STRANGERS * took_s if about else 0.0
        return max(rest_s, share_s - took_s if answered else 0.0)

    def known(self, chat: str, waiting: int, took_s: float) -> float:
        """Until the next row of this known chat, in which so many still wait."""
        flood = waiting > BURST and self._is_about(besides=chat)
        return REST_OF_A_FLOOD * took_s if flood else 0.0

    def _is_about(self, besides: str | None) -> bool:
        now = self._now()
        return any(now - at < ABOUT_S for chat, at in self._last.items() if chat != besides)
