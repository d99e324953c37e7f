"""What a firing is to reach, how it is laid, and the one thing to do now."""

from enum import StrEnum
from typing import Self

from pydantic import BaseModel, ConfigDict

from scheduling.firing.wood import piece_mm_for, pieces_of

BAND_BELOW_K, BAND_ABOVE_K = 30.0, 20.0
"""A wood fire that is stoked every half hour swings by so much (own choice)."""


class Action(StrEnum):
    """The one thing to do now."""

    WAIT = "wait"
    ADD = "add"
    ADD_NOTHING = "add_nothing"
    SPREAD = "spread"  # rake the fire apart
    LET_FALL = "let_fall"  # add nothing until it has fallen into the band
    READ_AGAIN = "read_again"
    LOOK_FOR_SOOT = "look_for_soot"  # is it gone?
    HOLD_DONE = "hold_done"  # long enough: let it burn down
    SHUT_DOOR = "shut_door"
    STOP = "stop"  # let the fire die, and call


class Laying(StrEnum):
    """Two ways of laying a fire."""

    SMALL_AT_MOUTH = "small_at_mouth"  # a few thin sticks just inside the mouth, for a wet dome
    TOP_LIT = "top_lit"  # a criss-cross stack in the middle, lit from above


class Aim(BaseModel):
    """A firing to come, as it was computed.

    ``low_c`` and ``high_c`` bound the band around the plateau. ``charge_kg`` is one stoking,
    in ``charge_pieces`` of ``piece_mm`` thickness; ``wood_kg`` all of it with the first laying
    (``lay_kg``), and ``wood_range_kg`` what it may come to. ``limited_by`` says which limit
    bound: ``steam``, ``step``, ``climb``, ``session``, ``instrument``, ``builder``, ``soot``,
    ``rule`` (the rule of thumb is the gentler one here) or ``aim``. ``left`` is the number of
    firings left, this one among them.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    number: int
    plateau_c: float
    low_c: float
    high_c: float
    climb_c_per_h: float
    hold_h: float
    session_h: float
    stoke_minutes: float
    wood_kg: float
    wood_range_kg: tuple[float, float] | None = None
    lay_kg: float
    charge_kg: float
    charge_pieces: int
    piece_mm: float
    laying: Laying
    limited_by: str
    last: bool = False
    left: int = 1
    morning_c: float | None = None
    water_left_l: float | None = None
    warm_up: bool = False
    """A short fire after a long idle time, and no step of its own."""

    def under(self, most_c: float | None) -> Self:
        """The same with its plateau at ``most_c`` at the highest (°C; None for no bound), and its
        wood in proportion. What was laid stays: it may be burning."""
        if most_c is None or most_c >= self.plateau_c:
            return self
        share = max(0.0, most_c) / self.plateau_c
        piece_mm = min(self.piece_mm, piece_mm_for(most_c))
        charge_kg = self.charge_kg * share
        lowered = {
            "plateau_c": round(most_c, 1),
            "low_c": round(most_c - BAND_BELOW_K, 1),
            "high_c": round(most_c + BAND_ABOVE_K, 1),
            "wood_kg": round(self.wood_kg * share, 2),
            "charge_kg": round(charge_kg, 2),
            "charge_pieces": pieces_of(charge_kg, piece_mm),
            "piece_mm": piece_mm,
            "limited_by": "builder",
        }
        return self.model_copy(update=lowered)


def plateau_under(lid_c: float | None) -> float | None:
    """The highest plateau (°C) whose whole band stays under a lid."""
    return None if lid_c is None else lid_c - BAND_ABOVE_K


class WhyGentler(StrEnum):
    """What asked for the gentler of two ways, where they disagreed."""

    MODEL = "model"  # the wall as it is computed
    RULE = "rule"  # the rule of thumb
    BUILDER = "builder"
    NO_INSTRUMENT = "no_instrument"
