"""A plan beside the drying sheets that makers of castables print.

Their ramps, 5 to 56 K an hour, and the hour of soak for each 25 mm of lining are what the trade
prints (28 to 56 K/h, with soaks near 120 to 150, 300 and 540 °C, as guidance after API and ACI:
from memory, in no standard that could be read; 20 to 40 K/h with long holds in a consultant's
published notes). They are meant for burners that never stop: one rise of a day or two, not fires
with nights between. The maker's sheet comes before any plan here.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from scheduling.breakin.plan import Firing

PRINTED_K_H: Final = (5.0, 56.0)
SOAK_H_PER_25_MM: Final = 1.0


@dataclass(frozen=True, slots=True)
class BesideSheet:
    """What a plan does, and what a sheet would: climb (K/h), hold (h), the largest rise of the
    plateau from one fire to the next (K), and the soak (h) that is printed for such a shell."""

    climb_k_h: float
    hold_h: float
    step_k: float
    soak_h: float

    @property
    def faster(self) -> bool:
        """Whether it climbs faster than any printed ramp."""
        return self.climb_k_h > PRINTED_K_H[1]


def beside_sheet(firings: Sequence[Firing], shell_mm: float) -> BesideSheet | None:
    """The comparison; None for a plan without fires."""
    if not firings:
        return None
    plateaus = [one.plateau_c for one in firings]
    steps = [later - before for before, later in pairwise(plateaus)]
    return BesideSheet(
        climb_k_h=max(one.climb_c_per_h for one in firings),
        hold_h=max(one.hold_h for one in firings),
        step_k=max(steps, default=0.0),
        soak_h=SOAK_H_PER_25_MM * shell_mm / 25.0,
    )
