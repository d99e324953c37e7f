"""An infrared thermometer pointed at a dome: what its display shows."""

from dataclasses import dataclass

import numpy as np

from tests.trials.unmet_ovens.oven import Oven

ENDS_AT_C = 550.0
SCALE = 0.012
"""Standard deviation of its own error, as a share."""
JITTER_K = 2.0
STRAYS = 0.08
"""How far towards the side the spot slips, of the way (standard deviation)."""
FLAME_IN_SPOT = 0.04
FLAME_ADDS_K = (20.0, 120.0)


@dataclass(frozen=True, slots=True)
class Shown:
    """Numbers on the display, °C; ``top_c`` is None above its range. ``true_c`` is the crown."""

    top_c: float | None
    side_c: float
    true_c: float


class Thermometer:
    """One instrument in one hand."""

    def __init__(self, rng: np.random.Generator) -> None:
        self._rng = rng
        self._scale = 1.0 + SCALE * float(np.clip(rng.normal(), -2.0, 2.0))

    def point(self, oven: Oven, *, with_care: bool = False) -> Shown:
        """Read the crown and the coldest side; ``with_care`` beside the flames."""
        rng, crown, side = self._rng, oven.crown_c, oven.coldest_side_c
        spot = crown + min(abs(float(rng.normal())) * STRAYS, 0.4) * (side - crown)
        spoilt = oven.fire.flames and rng.random() < FLAME_IN_SPOT
        if spoilt and not with_care:
            spot += float(rng.uniform(*FLAME_ADDS_K))
        top = self._display(spot)
        return Shown(top if top <= ENDS_AT_C else None, self._display(side), crown)

    def _display(self, celsius: float) -> float:
        return celsius * self._scale + JITTER_K * float(self._rng.normal())
