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
class Levels:
    """From where on a likelihood counts; they belong to one trained file and are kept with it.

    They were set on writers who taught it nothing. ``heard_from`` and ``alarm_from`` are of the
    alarm: danger or none is told more surely than which. ``also_from`` is of a hazard beside the
    likeliest.
    """

    heard_from: float
    alarm_from: float
    also_from: float


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
    levels: Levels

    @property
    def likeliest(self) -> tuple[Hazard, ...]:
        """All hazards, the likeliest first: the order in which to offer them."""
        return tuple(sorted(self.hazards, key=lambda one: -self.hazards[one]))

    @property
    def heard(self) -> tuple[Hazard, ...]:
        """The hazards that were heard, the likeliest first; none where danger itself is unsure."""
        if self.alarm < self.levels.heard_from:
            return ()
        first, *others = self.likeliest
        also = [one for one in others if self.hazards[one] >= self.levels.also_from]
        return (first, *also)

    @property
    def alarmed(self) -> bool:
        """Whether it tells of a danger, or of something that should be asked about."""
        return self.alarm >= self.levels.alarm_from
