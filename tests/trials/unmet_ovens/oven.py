"""An oven that nobody here has met: masonry, a fire in it, soot, and the weather around it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta

import numpy as np

from tests.trials.unmet_ovens.cavity import Cavity, Outside
from tests.trials.unmet_ovens.fire import DRY_WOOD_J_KG, Fire
from tests.trials.unmet_ovens.soot import Soot
from tests.trials.unmet_ovens.steam import Floats
from tests.trials.unmet_ovens.wall import Wall

BURNING_STEP_S = 30.0
IDLE_STEP_S = 120.0
DRY_SHARE = 0.06
"""Free water left in the wettest dome zone's shell, of what was there, that counts as dry."""
CLEAR_SHARE = 0.75
"""Of the dome's area that has to be bare before anybody would call the soot gone."""


@dataclass(frozen=True, slots=True)
class Weather:
    """The air at the oven."""

    air_c: float
    wind_ms: float


@dataclass(slots=True)
class Account:
    """What it has been through; heat in joules."""

    fires: int = 0
    released_j: float = 0.0
    into_walls_j: float = 0.0
    lost_j: float = 0.0
    worst_share: float = 0.0
    worst_at: datetime | None = None
    hottest_c: float = 0.0


@dataclass(slots=True)
class Oven:
    """``zones`` names the faces in the order of the wall's: crown first, hearth last."""

    zones: tuple[str, ...]
    cavity: Cavity
    wall: Wall
    fire: Fire
    soot: Soot
    weather_at: Callable[[datetime], Weather]
    now: datetime
    door_open_share: float
    """How much a shut door still lets through."""
    door_on: bool = False
    account: Account = field(default_factory=Account)
    watch: Callable[["Oven"], None] = lambda _: None
    _had: Floats = field(default_factory=lambda: np.zeros(0))

    def __post_init__(self) -> None:
        self._had = self.wall.water_kg_m2.copy()

    # ------------------------------------------------------------ what is true

    @property
    def crown_c(self) -> float:
        """The top of the dome."""
        return float(self.wall.surface_c[0])

    @property
    def coldest_side_c(self) -> float:
        """The coldest face that is neither crown nor hearth."""
        return float(self.wall.surface_c[1:-1].min())

    @property
    def inside_c(self) -> float:
        """The mean of all faces."""
        areas = self.cavity.areas
        return float((areas * self.wall.surface_c).sum() / areas.sum())

    @property
    def water_kg(self) -> float:
        """Free water in the dome's shell."""
        return float((self.wall.water_kg_m2 * self.cavity.areas)[:-1].sum())

    @property
    def wettest_share(self) -> float:
        """What is left of its water in the dome zone that has kept most."""
        return float((self.wall.water_kg_m2[:-1] / np.maximum(self._had[:-1], 1e-9)).max())

    @property
    def dry(self) -> bool:
        """The whole dome has let go of its water."""
        return self.wettest_share < DRY_SHARE

    @property
    def bare_share(self) -> float:
        """Of the dome's area, what shows bare wall."""
        areas = self.cavity.areas[:-1]
        return float((areas * self.soot.bare[:-1]).sum() / areas.sum())

    @property
    def clear(self) -> bool:
        """The soot is gone, as anybody who looks in would say."""
        return self.bare_share >= CLEAR_SHARE

    @property
    def steam_share(self) -> float:
        """Pore pressure over what the wall bears, in the worst dome zone now."""
        return float(self.wall.steam_share[:-1].max())

    # ------------------------------------------------------------ hands

    def light(self, kg: float, moisture: float, thick_mm: float) -> None:
        """Lay and light a fire."""
        self.door_on = False
        self.fire.put_on(kg, moisture, thick_mm, lit=True)
        self.account.fires += 1

    def stoke(self, kg: float, moisture: float, thick_mm: float, paper: bool = False) -> None:
        """Put wood on what burns or glows there; with ``paper`` it is set alight."""
        self.door_on = False
        self.fire.put_on(kg, moisture, thick_mm)
        if paper:
            self.fire.kindle()

    def soak(self, kg_m2: float) -> None:
        """A night of rain gets in."""
        self.wall.soak(kg_m2)
        self._had = np.maximum(self._had, self.wall.water_kg_m2)

    # ------------------------------------------------------------ time

    def run_until(self, instant: datetime) -> None:
        """Live on until then."""
        while (left := (instant - self.now).total_seconds()) > 0.0:
            usual = IDLE_STEP_S if self.fire.out and self.crown_c < 150.0 else BURNING_STEP_S
            self._step(min(left, usual))
            self.watch(self)

    def _step(self, seconds: float) -> None:
        weather = self.weather_at(self.now)
        glow = self.fire.step(seconds, self.inside_c, weather.wind_ms, self.door_on)
        opened = self.door_open_share if self.door_on else 1.0
        outside = Outside(weather.air_c, weather.wind_ms, opened)
        surface_c = self.wall.surface_c.copy()
        exchange = self.cavity.exchange(glow, surface_c, outside)
        self.wall.step(seconds, exchange.flux_w_m2, weather.air_c)
        areas = self.cavity.areas
        burnt_kg_m2 = glow.flame_w * seconds / DRY_WOOD_J_KG / float(areas.sum())
        self.soot.step(seconds, self.wall.surface_c, burnt_kg_m2)
        self.now += timedelta(seconds=seconds)
        self._note(seconds, exchange.flux_w_m2, exchange.lost_w)

    def _note(self, seconds: float, flux_w_m2: Floats, lost_w: float) -> None:
        account = self.account
        account.released_j = self.fire.released_j
        account.into_walls_j += float((flux_w_m2 * self.cavity.areas).sum()) * seconds
        account.lost_j += lost_w * seconds
        account.hottest_c = max(account.hottest_c, self.crown_c)
        if self.steam_share > account.worst_share:
            account.worst_share, account.worst_at = self.steam_share, self.now
