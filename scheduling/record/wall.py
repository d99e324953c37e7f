"""Between the record and the wall: what the belief says of the firings left, and of a fire.

Until a belief can be had, the rule of thumb stands alone.
"""

from datetime import datetime

from scheduling.firing.advice import WallSays
from scheduling.firing.aim import Aim
from scheduling.firing.rule import Bounds
from scheduling.record.facts import Facts


def gentler(
    record: Facts, by_rule: tuple[Aim, ...], bounds: Bounds, now: datetime
) -> tuple[Aim, ...]:
    """The firings left: of the model and the rule whichever asks for less."""
    return by_rule


def says(record: Facts, now: datetime) -> WallSays | None:
    """What the wall's forecast has to say about the fire that burns."""
    return None


def expected_c(record: Facts, at: datetime) -> tuple[float, float] | None:
    """Where the crown should lie at that moment, by the belief."""
    return None


def water_left_l(record: Facts, now: datetime) -> tuple[float, float] | None:
    """Low and high of the water that the wall may still hold, in litres."""
    return None
