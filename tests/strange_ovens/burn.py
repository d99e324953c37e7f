"""Fire, heat and water in strange ovens: two layers of gas, five zones of wall, explicit in time.

The gas is that of a compartment fire: a plume carries the heat up (ṁ = 0.076 Q^⅓ z^(5/3), Zukoski,
from memory), the crown and the upper walls lie in the hot layer, hearth and feet in the cool one;
the mouth takes what it sees of the enclosure's radiation. No flue loss is prescribed.
"""

from collections.abc import Callable

import numpy as np

from tests.strange_ovens.build import STRUCTURES, Floats, Made

SIGMA = 5.670374e-8
LATENT = 2.257e6
STEP_S = 10.0
DRY_MJ_KG, EVAPORATES_MJ_KG = 19.0, 2.443
UPPER = np.array([1.0, 0.55, 0.55, 0.55, 0.0])
"""Share of each zone in the hot layer."""


class Ovens:
    """B ovens at one instant. ``water`` and ``temperature`` (B, Z, N)."""

    def __init__(self, made: Made, air_c: float) -> None:
        self.made = made
        self.temperature = np.full(made.size_m.shape, air_c)
        self.water = made.water.copy()
        self.surface = np.full(made.area_m2.shape, air_c)
        self.wood_kg = np.zeros(made.count)
        self.into_j = np.zeros(made.count)
        self.fire_j = np.zeros(made.count)
        self._link = 2.0 / (
            made.size_m[..., :-1] / made.conductivity[..., :-1]
            + made.size_m[..., 1:] / made.conductivity[..., 1:]
        )
        self._inner = 2.0 * made.conductivity[..., 0] / made.size_m[..., 0]
        self._started = np.maximum(made.water, 1e-9)

    def passed(self, seconds: float, air_c: float, burn_kg_s: Floats, door_on: bool) -> None:
        """Let time pass with so much wood burning in each (B,), or none."""
        for _ in range(max(1, round(seconds / STEP_S))):
            self._step(STEP_S, air_c, burn_kg_s, door_on)

    def _step(self, dt: float, air_c: float, burn_kg_s: Floats, door_on: bool) -> None:
        made = self.made
        heat_w = burn_kg_s * self._set_free_j_kg()
        flux = self._flux(heat_w, air_c, door_on)
        self.wood_kg += burn_kg_s * dt
        self.fire_j += burn_kg_s * self.heat_j_kg() * dt
        self.into_j += (flux * made.area_m2).sum(axis=1) * dt
        through = self._link * (self.temperature[..., :-1] - self.temperature[..., 1:])
        gain = np.zeros_like(self.temperature)
        gain[..., :-1] -= through
        gain[..., 1:] += through
        gain[..., 0] += flux
        gain[..., -1] -= 18.0 * (self.temperature[..., -1] - air_c)
        capacity = (made.capacity + 4186.0 * self.water) * made.size_m
        temperature = self.temperature + gain * dt / capacity
        self.temperature = self._dried(temperature, capacity, dt)
        # Damped: over light stone the flux answers its face more strongly than the stone does.
        self.surface += 0.4 * (self.temperature[..., 0] + flux / self._inner - self.surface)

    def heat_j_kg(self) -> Floats:
        """Net calorific value as fired (B,)."""
        wet = self.made.moisture
        return 1e6 * (DRY_MJ_KG * (1 - wet) - EVAPORATES_MJ_KG * wet)

    def _set_free_j_kg(self) -> Floats:
        return self.heat_j_kg() * (1.0 - self.made.unburnt)

    def _flux(self, heat_w: Floats, air_c: float, door_on: bool) -> Floats:
        """Net heat into the faces of all zones (B, Z), W/m²."""
        made, faces = self.made, self.surface
        area, opening = made.area_m2, made.mouth_m2[:, np.newaxis]
        seen = opening * (0.05 if door_on else 1.0)
        fourth, outside = (faces + 273.15) ** 4, (air_c + 273.15) ** 4
        mean = ((area * fourth).sum(axis=1, keepdims=True) + seen * outside) / (
            area.sum(axis=1, keepdims=True) + seen
        )
        flux = 0.9 * SIGMA * (mean - fourth)
        shines = made.radiant * heat_w
        weight = made.lean * area
        caught = 1.0 - made.mouth_m2 / (area.sum(axis=1) + made.mouth_m2)
        flux += (shines * caught / weight.sum(axis=1))[:, np.newaxis] * made.lean
        burning = heat_w > 100.0
        rises = heat_w - shines
        plume = 0.076 * np.cbrt(rises / 1e3) * made.plume ** (5 / 3)
        vent = 0.45 * made.mouth_m2 * np.sqrt(made.make_up.mouth_height_mm / 1e3)
        fresh = np.where(burning, np.minimum(plume * (1 - made.recirculated), vent), 0.1 * vent)
        if door_on:
            fresh = np.full_like(fresh, 0.002 * made.mouth_m2.mean())
        film = np.where(burning, made.upper_film, 3.5)[:, np.newaxis]
        hot = UPPER * area
        carry = 1080.0 * fresh
        upper = (rises + carry * air_c + (film * hot * faces).sum(axis=1)) / (
            carry + (film * hot).sum(axis=1) + 1e-9
        )
        lower = air_c + 0.3 * (upper - air_c)
        if door_on:
            lower = upper
        flux += UPPER * film * (upper[:, np.newaxis] - faces)
        # The cool layer hands on what it takes: only a third of its exchange leaves the oven.
        flux += 0.33 * (1 - UPPER) * 4.0 * (lower[:, np.newaxis] - faces)
        shut = (made.door_w_m2k * made.mouth_m2 / area.sum(axis=1))[:, np.newaxis]
        return np.asarray(flux - (shut * (faces - air_c) if door_on else 0.0))

    def _dried(self, temperature: Floats, capacity: Floats, dt: float) -> Floats:
        """Take the latent heat of what evaporates out of the cells (B, Z, N)."""
        heat_kg = capacity * np.maximum(temperature - 100.0, 0.0) / LATENT
        kind = self.made.structure[:, np.newaxis, np.newaxis]
        left = self.water * self.made.size_m
        front = heat_kg
        holds = self._started * np.clip((190.0 - temperature) / 100.0, 0.0, 1.0)
        loose = np.maximum(self.water - holds, 0.0) * self.made.size_m
        pace = self.made.releases_s[:, np.newaxis, np.newaxis]
        sorbed = loose * dt / pace
        over = np.exp(np.clip(0.035 * (temperature - 100.0), -3.0, 6.0))
        vents = self.made.vents[:, np.newaxis, np.newaxis]
        vented = left * 2.0e-5 * vents * over * dt
        which = [STRUCTURES.index(name) for name in ("front", "sorbed", "vented")]
        gone = np.where(kind == which[0], front, np.where(kind == which[1], sorbed, vented))
        gone = np.minimum(gone, left)
        self.water = self.water - gone / self.made.size_m
        return temperature - gone * LATENT / capacity

    def zone_water_kg(self) -> Floats:
        """Water left in the shell of every zone (B, Z), kg; of the hearth, in its tiles."""
        made = self.made
        held = (self.water * made.size_m)[..., made.is_shell].sum(axis=2)
        return np.asarray(held * made.area_m2)

    def core_c(self) -> Floats:
        """Temperature halfway through the crown's shell (B,)."""
        middle = int(self.made.is_shell.sum()) // 2
        return np.asarray(self.temperature[:, 0, middle])


def led(
    ovens: Ovens,
    plateau_c: float,
    climb_k_h: float,
    hold_h: float,
    air_c: float,
    watch: Callable[[float, Ovens], None] | None = None,
) -> None:
    """Lead all crowns to a plateau and keep them there, by an even fire that follows them: so much
    for every kelvin that is missing, and what has shown to be needed."""
    start = ovens.surface[:, 0].copy()
    needed = np.full(ovens.made.count, 0.5)
    end_h = float((plateau_c - start).mean()) / climb_k_h + hold_h
    for minute in range(round(60.0 * end_h)):
        short = np.minimum(start + climb_k_h * minute / 60.0, plateau_c) - ovens.surface[:, 0]
        needed = np.clip(needed + short * 0.5 / 60.0, 0.0, 6.0)
        kg_h = np.clip(needed + 0.05 * short, 0.0, 8.0)
        ovens.passed(60.0, air_c, kg_h / 3600.0, door_on=False)
        if watch is not None:
            watch((minute + 1) / 60.0, ovens)
