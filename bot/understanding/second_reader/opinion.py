"""What the second reader thinks of one message: likelihoods, never a remark of its own."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Role(StrEnum):
    """What a number in a message is of."""

    TOP = "top"
    SIDE = "side"
    FLOOR = "floor"
    WOOD = "wood"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class NumberRole:
    """One number as the grammar's tokens have it, with its likeliest role.

    ``start`` and ``end`` are its place in the normalised message, the same as those of its token.
    """

    start: int
    end: int
    value: float
    role: Role
    probability: float


@dataclass(frozen=True, slots=True)
class Opinion:
    """All that was heard in one message; likelihoods from 0 to 1.

    ``hazards`` holds every hazard of the registry that people tell of, by its key; ``alarm`` is
    how likely the message tells of any danger at all, named in the registry or not; ``kinds``
    every kind of remark. ``heard`` and ``alarmed`` judge them by the levels that were set on
    writers who taught nothing.
    """

    hazards: Mapping[str, float]
    alarm: float
    kinds: Mapping[str, float]
    roles: tuple[NumberRole, ...]
    levels: "Levels"

    @property
    def heard(self) -> tuple[str, ...]:
        """The hazards that were heard, the likeliest first."""
        likely = [key for key, value in self.hazards.items() if value >= self.levels.heard_from]
        return tuple(sorted(likely, key=lambda key: -self.hazards[key]))

    @property
    def alarmed(self) -> bool:
        """Whether it tells of a danger, or of something that should be asked about."""
        return bool(self.heard) or self.alarm >= self.levels.alarm_from


@dataclass(frozen=True, slots=True)
class Levels:
    """From where on a likelihood counts. They belong to one model and are kept with it."""

    heard_from: float
    alarm_from: float
