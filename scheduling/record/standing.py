"""How an oven stands: its phase, and who it needs."""

from dataclasses import dataclass
from datetime import datetime
from enum import IntEnum, StrEnum

from scheduling.hazard import HAZARDS, Hazard
from scheduling.ports import RANKS_IN_GROUP


class Phase(StrEnum):
    """Where in its break-in an oven is."""

    SET_UP = "set_up"
    CURING = "curing"
    WAITING = "waiting"  # for the next firing's day
    FIRING_DAY = "firing_day"  # today, and nothing lit yet
    LIT = "lit"
    EMBERS = "embers"  # burning down, door to come
    HELD = "held"  # by the builder's order, or by a trouble nobody has closed
    DONE = "done"
    LEFT = "left"  # nobody tends it any more


class Concern(StrEnum):
    """Why somebody should look at this oven though nobody has told of a hazard, the most pressing
    first."""

    TOO_HOT = "too_hot"
    SILENT = "silent"  # a fire is lit and nobody answers
    INDOORS = "indoors"  # it stands where no fire is led
    UNDELIVERED = "undelivered"
    UNHEARD = "unheard"  # message after message could not be worked on
    MORTAR = "mortar"  # hard frost in its first days
    INSTRUMENT = "instrument"  # ends below what the last firings need
    FORECAST = "forecast"  # against tomorrow's firing
    WAITING = "waiting_for_answer"
    SLIPPING = "slipping"


WAITS_UNLIT: frozenset[Hazard] = frozenset(
    one.hazard for one in HAZARDS.values() if one.waits_unlit
)
"""Of the dangers those that can wait for the morning where no fire burns."""

Need = Hazard | Concern
"""Why somebody should look at an oven."""

NEEDS: tuple[Need, ...] = (*Hazard, *Concern)
"""All of them, the most pressing first."""

DANGERS: frozenset[Need] = frozenset(
    [
        *(one.hazard for one in HAZARDS.values() if one.at_once),
        Concern.TOO_HOT,
        Concern.SILENT,
    ]
)
"""Told to the builder at once; the rest waits for the digest."""

DANGERS_WHILE_LIT = frozenset({Concern.UNDELIVERED, Concern.UNHEARD})
"""Told at once while a fire burns: either way nobody is at its owner's elbow."""


def is_danger(need: Need, *, lit: bool) -> bool:
    """Whether somebody has to act now; ``lit`` while a fire burns."""
    return lit if need in DANGERS_WHILE_LIT or need in WAITS_UNLIT else need in DANGERS


def need(value: str) -> Need:
    """The need of that name. Raises StopIteration for none."""
    return next(one for one in NEEDS if one.value == value)


class Group(IntEnum):
    """Where in a builder's list an oven stands, the first first."""

    DANGER = 0
    LOOK = 1
    FIRING = 2
    PLANNED = 3
    CURING = 4
    SET_UP = 5
    DONE = 6


def rank_of(phase: Phase, need: Need | None) -> int:
    """An oven's place in a list: its group, and in it the most pressing need first."""
    if need is not None:
        lit = phase in (Phase.LIT, Phase.EMBERS)
        danger = is_danger(need, lit=lit)
        group = Group.DANGER if danger else Group.LOOK
        return group * RANKS_IN_GROUP + NEEDS.index(need)
    match phase:
        case Phase.LIT | Phase.EMBERS:
            return Group.FIRING * RANKS_IN_GROUP + (phase is Phase.EMBERS)
        case Phase.FIRING_DAY | Phase.WAITING | Phase.HELD:
            order = (Phase.FIRING_DAY, Phase.HELD, Phase.WAITING)
            return Group.PLANNED * RANKS_IN_GROUP + order.index(phase)
        case Phase.CURING:
            return Group.CURING * RANKS_IN_GROUP
        case Phase.SET_UP:
            return Group.SET_UP * RANKS_IN_GROUP
        case _:
            return Group.DONE * RANKS_IN_GROUP


@dataclass(frozen=True, slots=True)
class Needed:
    """A need and since when."""

    what: Need
    since: datetime
