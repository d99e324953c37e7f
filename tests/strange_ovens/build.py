"""What strange ovens are made of: drawn apart from what their owner says of them, and wider.

A draw is a dictionary of (B,) and (B, Z) arrays; zones are crown, left, right, back and hearth.
Everything here is this file's own choice and shares nothing with the prior of the belief.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from scheduling.oven.makeup import MakeUp

Floats = npt.NDArray[np.float64]

ZONES = ("crown", "left", "right", "back", "hearth")
STRUCTURES = ("front", "sorbed", "vented")
"""How the water leaves. ``front``: at the boiling point, as fast as heat comes, and what boils in
the cool half condenses behind. ``sorbed``: held by an isotherm that lets go between 90 and 190 °C,
each layer at its own pace. ``vented``: every layer through cracks of its own, by its pressure."""

SHELL_CELLS, COAT_CELLS = 12, 6


@dataclass(frozen=True)
class Made:
    """B ovens as they truly are. Arrays (B,) unless said otherwise; SI."""

    make_up: MakeUp
    structure: npt.NDArray[np.intp]
    size_m: Floats  # (B, Z, N)
    conductivity: Floats  # (B, Z, N)
    capacity: Floats  # (B, Z, N), J/m³K, dry
    water: Floats  # (B, Z, N), kg/m³
    is_shell: npt.NDArray[np.bool_]  # (N,)
    area_m2: Floats  # (B, Z)
    mouth_m2: Floats
    lean: Floats  # (B, Z) weights of what the flames shine on
    upper_film: Floats
    plume: Floats
    radiant: Floats
    unburnt: Floats
    moisture: Floats
    recirculated: Floats
    door_w_m2k: Floats
    releases_s: Floats
    vents: Floats

    @property
    def count(self) -> int:
        """How many ovens."""
        return int(self.mouth_m2.size)


def made(make_up: MakeUp, count: int, seed: int) -> Made:
    """``count`` ovens that could have been told as ``make_up``."""
    rng = np.random.default_rng(seed)

    def near(sd: float, *more: int) -> Floats:
        return np.exp(sd * np.clip(rng.standard_normal((count, *more)), -2.5, 2.5))

    def between(low: float, high: float, *more: int) -> Floats:
        return rng.uniform(low, high, (count, *more))

    zones = len(ZONES)
    thick, k, c, w, shell = _courses(make_up, zones)
    uneven = near(0.04, 1, 1) * near(0.05, zones, 1)
    dome = make_up.dome_area_m2
    sides = between(0.18, 0.27, 3)
    crown = 1.0 - sides.sum(axis=1, keepdims=True)
    area = dome * np.concatenate([crown, sides, np.full((count, 1), 0.5)], axis=1)
    wet = near(0.20, 1, 1) * near(0.07, zones, 1)
    hearth_wet = np.ones((count, zones, 1))
    hearth_wet[:, 4, 0] = near(0.35)
    lean = np.concatenate(
        [between(1.0, 1.7, 1), between(0.55, 1.1, 3), between(0.35, 0.9, 1)], axis=1
    )
    return Made(
        make_up=make_up,
        structure=rng.integers(0, len(STRUCTURES), count),
        size_m=thick * uneven,
        conductivity=k * near(0.13, 1, 1) * near(0.05, zones, 1),
        capacity=c * near(0.05, 1, 1),
        water=w * wet * hearth_wet,
        is_shell=shell,
        area_m2=area,
        mouth_m2=make_up.mouth_area_m2 * near(0.10),
        lean=lean,
        upper_film=between(8.0, 18.0),
        plume=between(0.12, 0.28),
        radiant=between(0.25, 0.42),
        unburnt=between(0.03, 0.12),
        moisture=between(0.12, 0.25),
        recirculated=between(0.1, 0.5),
        door_w_m2k=between(2.0, 8.0),
        releases_s=between(600.0, 3000.0),
        vents=np.exp(between(-1.5, 1.5)),
    )


def _courses(
    make_up: MakeUp, zones: int
) -> tuple[Floats, Floats, Floats, Floats, npt.NDArray[np.bool_]]:
    """Sizes, conductivity, heat capacity and water as told, (1, Z, N) each: twelve cells through
    the shell, six through what lies over it; a hearth of tiles on a slab."""
    shell_mm = make_up.shell_thickness_mm
    over = [one for one in make_up.layers if one.kind != "shell"]
    over_mm = sum(one.thickness_mm for one in over) or 1.0
    marks = [
        *((i + 0.5) * shell_mm / SHELL_CELLS for i in range(SHELL_CELLS)),
        *(shell_mm + (i + 0.5) * over_mm / COAT_CELLS for i in range(COAT_CELLS)),
    ]
    ends = np.cumsum([one.thickness_mm for one in make_up.layers])
    owners = [make_up.layers[min(int(np.searchsorted(ends, m)), ends.size - 1)] for m in marks]
    sizes = [shell_mm / SHELL_CELLS] * SHELL_CELLS + [over_mm / COAT_CELLS] * COAT_CELLS
    dome = np.array(
        [
            [size / 1e3, one.conductivity_w_mk, one.density_kg_m3 * one.heat_capacity_j_kgk, water]
            for size, one in zip(sizes, owners, strict=True)
            for water in [one.free_water_kg_m3]
        ]
    )
    tile = [0.065 / SHELL_CELLS, 1.0, 2.0e6, 38.0]
    slab = [0.075 / COAT_CELLS, 0.17, 4.2e5, 95.0]
    hearth = np.array([tile] * SHELL_CELLS + [slab] * COAT_CELLS)
    each = np.stack([dome] * (zones - 1) + [hearth])[np.newaxis]
    shell = np.arange(len(marks)) < SHELL_CELLS
    return each[..., 0], each[..., 1], each[..., 2], each[..., 3], shell
