"""What any wall of a trial has to tell, whatever its equations: a row of zones seen from inside.

All is told per square metre of inner surface; arrays run over the zones.
"""

from typing import Protocol

from tests.trials.unmet_ovens.steam import Floats


class Wall(Protocol):
    """A wall with water in it. The accounts only grow, so that the heat can be balanced."""

    outer_j_m2: Floats
    """Heat that has left through the outside."""
    vapour_j_m2: Floats
    """Heat that has left with steam."""

    @property
    def surface_c(self) -> Floats:
        """What a thermometer sees."""
        ...

    @property
    def water_kg_m2(self) -> Floats:
        """Free water in the shell (what lies outside of it is not the owner's worry)."""
        ...

    @property
    def steam_share(self) -> Floats:
        """Pore pressure now over what this wall bears."""
        ...

    def stored_j_m2(self) -> Floats:
        """Heat in it, counted from 0 °C and liquid water."""
        ...

    def step(self, seconds: float, flux_w_m2: Floats, outside_c: float) -> None:
        """Let that much heat in through the inner surface."""
        ...

    def soak(self, kg_m2: float) -> None:
        """Rain has got into the outer part of the shell, at the temperature that is there."""
        ...
