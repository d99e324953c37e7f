"""How an oven stands: its phase, and who it needs."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


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


class Need(StrEnum):
    """Why somebody should look at this oven, the most pressing first."""

    UNWELL = "unwell"
    POPPING = "popping"
    FLUE = "flue_flames"
    CRACK = "crack"
    LIT_EARLY = "lit_early"
    TOO_HOT = "too_hot"
    SILENT = "silent"  # a fire is lit and nobody answers
    UNDELIVERED = "undelivered"
    MORTAR = "mortar"  # hard frost in its first days
    INSTRUMENT = "instrument"  # ends below what the last firings need
    FORECAST = "forecast"  # against tomorrow's firing
    WAITING = "waiting_for_answer"
    SLIPPING = "slipping"


DANGERS = frozenset(
    {Need.UNWELL, Need.POPPING, Need.FLUE, Need.CRACK, Need.LIT_EARLY, Need.TOO_HOT, Need.SILENT}
)
"""Told to the builder at once; the rest waits for the digest."""


@dataclass(frozen=True, slots=True)
class Needed:
    """A need and since when."""

    what: Need
    since: datetime
