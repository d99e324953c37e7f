"""What the second reader thinks of one message: likelihoods, never a remark of its own."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from scheduling.hazard import Hazard


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

    ``hazards`` holds every hazard that people tell of; ``alarm`` is how likely the message tells of
    any danger at all, known to the registry or not; ``kinds`` every kind of remark.
    """

    hazards: Mapping[Hazard, float]
    alarm: float
    kinds: Mapping[str, float]
    roles: tuple[NumberRole, ...]
