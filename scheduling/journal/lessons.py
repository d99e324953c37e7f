"""Entries of what finished ovens teach: numbers alone, nothing of anybody."""

import math
from typing import Final, Literal, Self
from zlib import crc32

from pydantic import BaseModel, ConfigDict, Field

from scheduling.journal.base import Written
from scheduling.oven.lesson import Told
from scheduling.oven.makeup import MakeUp
from scheduling.oven.prior import SPREAD, Narrowed

WOOD: Final = "taken_up"
"""The quantity that says what wood gives."""


class Model(BaseModel):
    """Ovens that count as alike: of one construction with the same layers, and as wide.

    ``layers`` is a digest of what the layers are made of: a builder who changes a construction
    begins to learn anew.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    construction: str
    diameter_mm: int
    layers: str

    @classmethod
    def of(cls, makeup: MakeUp) -> Self:
        """The model of an oven."""
        told = "".join(one.model_dump_json() for one in makeup.layers)
        return cls(
            construction=makeup.construction,
            diameter_mm=round(makeup.inner_diameter_mm),
            layers=f"{crc32(told.encode()):08x}",
        )


class Taught(Written):
    """What this oven taught once it was finished. It is written only where its owner agreed that
    the builder keeps something, and goes when the journal goes.

    ``fires`` is how many it took, ``promised`` how many were promised at first, ``days`` from the
    first fire to the last.
    """

    kind: Literal["taught"] = "taught"
    model: Model
    told: tuple[Told, ...] = ()
    fires: int
    promised: int
    days: int


class Learnt(Written):
    """What finished ovens of a model taught this one before its first fire; the last of a model
    counts, and none of no ovens.

    ``fires`` is the number of fires that they took over the number promised, as a logarithm.
    """

    kind: Literal["learnt"] = "learnt"
    model: Model
    ovens: int = Field(ge=0)
    narrowed: tuple[Narrowed, ...] = ()
    fires: Narrowed | None = None

    @property
    def gain(self) -> float:
        """How many times as much as the make-up says wood gave; 1 where it gave less, so that what
        is learnt can only make a first charge smaller."""
        logs = [SPREAD[one.quantity] * one.shift for one in self.narrowed if one.quantity == WOOD]
        return math.exp(max(0.0, *logs)) if logs else 1.0
