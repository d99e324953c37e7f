"""Wind: the Beaufort scale, and how much of the wind reaches a dome.

Metres a second are the master unit. A class is told from m/s alone: 8.0 m/s is force 5 by the
m/s table but rounds to 16 knots, which the knot table calls force 4.
"""

import math
from bisect import bisect_right
from typing import Literal

from scheduling.oven.makeup import Shelter

LOWER_BOUNDS_MS = (0.0, 0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7)
"""Least mean wind at 10 m of force 0 to 12 (WMO-No. 306 Code table 1100)."""

SpeedUnit = Literal["ms", "kmh", "mph", "kn"]

MS_PER_UNIT: dict[SpeedUnit, float] = {
    "ms": 1.0,
    "kmh": 1 / 3.6,
    "mph": 0.44704,
    "kn": 1852 / 3600,
}

NOT_WORTH_LIGHTING_MS = 15.4
"""Mean wind from which the oven is not worth running: around 30 knots (15.43 m/s), common
practice, no published source. Rounded down, so that 30 knots by any conversion counts."""

TO_DOME_HEIGHT = 4.87 / math.log(67.8 * 10.0 - 5.42)
"""Wind at 2 m over wind at 10 m on open short grass (FAO Irrigation and Drainage Paper 56,
Eq. 47): 0.748."""

SHELTER_FACTOR: dict[Shelter, float] = {
    Shelter.EXPOSED: 1.0,
    Shelter.PART: 0.7,
    Shelter.SHELTERED: 0.4,
}
"""Share of the open wind left behind walls and hedges (own choice)."""


def beaufort(wind_ms: float) -> int:
    """Force 0 to 12 of a mean wind at 10 m, to the 0.1 m/s in which the scale is written.

    Raises ValueError for a negative or non-finite speed.
    """
    if not math.isfinite(wind_ms) or wind_ms < 0.0:
        raise ValueError(f"{wind_ms} m/s is not a wind speed")
    return bisect_right(LOWER_BOUNDS_MS, math.floor(wind_ms * 10 + 0.5) / 10) - 1


def to_ms(speed: float, unit: SpeedUnit) -> float:
    """A speed in m/s, by the exact SI ratios (1 nautical mile = 1852 m, 1 mile = 1609.344 m)."""
    return speed * MS_PER_UNIT[unit]


def at_the_dome(wind_ms: float, shelter: Shelter) -> float:
    """Wind at the dome's own height behind its shelter (m/s), from the wind at 10 m."""
    return wind_ms * TO_DOME_HEIGHT * SHELTER_FACTOR[shelter]
