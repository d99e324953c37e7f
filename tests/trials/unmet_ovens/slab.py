"""A layered wall in slices, with water that boils off behind a front or dries by and by."""

from dataclasses import dataclass
from enum import StrEnum

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

FIRST_SLICE_M = 0.003
GROWTH = 1.45
THICKEST_SLICE_M = 0.018

BOILS_WITHIN_S = 90.0
"""How fast a slice above its boiling point sheds its surplus heat."""
PRESSURE_SETTLES_S = 120.0
DIFFUSIVITY_M2_S = 2.5e-5
STAYS_WET_C = 40.0
"""Drying by and by never cools a slice below this."""


class Drying(StrEnum):
    """How water leaves."""

    BOILING = "boiling"
    BY_AND_BY = "by-and-by"


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer of one material. ``shell``: it carries the dome, and its water counts."""

    thick_m: float
    conductivity: float
    heat_j_m3: float
    water_kg_m3: float
    shell: bool = True


@dataclass(frozen=True, slots=True)
class Pores:
    """What lets steam out of the shell, and what it bears."""

    permeability_m2: float
    opens: float
    """How many times more it lets through once it has been at 400 °C."""
    holds_kg_m3: float
    """Water at which the pores are full."""
    limit_pa: float
    outward: float
    """Share of the steam that leaves towards the fire; the rest wets the next slice."""
    resists: float
    """How many times worse vapour diffuses than in still air."""
    drying: Drying
    hours_at_100: float
    energy_j_mol: float
    clings_k: float
    """By how much the last of the water boils later than the first: it clings to the pores."""


class Slab:
    """Zones of layered wall, each with its own layers of equal number of slices."""

    def __init__(
        self, zones: tuple[tuple[Layer, ...], ...], pores: Pores, start_c: float, outside_w: float
    ) -> None:
        cut = [_slices(layers) for layers in zones]
        longest = max(len(one) for one in cut)
        cut = [_padded(one, longest) for one in cut]
        table = np.array([[_figures(layer) for layer in one] for one in cut])
        self._dx, self._k, self._heat, water, shell = np.moveaxis(table, 2, 0)
        self._shell = shell > 0.5
        self.pores = pores
        self._outside_w = outside_w
        self.t_c = np.full(self._dx.shape, start_c)
        self.water = water * self._dx
        """kg/m² in each slice."""
        self._had = self.water.copy()
        self._pressure = np.full(self._dx.shape, AIR_PA)
        self._hottest = np.full(self._dx.shape, start_c)
        self._share = np.zeros(len(cut))
        self.outer_j_m2 = np.zeros(len(cut))
        self.vapour_j_m2 = np.zeros(len(cut))
        half = self._dx / (2.0 * self._k)
        self._between = 1.0 / (half[:, :-1] + half[:, 1:])
        self._out = 1.0 / (half[:, -1] + 1.0 / outside_w)
        self._depth = np.cumsum(self._dx, axis=1) - self._dx / 2.0

    @property
    def surface_c(self) -> Floats:
        return np.asarray(self.t_c[:, 0])

    @property
    def water_kg_m2(self) -> Floats:
        return np.asarray((self.water * self._shell).sum(axis=1))

    @property
    def steam_share(self) -> Floats:
        return self._share

    def stored_j_m2(self) -> Floats:
        return np.asarray((self._capacity() * self.t_c).sum(axis=1))

    def step(self, seconds: float, flux_w_m2: Floats, outside_c: float) -> None:
        self._conduct(seconds, flux_w_m2, outside_c)
        self._hottest = np.maximum(self._hottest, self.t_c)
        if self.water.max() > 1e-6:
            self._dry(seconds)
        else:
            self._share = np.zeros(len(self._share))

    def soak(self, kg_m2: float) -> None:
        """Into the outer half of the shell and all that lies outside of it."""
        total = (self._dx * self._shell).sum(axis=1, keepdims=True)
        outer = self._depth > total / 2.0
        room = np.maximum(self.pores.holds_kg_m3 * self._dx - self.water, 0.0) * outer
        share = kg_m2 / np.maximum(room.sum(axis=1, keepdims=True), 1e-9)
        came = room * np.minimum(share, 1.0)
        self.vapour_j_m2 -= (came * WATER_J_KG_K * self.t_c).sum(axis=1)
        self.water += came
        self._had = np.maximum(self._had, self.water)

    # ------------------------------------------------------------ heat

    def _capacity(self) -> Floats:
        return np.asarray(self._heat * self._dx + self.water * WATER_J_KG_K)

    def _conduct(self, seconds: float, flux_w_m2: Floats, outside_c: float) -> None:
        """One backward step, so that any length of it is stable."""
        zones, slices = self.t_c.shape
        capacity = self._capacity() / seconds
        matrix = np.zeros((zones, slices, slices))
        at = np.arange(slices)
        matrix[:, at, at] = capacity
        matrix[:, at[:-1], at[:-1]] += self._between
        matrix[:, at[1:], at[1:]] += self._between
        matrix[:, at[:-1], at[1:]] = -self._between
        matrix[:, at[1:], at[:-1]] = -self._between
        matrix[:, -1, -1] += self._out
        right = capacity * self.t_c
        right[:, 0] += flux_w_m2
        right[:, -1] += self._out * outside_c
        self.t_c = np.linalg.solve(matrix, right[..., None])[..., 0]
        self.outer_j_m2 += self._out * (self.t_c[:, -1] - outside_c) * seconds

    # ------------------------------------------------------------ water

    def _dry(self, seconds: float) -> None:
        gone = self._evaporated(seconds)
        capacity = self._capacity()
        self.t_c -= gone * LATENT_J_KG / capacity
        back = self._condensed(gone)
        leaving = gone - back
        self.vapour_j_m2 += (leaving * (LATENT_J_KG + WATER_J_KG_K * self.t_c)).sum(axis=1)
        self.water -= gone
        self._wet_next(back)
        self._press(leaving / seconds, seconds)

    def _evaporated(self, seconds: float) -> Floats:
        capacity = self._capacity()
        boils = boiling_c(self._pressure) + self._clings()
        surplus = np.maximum(self.t_c - boils, 0.0) * capacity / LATENT_J_KG
        boiled = surplus * (1.0 - np.exp(-seconds / BOILS_WITHIN_S))
        wanted = np.where(self._by_boiling(), boiled, self._by_and_by(seconds))
        slow = self._diffused(seconds)
        room = 0.5 * np.maximum(self.t_c - STAYS_WET_C, 0.0) * capacity / LATENT_J_KG
        return np.asarray(np.minimum(np.maximum(wanted, np.minimum(slow, room)), self.water))

    def _clings(self) -> Floats:
        left = np.clip(self.water / np.maximum(self._had, 1e-9), 0.0, 1.0)
        return np.asarray(self.pores.clings_k * (1.0 - left) ** 2)

    def _by_boiling(self) -> bool:
        return self.pores.drying is Drying.BOILING

    def _by_and_by(self, seconds: float) -> Floats:
        """Of first order, ever faster with the temperature, held back by its own pressure."""
        pores = self.pores
        felt_c = self.t_c - 0.5 * self._clings()
        warmth = pores.energy_j_mol / 8.314 * (1.0 / 373.15 - 1.0 / (felt_c + KELVIN))
        rate = np.exp(np.minimum(warmth, 6.0)) / (3600.0 * pores.hours_at_100)
        held = np.clip(1.0 - (self._pressure - AIR_PA) / saturation_pa(self.t_c), 0.0, 1.0)
        room = 0.5 * np.maximum(self.t_c - STAYS_WET_C, 0.0) * self._capacity() / LATENT_J_KG
        wanted = self.water * (1.0 - np.exp(-rate * held * seconds))
        return np.asarray(np.minimum(wanted, room))

    def _diffused(self, seconds: float) -> Floats:
        """Vapour through the pores to the inner surface, below boiling."""
        kelvin = self.t_c + KELVIN
        felt_c = np.minimum(self.t_c, 100.0) - 0.5 * self._clings()
        drive = np.maximum(saturation_pa(felt_c) - 1200.0, 0.0)
        flux = DIFFUSIVITY_M2_S / self.pores.resists * drive / (VAPOUR_J_KG_K * kelvin)
        total = np.maximum(self.water.sum(axis=1, keepdims=True), 1e-9)
        return np.asarray(flux / np.maximum(self._depth, 0.005) * self.water / total * seconds)

    def _condensed(self, gone: Floats) -> Floats:
        """What of it wets the next slice outward instead of leaving, where that is cooler."""
        back = np.zeros_like(gone)
        cooler = self.t_c[:, 1:] < np.minimum(self.t_c[:, :-1], 98.0)
        room = np.maximum(self.pores.holds_kg_m3 * self._dx - self.water, 0.0)[:, 1:]
        back[:, :-1] = np.where(
            cooler, np.minimum((1.0 - self.pores.outward) * gone[:, :-1], room), 0.0
        )
        return back

    def _wet_next(self, back: Floats) -> None:
        came = np.zeros_like(back)
        came[:, 1:] = back[:, :-1]
        if not came.any():
            return
        source = np.zeros_like(back)
        source[:, 1:] = self.t_c[:, :-1]
        before = self._capacity()
        heat = before * self.t_c + came * (LATENT_J_KG + WATER_J_KG_K * source)
        self.water += came
        self.t_c = heat / self._capacity()

    def _press(self, leaving: Floats, seconds: float) -> None:
        """Darcy's law from the surface inward; steam never presses more than it can boil at."""
        pores = self.pores
        through = np.cumsum(leaving[:, ::-1], axis=1)[:, ::-1]
        opened = 1.0 + (pores.opens - 1.0) * np.clip((self._hottest - 105.0) / 295.0, 0.0, 1.0)
        full = np.clip(self.water / (pores.holds_kg_m3 * self._dx), 0.0, 0.95)
        lets = pores.permeability_m2 * opened * (1.0 - full) ** 2
        drop = 2.0 * VAPOUR_PA_S * VAPOUR_J_KG_K * (self.t_c + KELVIN) * through * self._dx / lets
        square = AIR_PA**2 + np.cumsum(drop, axis=1) - drop / 2.0
        wanted = np.minimum(np.sqrt(square), np.maximum(saturation_pa(self.t_c), AIR_PA))
        wanted = np.where(self.water > 1e-6, wanted, AIR_PA)
        ease = 1.0 - np.exp(-seconds / PRESSURE_SETTLES_S)
        self._pressure += ease * (wanted - self._pressure)
        over = np.where(self._shell, self._pressure - AIR_PA, 0.0)
        self._share = np.asarray(over.max(axis=1) / pores.limit_pa)


