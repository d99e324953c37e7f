"""The invented oven: what truly stands in the garden while the bot only hears about it.

Two zones of wall (crown and sides) on their own mesh, a hearth, a fire of discrete charges and
a chamber between them. It keeps an account that the bot never sees: the worst share of its true
strength that steam has taken, true water, true peak, soot. Nothing here is the planner's.
"""

from dataclasses import dataclass, field
from datetime import datetime, timedelta

import numpy as np
import numpy.typing as npt

from bot.rehearsal.air import Air, Skies, vapour_pressure_pa
from bot.rehearsal.chamber import Chamber, Hearth, Mouth
from bot.rehearsal.combustion import Burning, Fire
from bot.rehearsal.porewall import ATMOSPHERE_PA, PoreWall, Surroundings
from bot.rehearsal.truth import Truth, strength_left
from scheduling.oven.makeup import Cover, MakeUp
from scheduling.oven.maturity import ageing_rate, strength_ratio

Floats = npt.NDArray[np.float64]

FIRE_STEP_S = 60.0
"""A quarter of it moves peaks by a kelvin, and the worst share of strength by half a per cent."""

CALM_STEPS_S = (60.0, 60.0, 120.0, 300.0)
SOOT_CLEAR_SHARE = 0.25
ARCH_M = 0.10
"""How far heat runs through the arch of the mouth before air takes it (own choice)."""


@dataclass(slots=True)
class Account:
    """What truly happened so far."""

    peak_c: dict[str, float] = field(default_factory=lambda: {"crown": 0.0, "sides": 0.0})
    worst_share: float = 0.0
    worst_at: datetime | None = None
    worst_zone: str = ""
    worst_depth_mm: float = 0.0
    worst_pressure_kpa: float = 0.0
    damaged: bool = False
    wood_kg: float = 0.0
    fires: int = 0
    heat_from_fire_j: float = 0.0
    heat_out_of_mouth_j: float = 0.0


