"""One numbering of fires: by the order in which they were lit, those that fell short among them.

A promise names the fires to come, so its first is the one after all that were over by then. Older
journals counted only the fires that did their work; they are read by the same rule.
"""

from collections.abc import Iterable

from scheduling.journal import Entry, FiringEnded, Promised


def promises_of(facts: Iterable[Entry]) -> tuple[Promised, ...]:
    """What the owner was told of days, in order, each firing by its number."""
    found: list[Promised] = []
    over = 0
    for entry in facts:
        if isinstance(entry, FiringEnded):
            over += 1
        elif isinstance(entry, Promised):
            found.append(_numbered_from(entry, over + 1))
    return tuple(found)


def _numbered_from(promised: Promised, first: int) -> Promised:
    if not promised.firings or promised.firings[0].number == first:
        return promised
    shift = first - promised.firings[0].number
    firings = tuple(
        one.model_copy(update={"number": one.number + shift}) for one in promised.firings
    )
    return promised.model_copy(update={"firings": firings})
