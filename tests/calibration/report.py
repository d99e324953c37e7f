"""Coverage of the 5 to 95 % interval, with its standard error, by part and fire."""

from collections.abc import Sequence
from math import sqrt

from tests.calibration.trial import LADDER, PARTS, Believed

LEAST, MOST = 0.85, 0.97
"""An honest interval of 90 % covers so much; less is too sure, more tells too little."""


def coverage(found: Sequence[Believed], part: str, fire: int | None = None) -> tuple[float, int]:
    """Share of truths within their interval, and of how many."""
    of = [one for one in found if one.part == part and fire in (None, one.fire)]
    return sum(one.within for one in of) / len(of), len(of)


def report(found: Sequence[Believed]) -> str:
    """The table: per cent covered after each fire, over all of them, and which way it missed."""
    head = "".join(f"   fire {number + 1}" for number in range(len(LADDER)))
    rows = [f"{'part':<14}{head}      all   ±   above  below"]
    for part in PARTS:
        cells = "".join(
            f"{100 * coverage(found, part, fire)[0]:9.0f}" for fire in range(len(LADDER))
        )
        share, count = coverage(found, part)
        error = sqrt(max(share * (1 - share), 1e-9) / count)
        of = [one for one in found if one.part == part and not one.within]
        above = sum(one.true > one.high for one in of) / count
        below = sum(one.true < one.low for one in of) / count
        rows.append(
            f"{part:<14}{cells}{100 * share:9.0f}{100 * error:4.0f}"
            f"{100 * above:8.0f}{100 * below:7.0f}"
        )
    return "\n".join(rows)
