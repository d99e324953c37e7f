"""The book that the engine keeps ovens in: records folded from journals, and the one road."""

import zlib
from datetime import datetime

from scheduling.advance import advance
from scheduling.happening import Happening
from scheduling.outcome import Outcome
from scheduling.oven.belief import Belief, BeliefError
from scheduling.ports import OvenCard
from scheduling.record import Record


class OvenBook:
    """``Book`` over real records."""

    def empty(self, card: OvenCard) -> Record:
        """The record of an oven with an empty journal."""
        return Record.empty(card)

    def advance(self, record: Record, happening: Happening, now: datetime) -> Outcome:
        """Pure: what follows from ``happening``."""
        return advance(record, happening, now)

    def pack(self, belief: Belief) -> bytes:
        """Compressed: an ensemble is mostly smooth profiles."""
        return zlib.compress(belief.to_bytes(), level=1)

    def unpack(self, packed: bytes) -> Belief | None:
        """The ensemble, or None when these bytes are of an older shape."""
        try:
            return Belief.from_bytes(zlib.decompress(packed))
        except (BeliefError, zlib.error):
            return None
