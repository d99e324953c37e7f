"""What was computed from a journal, kept by what it was computed from.

A plan takes a second or two, and is asked for again and again while nothing that it stands on
has changed. The key is the very entries, so that what is found here is what would be computed;
every record of an oven shares one store.
"""

from collections.abc import Callable, Hashable
from typing import TypeVar, cast

T = TypeVar("T")

KEPT = 12
"""Plans of one oven that are kept, the newest."""


class Worked:
    """Results by their key, the newest ``kept`` of them."""

    def __init__(self, kept: int = KEPT) -> None:
        self._kept = kept
        self._results: dict[Hashable, object] = {}

    def get(self, key: Hashable, compute: Callable[[], T]) -> T:
        """The result under ``key``, computed unless it is kept. One key has one type of result."""
        if key not in self._results:
            self._results[key] = compute()
            while len(self._results) > self._kept:
                self._results.pop(next(iter(self._results)))
        return cast(T, self._results[key])
