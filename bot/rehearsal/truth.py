"""What an invented oven truly is: drawn apart from what its owner was told.

The told make-up is the middle of the draw, never the answer. Spreads are our own choice, wide
enough that a plan which leans on the told numbers alone would sometimes be wrong.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from bot.rehearsal.porewall import Course
from scheduling.oven.makeup import Door, Layer, MakeUp, Shelter
from scheduling.oven.materials import tensile_strength_mpa

SHELTER_SHARE = {Shelter.EXPOSED: 0.75, Shelter.PART: 0.45, Shelter.SHELTERED: 0.2}
"""Wind at the dome over wind at 10 m (own choice)."""
DOOR_LEAK = {Door.NONE: 1.0, Door.PLAIN: 0.06, Door.INSULATED: 0.03}
DOOR_W_M2K = {Door.NONE: 1e3, Door.PLAIN: 5.0, Door.INSULATED: 1.5}


@dataclass(frozen=True, slots=True)
class Truth:
    """True properties. ``strength_mpa`` is the tensile strength of the real joints at 28 days."""

    crown: tuple[Course, ...]
    sides: tuple[Course, ...]
    strength_mpa: float
    emissivity_sooty: float
    emissivity_clean: float
    leak: float
    door_w_m2k: float
    crown_lick: float
    shelter_share: float
    wood_moisture: float
    curing_offset_k: float
    spots_k: tuple[float, ...]
    """How much warmer than their zone a few marked places are at full flame."""

    def tightened(self, permeability_m2: float) -> "Truth":
        """The same oven with a shell of that permeability."""
        crown, sides = (
            tuple(
                replace(one, permeability_m2=permeability_m2) if one.is_shell else one
                for one in zone
            )
            for zone in (self.crown, self.sides)
        )
        return replace(self, crown=crown, sides=sides)


def draw_truth(make_up: MakeUp, rng: np.random.Generator, spread: float = 1.0) -> Truth:
    """An oven that could have been told as ``make_up``; ``spread`` 0 gives the told one."""

    def near(sigma: float) -> float:
        return float(np.exp(np.clip(rng.normal(), -2.2, 2.2) * sigma * spread))

    def plus(sigma: float) -> float:
        return float(np.clip(rng.normal(), -2.2, 2.2) * sigma * spread)

    shell_k, shell_w, shell_p, shell_t = near(0.10), near(0.18), near(0.45), near(0.05)
    scales = [
        (shell_t, shell_k, shell_w, shell_p)
        if layer.kind == "shell"
        else (near(0.06), near(0.12), near(0.25), near(0.5))
        for layer in make_up.layers
    ]
    crown = [_course(layer, *scale) for layer, scale in zip(make_up.layers, scales, strict=True)]
    side_water = 1.0 + 0.08 * spread
    sides = [
        _course(layer, scale[0] * near(0.03), scale[1], scale[2] * side_water, scale[3])
        for layer, scale in zip(make_up.layers, scales, strict=True)
    ]
    joints = (0.85 if spread else 1.0) * near(0.13)
    return Truth(
        crown=tuple(crown),
        sides=tuple(sides),
        strength_mpa=tensile_strength_mpa(make_up.characteristic_strength_mpa) * joints,
        emissivity_sooty=min(0.98, 0.95 + plus(0.012)),
        emissivity_clean=0.85 + plus(0.04),
        leak=min(1.0, DOOR_LEAK[make_up.door] * near(0.4)),
        door_w_m2k=DOOR_W_M2K[make_up.door] * near(0.2),
        crown_lick=max(1.1, 1.5 + plus(0.15)),
        shelter_share=SHELTER_SHARE[make_up.shelter] * near(0.2),
        wood_moisture=float(np.clip(0.17 + plus(0.03), 0.11, 0.28)),
        curing_offset_k=plus(1.5),
        spots_k=tuple(float(abs(rng.normal()) * 18.0 * spread) for _ in range(3)),
    )


def _course(layer: Layer, thick: float, k: float, water: float, permeability: float) -> Course:
    shell = layer.kind == "shell"
    free = layer.free_water_kg_m3 * water
    porosity = max(0.05, 1.0 - layer.density_kg_m3 / 2750.0)
    return Course(
        thickness_m=layer.thickness_m * thick,
        conductivity_w_mk=layer.conductivity_w_mk * k,
        density_kg_m3=layer.density_kg_m3,
        heat_capacity_j_kgk=layer.heat_capacity_j_kgk,
        water_kg_m3=max(free, 1.0),
        permeability_m2=min(layer.permeability_m2 * permeability, 1e-12),
        held_kg_m3=max(free / 0.85, 15.0),
        porosity=porosity,
        cell_m=0.004 if shell else 0.008,
        is_shell=shell,
    )


def strength_left(temperature_c: Sequence[float] | np.ndarray) -> np.ndarray:
    """Tensile strength over that when cold, EN 1992-1-2:2004 Eq. (3.3): 1 to 100 °C, 0 at 600."""
    return np.clip(1.0 - (np.asarray(temperature_c) - 100.0) / 500.0, 0.0, 1.0)
