"""The words of every hazard, read once from ``book/hazards/``; missing ones fail the import.

A file a hazard, in the form of the other shelves. ``said``: phrases that tell of it. ``other``:
what only sounds like it. ``over``: that it is over. ``closing``: words that name it when somebody
says that they have looked. ``examples`` and ``harmless``: messages that tell of it and that do
not, which the tests hold.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from bot.understanding.patterns import Pattern, pattern
from bot.understanding.phrasebook import spelt_out
from bot.understanding.shelf import joined_lines, shelf
from scheduling.hazard import TOLD, Hazard

LEAST_EXAMPLES = 2


@dataclass(frozen=True, slots=True)
class HazardWords:
    """How people tell of one hazard."""

    said: tuple[Pattern, ...]
    other: tuple[Pattern, ...]
    over: tuple[Pattern, ...]
    closing: frozenset[str]
    examples: tuple[str, ...]
    harmless: tuple[str, ...]


def words_in(hazard: Hazard, sections: Mapping[str, tuple[str, ...]]) -> HazardWords:
    """The words of a hazard, from the sections of its file.

    Raises:
        ValueError: without words that name it, or without messages for the tests to hold.
    """
    examples = sections.get("examples", ())
    if len(examples) < LEAST_EXAMPLES or not sections.get("closing"):
        raise ValueError(f"book/hazards/{hazard.value}.txt lacks examples or closing words")
    said, other, over = (
        tuple(pattern(spelt_out(line)) for line in joined_lines(sections.get(name, ())))
        for name in ("said", "other", "over")
    )
    return HazardWords(
        said=said,
        other=other,
        over=over,
        closing=frozenset(sections["closing"]),
        examples=examples,
        harmless=sections.get("harmless", ()),
    )


WORDS: dict[Hazard, HazardWords] = {
    hazard: words_in(hazard, shelf(f"hazards/{hazard.value}")) for hazard in TOLD
}
"""Words of every hazard that people tell of, the gravest first."""
