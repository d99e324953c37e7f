"""What the ovens of a builder, or of a whole installation, add up to."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

from scheduling.meaning.base import Said


class _Value(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Share(_Value):
    """``count`` of ``of``, with an interval from 0 to 1 for the share behind it.

    ``tells`` is False where the count is too small to say anything of that share.
    """

    count: int
    of: int
    low: float = 0.0
    high: float = 1.0
    tells: bool = False


class Spread(_Value):
    """Numbers of ``of`` ovens: the lowest, the middle one and the highest; None for no oven.

    ``tells`` is False where they are too few for lowest and highest to hold the middle of all.
    """

    of: int
    low: float | None = None
    middle: float | None = None
    high: float | None = None
    tells: bool = False


class ClimbBand(_Value):
    """Fires whose steepest climb lay from ``from_k_h`` up to ``below_k_h`` (None: no end), and
    how many of them had a crack reported, or an open one."""

    from_k_h: float
    below_k_h: float | None
    cracked: Share
    opened: int = 0


class Tally(Said):
    """Ovens, their fires, and what became of them."""

    kind: Literal["tally"] = "tally"
    ovens: int
    finished: int
    fires: int
    fires_to_finish: Spread
    peak_c: Spread
    """The hottest reading of each finished oven."""
    slip_d: Spread
    """Days from the end that was first told to the end that was, for each finished oven."""
    above_range: Share
    """Fires whose peak lay above their range, of those that had one and were read."""
    bands: tuple[ClimbBand, ...]
    unread: int = 0
    """Fires without two readings near enough together to tell a climb."""
    between: int = 0
    """Cracks that were reported between fires: they belong to no climb."""
