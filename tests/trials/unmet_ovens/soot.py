"""Soot on the inner face of each zone: comes with smoke on a cool wall, goes on a hot one."""

from dataclasses import dataclass

import numpy as np

from tests.trials.unmet_ovens.steam import KELVIN, Floats

BLACKENS_BELOW_C = 290.0
BLACK_AFTER_KG_M2 = 0.7
"""Wood burnt for each square metre after which a cool wall is black."""
BARE = 0.12
"""Less soot than this, of a black wall, looks like bare wall."""
BURNS_IN = float(np.log(1.0 / BARE))


@dataclass(frozen=True, slots=True)
class SootKind:
    """How this soot burns off: at ``clears_c`` a black wall is bare after ``minutes``."""

    clears_c: float
    minutes: float
    energy_j_mol: float


class Soot:
    """How black each zone is, from 0 to 1."""

    def __init__(self, kind: SootKind, zones: int) -> None:
        self.kind = kind
        self.black: Floats = np.zeros(zones)

    @property
    def bare(self) -> Floats:
        """1 where a zone looks clean, else 0."""
        return np.asarray((self.black < BARE).astype(np.float64))

    def step(self, seconds: float, surface_c: Floats, burnt_kg_m2: float) -> None:
        """``burnt_kg_m2``: wood that burnt in flames meanwhile, over the whole inside."""
        cool = np.clip((BLACKENS_BELOW_C - surface_c) / 60.0, 0.0, 1.0)
        self.black += (1.0 - self.black) * cool * (1.0 - np.exp(-burnt_kg_m2 / BLACK_AFTER_KG_M2))
        kind = self.kind
        colder = 1.0 / (kind.clears_c + KELVIN) - 1.0 / (surface_c + KELVIN)
        warmth = kind.energy_j_mol / 8.314 * colder
        rate = BURNS_IN / (kind.minutes * 60.0) * np.exp(np.clip(warmth, -20.0, 3.0))
        self.black *= np.exp(-rate * seconds)
