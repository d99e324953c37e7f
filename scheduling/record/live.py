"""Which entries of a journal count: all but the undone, and orders but those taken back."""

from collections.abc import Sequence
from dataclasses import dataclass

from scheduling.journal import Entry, Order, TakenBack, Undone


@dataclass(frozen=True, slots=True)
class Numbered:
    """An entry with its number in the journal, from 1."""

    seq: int
    entry: Entry


def live(entries: Sequence[Entry]) -> tuple[Numbered, ...]:
    """The entries that count, in the journal's order."""
    gone: set[int] = set()
    for seq, entry in enumerate(entries, 1):
        if isinstance(entry, Undone) and seq not in gone:
            gone.update(entry.seqs)
    for seq, entry in enumerate(entries, 1):
        if isinstance(entry, TakenBack) and seq not in gone and _is_order(entries, entry.seq):
            gone.add(entry.seq)
    return tuple(
        Numbered(seq, entry)
        for seq, entry in enumerate(entries, 1)
        if seq not in gone and not isinstance(entry, Undone)
    )


def _is_order(entries: Sequence[Entry], seq: int) -> bool:
    return 1 <= seq <= len(entries) and isinstance(entries[seq - 1], Order)
