"""How often somebody may ask: so many at once, and so many an hour after that."""

import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass

Monotonic = Callable[[], float]

MOST_KEYS = 4096
"""Askers that are remembered; the one longest silent is forgotten, and begins anew."""


@dataclass(slots=True)
class _Left:
    count: float
    at_s: float


class Allowance:
    """A token bucket for each key: ``at_once`` tokens, refilled at ``an_hour``.

    By a clock that does not jump. Nothing waits: who has none left is refused.
    """

    def __init__(self, at_once: int, an_hour: float, monotonic: Monotonic = time.monotonic) -> None:
        self._at_once = float(at_once)
        self._per_s = an_hour / 3600.0
        self._monotonic = monotonic
        self._left: OrderedDict[str, _Left] = OrderedDict()

    def take(self, key: str) -> bool:
        """Whether this key may ask now; it counts as having asked."""
        left = self._refilled(key)
        if left.count < 1.0:
            return False
        left.count -= 1.0
        return True

    def has(self, key: str) -> bool:
        """Whether it might, without counting."""
        return self._refilled(key).count >= 1.0

    def wait_s(self, key: str) -> int:
        """Seconds until it may ask again, at least one."""
        missing = 1.0 - self._refilled(key).count
        return max(1, int(missing / self._per_s) + 1)

    def _refilled(self, key: str) -> _Left:
        now_s = self._monotonic()
        left = self._left.pop(key, None) or _Left(self._at_once, now_s)
        left.count = min(self._at_once, left.count + (now_s - left.at_s) * self._per_s)
        left.at_s = now_s
        self._left[key] = left
        if len(self._left) > MOST_KEYS:
            self._left.popitem(last=False)
        return left
