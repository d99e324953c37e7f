"""Which ovens and owners a trial has: every kind of owner meets every structure in turn."""

from collections.abc import Sequence
from dataclasses import dataclass

from tests.trials.unmet_ovens.habits import Kind
from tests.trials.unmet_ovens.structures import FOR_TUNING, KEPT_BACK, Structure

PATIENCE_D = 40


@dataclass(frozen=True, slots=True)
class Case:
    """Which oven and whose: all that a trial depends on."""

    seed: int
    number: int
    structure: Structure
    kind: Kind
    patience_d: int = PATIENCE_D
    """After so many days from the first word they give up."""


GROUPS = {"tuning": FOR_TUNING, "kept-back": KEPT_BACK, "all": tuple(Structure)}


def structures_named(words: str) -> tuple[Structure, ...]:
    """By letter (a,b), by name (zones,skin) or by group (tuning, kept-back, all)."""
    found: list[Structure] = []
    for word in words.split(","):
        if word in GROUPS:
            found += GROUPS[word]
        elif len(word) == 1 and word in "abcd":
            found.append(tuple(Structure)["abcd".index(word)])
        else:
            found.append(Structure(word))
    return tuple(dict.fromkeys(found))


def cases(
    seed: int,
    ovens: int,
    structures: Sequence[Structure],
    kinds: Sequence[Kind],
    patience_d: int = PATIENCE_D,
) -> list[Case]:
    """The first ``ovens`` of that seed."""
    return [
        Case(
            seed,
            number,
            structures[(number + number // len(kinds)) % len(structures)],
            kinds[number % len(kinds)],
            patience_d,
        )
        for number in range(ovens)
    ]