class TrueOven:
    """An oven under ``skies``, from ``start`` (a timezone-aware instant) on.

    ``fire_step_s`` is the time step while anything burns.
    """

    def __init__(
        self,
        make_up: MakeUp,
        truth: Truth,
        skies: Skies,
        start: datetime,
        fire_step_s: float = FIRE_STEP_S,
    ) -> None:
        self._fire_step_s = fire_step_s
        self.make_up, self.truth, self.skies, self.now = make_up, truth, skies, start
        air = skies.at(start)
        self.wall = PoreWall((truth.crown, truth.sides), make_up.inner_radius_m, air.temperature_c)
        self.hearth = Hearth(air.temperature_c, 0.06, 1.05)
        mouth = Mouth(
            make_up.mouth_area_m2, make_up.mouth_height_mm / 1e3, truth.leak, truth.door_w_m2k
        )
        shell = truth.sides[0]
        rim_m = make_up.mouth_width_mm / 1e3 + 2 * make_up.mouth_height_mm / 1e3
        arch = shell.conductivity_w_mk * rim_m * make_up.shell_thickness_mm / 1e3 / ARCH_M
        self.chamber = Chamber(make_up.inner_radius_m, mouth, truth.crown_lick, arch)
        self.fire = Fire()
        self.door_on = False
        self.covered = make_up.cover is not Cover.OPEN
        self.soot = np.zeros(2)
        self.sooted = False
        self.burning = Burning(0.0, 0.0, 0.0)
        self.account = Account()
        self._calm_s = 0.0
        self._age_d = self._cured(start)
        self._started_water = self.water_l()

    # ------------------------------------------------------------ what a person does

    def light(self, kg: float, size_m: float = 0.03) -> None:
        """Lay and light ``kg`` of small wood."""
        self._put(kg, size_m, kindling=True)
        self.account.fires += 1

    def stoke(self, kg: float, size_m: float = 0.06) -> None:
        """Put ``kg`` of wood on, in pieces ``size_m`` thick."""
        self._put(kg, size_m, kindling=False)

    def rekindle(self, kg: float) -> None:
        """Get a dead fire going again with small wood."""
        self._put(kg, 0.03, kindling=True)

    def _put(self, kg: float, size_m: float, *, kindling: bool) -> None:
        if kg <= 0:
            raise ValueError(f"{kg:g} kg is no wood")
        self.fire.add(kg, size_m, self.truth.wood_moisture, kindling=kindling)
        self.fire.raked = 1.0
        self.account.wood_kg += kg
        self._calm_s = 0.0
        if self.make_up.cover is not Cover.ROOF:
            self.covered = False

    def rake_apart(self) -> None:
        """Spread the fire over the hearth, which calms it."""
        self.fire.raked = 0.5

    def pull_out(self) -> float:
        """Take all burning wood out; returns its weight left, kg."""
        left = sum(one.volatile + one.char_to_come for one in self.fire.charges)
        left += self.fire.embers * 0.8
        self.fire.charges, self.fire.embers = [], self.fire.embers * 0.2
        return left

    def set_door(self, on: bool) -> None:
        """Stand the door in the mouth, or take it off. An oven without one stays open."""
        self.door_on = on and self.truth.leak < 1.0
        self._calm_s = 0.0

    def cover_up(self) -> None:
        """Put the sheet back, where there is one and the outside is cool enough."""
        if self.make_up.cover is not Cover.OPEN and float(self.wall.outer_surface.max()) < 60:
            self.covered = True

    # ------------------------------------------------------------ what can be seen

    @property
    def crown_c(self) -> float:
        """True surface of the crown."""
        return float(self.wall.surface[0])

    @property
    def sides_c(self) -> float:
        """True surface of the sides."""
        return float(self.wall.surface[1])

    @property
    def emissivity(self) -> float:
        """Of the crown, as sooty as it is now."""
        sooty = min(1.0, self.soot[0] / 0.5) if self.sooted else 0.5
        return float(
            self.truth.emissivity_clean
            + sooty * (self.truth.emissivity_sooty - self.truth.emissivity_clean)
        )

    @property
    def flames_high(self) -> bool:
        """Flames lick out of the mouth or into the flue."""
        return self.burning.flame_w / self.make_up.mouth_area_m2 > 4.5e5 or (
            self.burning.starved > 0.15 and self.burning.flame_w > 2e4
        )

    @property
    def alight(self) -> bool:
        """Anything flames."""
        return self.burning.flame_w > 300

    @property
    def glowing(self) -> bool:
        """Anything still gives heat."""
        return self.alight or self.burning.ember_w > 150

    def steaming(self) -> bool:
        """Steam can be seen at the outside, or damp patches."""
        return bool(np.any(self.wall.water[:, -1] > 1.15 * self.wall.held[:, -1]))

    def soot_clear(self) -> bool:
        """Most of the soot that the dome wore has burnt off."""
        return self.sooted and float(self.soot.mean()) < SOOT_CLEAR_SHARE

    def water_l(self, shell_only: bool = False) -> float:
        """True water in the dome, litres."""
        return float(self.wall.water_kg_m2(shell_only) @ self.chamber.areas[:2])

    def shell_water_share(self) -> float:
        """Water left in the wetter zone's shell over what it had at the start."""
        started = np.array(
            [
                sum(one.water_kg_m3 * one.thickness_m for one in zone if one.is_shell)
                for zone in (self.truth.crown, self.truth.sides)
            ]
        )
        return float(np.max(self.wall.water_kg_m2(shell_only=True) / started))

    # ------------------------------------------------------------ time

    def run_until(self, instant: datetime) -> None:
        """Let time pass until ``instant``. Raises ValueError for one that has passed."""
        if instant < self.now:
            raise ValueError(f"time does not go back: from {self.now} to {instant}")
        while (left := (instant - self.now).total_seconds()) > 1e-6:
            step = min(left, self._step_s())
            self._advance(step)
            self.now += timedelta(seconds=step)
        self.now = instant

    def _step_s(self) -> float:
        if self._calm_s < 60.0:
            return self._fire_step_s
        index = int(np.searchsorted((600.0, 2400.0, 7200.0), self._calm_s))
        return CALM_STEPS_S[index]

    def _advance(self, dt: float) -> None:
        air = self.skies.at(self.now)
        wind = air.wind_ms * self.truth.shelter_share
        supply = self.chamber.mouth.air_kg_s(self.door_on, wind)
        if self.fire.charges or self.fire.embers > 1e-4:
            self.burning = self.fire.burn(dt, supply, self.crown_c)
        else:
            self.burning = Burning(0.0, 0.0, 0.0)
        self._calm_s = 0.0 if self.burning.heat_w > 150 else self._calm_s + dt
        surface = np.array([self.crown_c, self.sides_c, self.hearth.surface])
        heat = self.chamber.exchange(
            surface,
            self.burning.flame_w,
            self.burning.ember_w,
            air.temperature_c,
            wind,
            self.door_on,
            self.emissivity,
        )
        self.account.heat_from_fire_j += self.burning.heat_w * dt
        self.account.heat_out_of_mouth_j += heat.mouth_w * dt
        self.wall.step(dt, self._around(heat.flux, heat.slope, air, wind))
        self.hearth.step(dt, float(heat.flux[2]), float(heat.slope[2]), 12.0)
        self._soot(dt)
        self._age_d += ageing_rate(float(np.mean(self.wall.temperature))) * dt / 86400
        self._settle_account()

    def _around(self, flux: Floats, slope: Floats, air: Air, wind: float) -> Surroundings:
        warm = float(self.wall.outer_surface.mean()) + 273.15
        radiant = 0.92 * 4 * 5.67e-8 * ((warm + air.temperature_c + 273.15) / 2) ** 3
        film = 5.7 + 3.8 * min(wind, 12.0)  # Jürges, after McAdams 1954 (from memory)
        if self.covered and self.make_up.cover is Cover.SHEET:
            film, wind = 4.0, 0.0
        wet = 0.0 if self.covered else air.rain_mm_h / 3600.0 * 0.6
        vapour = vapour_pressure_pa(air)
        return Surroundings(
            flux_w_m2=flux[:2],
            slope_w_m2k=slope[:2],
            inner_vapour_pa=vapour + (6e3 if self.alight else 0.0),
            inner_mass_ms=0.006 if self.alight else 0.003 if not self.door_on else 0.0008,
            outer_c=air.temperature_c,
            outer_w_m2k=film + radiant,
            outer_vapour_pa=vapour,
            outer_mass_ms=film / 1200.0,
            rain_kg_m2s=wet,
        )

    def _soot(self, dt: float) -> None:
        """Flames lay soot on a surface below 340 °C; hotter, it burns off (160 kJ/mol, own
        choice, set so that it clears within a quarter of an hour at 400 °C: common practice, no
        published source)."""
        laying = min(1.0, self.burning.flame_w / 8e3) * (1 + 2 * self.burning.starved) / 2400.0
        cool = np.clip((340.0 - self.wall.surface) / 60.0, 0.0, 1.0)
        burning = np.exp(-19250.0 * (1 / (self.wall.surface + 273.15) - 1 / 673.15)) / 700.0
        self.soot = np.clip(
            (self.soot + laying * cool * (1 - self.soot) * dt) / (1 + burning * dt), 0.0, 1.0
        )
        self.sooted = self.sooted or bool(self.soot[0] > 0.3)

    def _settle_account(self) -> None:
        account, wall = self.account, self.wall
        account.peak_c["crown"] = max(account.peak_c["crown"], self.crown_c)
        account.peak_c["sides"] = max(account.peak_c["sides"], self.sides_c)
        over = np.clip(wall.pressure - ATMOSPHERE_PA, 0.0, None) * wall.shell
        age = strength_ratio(self._age_d, self.make_up.cement_class)
        limit = self.truth.strength_mpa * 1e6 * age * strength_left(wall.temperature)
        share = over / np.maximum(limit, 1e3)
        worst = int(np.argmax(share))
        if share.flat[worst] > account.worst_share:
            zone, cell = divmod(worst, wall.shape[1])
            account.worst_share = float(share.flat[worst])
            account.worst_at = self.now
            account.worst_zone = ("crown", "sides")[zone]
            account.worst_depth_mm = float(wall.dx[zone, :cell].sum() * 1e3)
            account.worst_pressure_kpa = float(over.flat[worst] / 1e3)
        account.damaged = account.damaged or account.worst_share >= 1.0

    def _cured(self, start: datetime) -> float:
        """Equivalent age (days at 20 °C) that the true weather gave the mortar until ``start``."""
        ended = start.replace(
            year=self.make_up.wet_work_ended.year,
            month=self.make_up.wet_work_ended.month,
            day=self.make_up.wet_work_ended.day,
            hour=12,
        )
        hours = int(max(0.0, (start - ended).total_seconds() / 3600))
        offset = self.truth.curing_offset_k
        air = (self.skies.at(ended + timedelta(hours=h)) for h in range(0, hours, 3))
        return sum(ageing_rate(one.temperature_c + offset) * 3 / 24 for one in air)
