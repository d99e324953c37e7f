"""What could not be kept lately, remembered past its unit of work."""

import time
from collections.abc import Callable

from storage.faults import Busy, StorageFault, of_the_store

LATELY_S = 20.0
"""So long a fault is told, though something smaller may have found room since."""


class Failing:
    """The newest fault of the store, for as long as it counts."""

    def __init__(self, monotonic: Callable[[], float] = time.monotonic) -> None:
        self._monotonic = monotonic
        self._last: tuple[float, StorageFault] | None = None

    def note(self, fault: Exception) -> None:
        """Something could not be kept. A row that its table refuses is no fault of the store, and
        to wait for somebody else's writing is none yet."""
        if isinstance(fault, StorageFault) and of_the_store(fault) and not isinstance(fault, Busy):
            self._last = (self._monotonic(), fault)

    def lately(self) -> StorageFault | None:
        """The fault, if it was a moment ago."""
        if self._last is None or self._monotonic() - self._last[0] > LATELY_S:
            return None
        return self._last[1]
