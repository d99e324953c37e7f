"""Meanings about an oven that stands where no fire is led."""

from typing import Literal

from scheduling.meaning.base import Said


class StandsIndoors(Said):
    """It stands in a house, a garage, a shed, a tent: no fire is led there, why, and what to do:
    move it, or a flue by a fitter under the local code. Words that answer where it stands now are
    waited for."""

    kind: Literal["stands_indoors"] = "stands_indoors"
    builder_told: bool = False


class FireIndoors(Said):
    """A fire burns indoors: everybody out, doors and windows open, nothing added; ``emergency`` is
    the number of the place, None where it is not known."""

    kind: Literal["fire_indoors"] = "fire_indoors"
    emergency: str | None = None
    builder_told: bool = False
