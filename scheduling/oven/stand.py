"""How an ensemble stands at an instant."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

import numpy as np
import numpy.typing as npt

from scheduling.oven.hearth import HearthState
from scheduling.oven.history import FireLit
from scheduling.oven.makeup import MakeUp
from scheduling.oven.prior import Drawn, Draws
from scheduling.oven.wall import WallState

Floats = npt.NDArray[np.float64]

GAP_FREE_D = 4.0
GAP_BACK_K_D = 5.0
"""After so many days without a fire the plateau to build on sinks by this much a day (own
choice): mortar that was dried and heated takes damp from the air again."""


@dataclass(frozen=True, slots=True)
class Ensemble:
    """What stays the same while time passes."""

    make_up: MakeUp
    draws: Draws
    drawn: Drawn


@dataclass(frozen=True, slots=True)
class Stand:
    """How an ensemble stands ``at`` an instant.

    ``face_c`` (M, 2) are the hot faces, ``fire_w_m2`` (M, 2) what the fire gives them,
    ``peak_pa`` (M, 2) the highest steam overpressure since the fire was lit. ``age_d`` is the
    mortar's equivalent age, ``reached_c`` the plateau that the next step may build on (None:
    never fired), ``top_c`` the hottest believed crown of this fire.
    """

    at: datetime
    wall: WallState
    hearth: HearthState
    face_c: Floats
    fire_w_m2: Floats
    peak_pa: Floats
    age_d: float
    door_on: bool = True
    lit: FireLit | None = None
    read_at: datetime | None = None
    top_c: float | None = None
    reached_c: float | None = None
    fired_at: datetime | None = None
    firings: int = 0
    wet_h: float = 0.0

    @property
    def burning(self) -> bool:
        """Whether a fire burns."""
        return self.lit is not None

    def of_members(self, chosen: npt.NDArray[np.intp]) -> "Stand":
        """The same stand for some members, in that order."""
        return replace(
            self,
            wall=self.wall.of_members(chosen),
            hearth=self.hearth.of_members(chosen),
            face_c=self.face_c[chosen],
            fire_w_m2=self.fire_w_m2[chosen],
            peak_pa=self.peak_pa[chosen],
        )

    def built_on_c(self, at: datetime) -> float | None:
        """The plateau that a fire lit ``at`` may build on; it sinks with a long gap."""
        if self.reached_c is None or self.fired_at is None:
            return self.reached_c
        gap_d = (at - self.fired_at) / timedelta(days=1) - GAP_FREE_D
        return self.reached_c - GAP_BACK_K_D * max(0.0, gap_d)