def _figures(layer: Layer) -> tuple[float, ...]:
    """Its figures, in their order."""
    return (
        layer.thick_m, layer.conductivity, layer.heat_j_m3, layer.water_kg_m3, float(layer.shell)
    )  # fmt: skip


def _slices(layers: tuple[Layer, ...]) -> list[Layer]:
    """Thin ones at the fire, thicker ones behind; a slice lies in one layer."""
    thick, cut = FIRST_SLICE_M, []
    for layer in layers:
        left = layer.thick_m
        while left > 1e-9:
            take = left if left < 1.4 * thick else thick
            cut.append(_of(layer, take))
            left -= take
            thick = min(thick * GROWTH, THICKEST_SLICE_M)
    return cut


def _padded(cut: list[Layer], count: int) -> list[Layer]:
    """As many slices as the others have, by halving the last ones."""
    while len(cut) < count:
        at = max(range(len(cut)), key=lambda i: cut[i].thick_m)
        half = _of(cut[at], cut[at].thick_m / 2.0)
        cut = [*cut[:at], half, half, *cut[at + 1 :]]
    return cut


def _of(layer: Layer, thick_m: float) -> Layer:
    return Layer(thick_m, layer.conductivity, layer.heat_j_m3, layer.water_kg_m3, layer.shell)
