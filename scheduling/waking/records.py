"""Records of ovens, read from their journals and kept as long as there is room.

What the engine asks of a record (``scheduling.record`` provides it):

    record.applied(entry)      the record after one more journal entry
    record.believing(belief)   the same with the ensemble that was kept (or None)
    record.zone                the oven's own time zone, an IANA name
    record.promised            the days that the owner was told
    record.card(card, now)     the stored card, with state, needs, name and place brought up to date

and of the book that it is kept in: an empty record for a card, the pure ``advance``, and how an
ensemble is packed into bytes.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Generic, Protocol, Self, TypeVar

from scheduling.happening import Happening
from scheduling.journal import Entry
from scheduling.outcome import Outcome
from scheduling.oven.belief import Belief
from scheduling.ports import OpenedOven, OvenCard, PromisedDay, UnitOfWork

KEPT_RECORDS = 256


class Record(Protocol):
    """An oven's journal, folded."""

    @property
    def zone(self) -> str:
        """The oven's own time zone, an IANA name."""
        ...

    @property
    def promised(self) -> Sequence[PromisedDay]:
        """The days that the owner was told."""
        ...

    def applied(self, entry: Entry) -> Self:
        """The record after one more entry."""
        ...

    def believing(self, belief: Belief | None) -> Self:
        """The record with an ensemble that was kept."""
        ...

    def card(self, card: OvenCard, now: datetime) -> OvenCard:
        """The stored card brought up to date."""
        ...


R = TypeVar("R", bound=Record)


class Book(Protocol[R]):
    """How records begin and go on."""

    def empty(self, card: OvenCard) -> R:
        """The record of an oven with an empty journal."""
        ...

    def advance(self, record: R, happening: Happening, now: datetime) -> Outcome:
        """Pure: what follows from ``happening``."""
        ...

    def pack(self, belief: Belief) -> bytes:
        """Whatever ``unpack`` reads."""
        ...

    def unpack(self, packed: bytes) -> Belief | None:
        """The ensemble, or None when these bytes are of an older shape."""
        ...


@dataclass(frozen=True, slots=True)
class Read(Generic[R]):
    """A record as of entry ``seq``."""

    seq: int
    record: R

    def after(self, entries: Sequence[Entry]) -> "Read[R]":
        """The record behind these entries too."""
        record = self.record
        for entry in entries:
            record = record.applied(entry)
        return Read(self.seq + len(entries), record)


class Records(Generic[R]):
    """Reads records, and remembers the last KEPT_RECORDS of them."""

    def __init__(self, book: Book[R]) -> None:
        self._book = book
        self._kept: dict[str, Read[R]] = {}

    async def read(self, unit: UnitOfWork, oven_ids: Sequence[str]) -> Mapping[str, Read[R]]:
        """The records, as they stand, of those of these ovens that there are."""
        known = {one: self._kept[one].seq if one in self._kept else 0 for one in oven_ids}
        found = {}
        for oven_id, opened in (await unit.ovens.open(known)).items():
            read = self._kept.get(oven_id)
            found[oven_id] = self._folded(opened) if read is None else read.after(opened.newer)
            self.keep(oven_id, found[oven_id])
        return found

    def keep(self, oven_id: str, read: Read[R]) -> None:
        """Remember it in place of an older one."""
        self._kept.pop(oven_id, None)
        self._kept[oven_id] = read
        while len(self._kept) > KEPT_RECORDS:
            self._kept.pop(next(iter(self._kept)))

    def forget(self, oven_id: str) -> None:
        """Read it anew next time."""
        self._kept.pop(oven_id, None)

    def _folded(self, opened: OpenedOven) -> Read[R]:
        seq, packed = opened.belief or (0, b"")
        read = Read(0, self._book.empty(opened.card)).after(opened.newer[:seq])
        if packed and read.seq == seq:
            read = Read(seq, read.record.believing(self._book.unpack(packed)))
        return read.after(opened.newer[read.seq :])
