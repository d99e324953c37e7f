"""How far a small count can be trusted."""

import math
from collections.abc import Sequence
from statistics import median
from typing import Final

from scheduling.meaning.tallies import Share, Spread

Z_95: Final = 1.959963984540054
"""The standard normal's 97.5 % quantile."""

WIDEST: Final = 0.30
"""A share whose interval is wider is not told as one (own choice): with none seen it takes nine
trials, with half of them some forty."""

FEWEST: Final = 6
"""So many values hold the middle of all between their lowest and highest with 95 %: the chance
that all lie on one side of it is 2^(1-n), 3.1 % for six and 6.3 % for five."""


def wilson(count: int, of: int, z: float = Z_95) -> tuple[float, float]:
    """Low and high of a share by Wilson's score interval, each from 0 to 1.

    (p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n); E. B. Wilson, J. Am. Stat. Assoc. 22
    (1927) 209-212. Nothing is known of a share of nothing: 0 to 1. Raises ValueError for a
    count that cannot be.
    """
    if not 0 <= count <= of:
        raise ValueError(f"{count} of {of} cannot be")
    if of == 0:
        return 0.0, 1.0
    share, spread = count / of, z * z / of
    middle = share + spread / 2
    reach = z * math.sqrt(share * (1 - share) / of + spread / (4 * of))
    low, high = (middle - reach) / (1 + spread), (middle + reach) / (1 + spread)
    return max(0.0, low), min(1.0, high)


def share(count: int, of: int) -> Share:
    """A count with its interval, and whether it tells anything."""
    low, high = wilson(count, of)
    return Share(count=count, of=of, low=low, high=high, tells=high - low <= WIDEST)


def spread(values: Sequence[float]) -> Spread:
    """Lowest, middle and highest, and whether they are enough to tell."""
    if not values:
        return Spread(of=0)
    return Spread(
        of=len(values),
        low=min(values),
        middle=median(values),
        high=max(values),
        tells=len(values) >= FEWEST,
    )
