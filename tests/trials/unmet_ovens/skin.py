"""A fast skin over a slow mass: three lumps a zone, and a front in each that dries of itself."""

from dataclasses import dataclass

import numpy as np

from tests.trials.unmet_ovens.steam import (
    AIR_PA,
    KELVIN,
    LATENT_J_KG,
    VAPOUR_J_KG_K,
    VAPOUR_PA_S,
    WATER_J_KG_K,
    Floats,
    boiling_c,
    saturation_pa,
)

SUBSTEP_S = 20.0
PRESSURE_SETTLES_S = 120.0


@dataclass(frozen=True, slots=True)
class Lumps:
    """One zone: a skin, a core and a back, from the fire outward (per m²)."""

    heat_j_k: tuple[float, float, float]
    skin_to_core_w_k: float
    core_to_back_w_k: float
    outside_w_k: float
    water_kg: tuple[float, float, float]
    core_m: float
    back_m: float


@dataclass(frozen=True, slots=True)
class Front:
    """How its water leaves, and what holds the steam."""

    boils_w_k: float
    """Heat that a kelvin above boiling brings to the front of a full lump, W/m²K."""
    hours_at_80: float
    """How long drying below boiling takes."""
    permeability_m2: float
    limit_pa: float
    clings_k: float
    """By how much the last of the water boils later than the first."""


class SkinOverMass:
    """Zones of three lumps each."""

    def __init__(self, zones: tuple[Lumps, ...], front: Front, start_c: float) -> None:
        self.front = front
        self._heat = np.array([one.heat_j_k for one in zones])
        self._inner = np.array([one.skin_to_core_w_k for one in zones])
        self._outer = np.array([one.core_to_back_w_k for one in zones])
        self._outside = np.array([one.outside_w_k for one in zones])
        self.water = np.array([one.water_kg for one in zones])
        self._full = np.maximum(self.water, 1e-9)
        self._path_m = np.array([(0.002, one.core_m, one.back_m) for one in zones])
        self.t_c = np.full(self._heat.shape, start_c)
        self._pressure = np.full(self._heat.shape, AIR_PA)
        self.outer_j_m2 = np.zeros(len(zones))
        self.vapour_j_m2 = np.zeros(len(zones))

    @property
    def surface_c(self) -> Floats:
        return np.asarray(self.t_c[:, 0])

    @property
    def water_kg_m2(self) -> Floats:
        return np.asarray(self.water.sum(axis=1))

    @property
    def steam_share(self) -> Floats:
        return np.asarray((self._pressure - AIR_PA).max(axis=1) / self.front.limit_pa)

    def stored_j_m2(self) -> Floats:
        return np.asarray((self._capacity() * self.t_c).sum(axis=1))

    def step(self, seconds: float, flux_w_m2: Floats, outside_c: float) -> None:
        count = max(1, round(seconds / SUBSTEP_S))
        for _ in range(count):
            self._conduct(seconds / count, flux_w_m2, outside_c)
            self._dry(seconds / count)

    def soak(self, kg_m2: float) -> None:
        """Into the back of it."""
        self.vapour_j_m2 -= kg_m2 * WATER_J_KG_K * self.t_c[:, 2]
        self.water[:, 2] += kg_m2
        self._full = np.maximum(self._full, self.water)

    def _capacity(self) -> Floats:
        return np.asarray(self._heat + self.water * WATER_J_KG_K)

    def _conduct(self, seconds: float, flux_w_m2: Floats, outside_c: float) -> None:
        skin, core, back = self.t_c.T
        inward = self._inner * (skin - core)
        onward = self._outer * (core - back)
        out = self._outside * (back - outside_c)
        gained = np.stack((flux_w_m2 - inward, inward - onward, onward - out), axis=1)
        self.t_c = self.t_c + gained * seconds / self._capacity()
        self.outer_j_m2 += out * seconds

    def _dry(self, seconds: float) -> None:
        front = self.front
        left = self.water / self._full
        clings = front.clings_k * (1.0 - np.clip(left, 0.0, 1.0)) ** 2
        above = np.maximum(self.t_c - boiling_c(self._pressure) - clings, 0.0)
        boiled = front.boils_w_k * above * np.sqrt(left) / LATENT_J_KG * seconds
        warmth = np.exp(np.minimum(0.045 * (self.t_c - 0.5 * clings - 80.0), 1.5))
        slow = self.water * warmth * seconds / (3600.0 * front.hours_at_80)
        spare = np.maximum(self.t_c - 30.0, 0.0) * self._capacity() / LATENT_J_KG * 0.5
        gone = np.minimum(np.minimum(boiled + slow, spare), self.water)
        self.t_c = self.t_c - gone * LATENT_J_KG / self._capacity()
        self.vapour_j_m2 += (gone * (LATENT_J_KG + WATER_J_KG_K * self.t_c)).sum(axis=1)
        self.water = self.water - gone
        self._press(gone / seconds, seconds)

    def _press(self, gone: Floats, seconds: float) -> None:
        """Each front breathes through what has dried before it."""
        dried = self._path_m * (1.0 - self.water / self._full) + 0.002
        through = np.cumsum(gone[:, ::-1], axis=1)[:, ::-1]
        drop = 2.0 * VAPOUR_PA_S * VAPOUR_J_KG_K * (self.t_c + KELVIN) * through * dried
        square = AIR_PA**2 + np.cumsum(drop, axis=1) / self.front.permeability_m2
        wanted = np.minimum(np.sqrt(square), np.maximum(saturation_pa(self.t_c), AIR_PA))
        wanted = np.where(self.water > 1e-6, wanted, AIR_PA)
        self._pressure += (1.0 - np.exp(-seconds / PRESSURE_SETTLES_S)) * (wanted - self._pressure)
