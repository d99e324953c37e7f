"""Four structures of ovens, each a cavity and a wall with equations of their own.

``zones`` and ``skin`` are there to tune on, ``leaky`` and ``lopsided`` are kept back.
"""

from collections.abc import Callable
from dataclasses import replace
from enum import StrEnum

import numpy as np

from tests.trials.unmet_ovens.cavity import Cavity, Draughty, FaceToFace, Mouth, OneGlow
from tests.trials.unmet_ovens.make import Make, between, by_order
from tests.trials.unmet_ovens.skin import Front, Lumps, SkinOverMass
from tests.trials.unmet_ovens.slab import Drying, Layer, Pores, Slab
from tests.trials.unmet_ovens.steam import Floats
from tests.trials.unmet_ovens.wall import Wall

KEEPS = (0.30, 0.65)
"""Share of the heat of a fire that reaches the walls."""
OUTSIDE_W_M2_K = 9.0
CLINGS_K = (15.0, 90.0)

Built = tuple[tuple[str, ...], Cavity, Wall]


class Structure(StrEnum):
    """Those there are."""

    ZONES = "zones"
    SKIN = "skin"
    LEAKY = "leaky"
    LOPSIDED = "lopsided"


FOR_TUNING = (Structure.ZONES, Structure.SKIN)
KEPT_BACK = (Structure.LEAKY, Structure.LOPSIDED)


def build(structure: Structure, make: Make, rng: np.random.Generator, start_c: float) -> Built:
    """An oven of that structure; all that the make leaves open is drawn."""
    return _BUILDERS[structure](make, rng, start_c)


def zones(make: Make, rng: np.random.Generator, start_c: float) -> Built:
    """Crown, sides and hearth that radiate to each other as faces in a sphere do."""
    crown = between(rng, (0.3, 0.5))
    areas = np.array([crown, 1.0 - crown, 0.0]) * make.dome_m2
    areas[-1] = make.hearth_m2
    sees = between(rng, (0.55, 1.1)) * np.outer(areas, areas) / areas.sum()
    np.fill_diagonal(sees, 0.0)
    leans = np.array(
        [between(rng, (1.1, 2.0)), between(rng, (0.65, 1.05)), between(rng, (0.4, 0.9))]
    )
    keeps = between(rng, KEEPS)
    cavity = FaceToFace(
        areas,
        sees,
        flames=_shares(areas * leans),
        embers=_shares(areas * np.array([1.0, 0.9, between(rng, (1.2, 2.5))])),
        keeps=keeps,
        keeps_of_embers=min(0.8, keeps + between(rng, (0.0, 0.2))),
        views=_shares(areas * np.array([0.8, 1.2, 1.0])),
        mouth=_mouth(make, rng),
    )
    return ("crown", "sides", "hearth"), cavity, _slab(make, rng, (1.0, 1.0), start_c)


def skin(make: Make, rng: np.random.Generator, start_c: float) -> Built:
    """A skin that follows the flames, over a mass that follows the day."""
    crown = between(rng, (0.35, 0.6))
    areas = np.array([crown, 1.0 - crown, 0.0]) * make.dome_m2
    areas[-1] = make.hearth_m2
    cavity = OneGlow(
        areas,
        leans=np.array([1.0, between(rng, (0.6, 1.0)), between(rng, (0.3, 0.9))]),
        couples_w_m2_k=between(rng, (4.0, 11.0)),
        keeps=between(rng, KEEPS),
        views=_shares(areas),
        mouth=_mouth(make, rng),
    )
    skin_m = between(rng, (0.004, 0.012))
    grip = by_order(rng, (0.6, 1.6))
    lumps = [
        _lumps(make, skin_m, grip, water)
        for water in (make.water_kg_m3, make.water_kg_m3 * between(rng, (0.8, 1.4)))
    ]
    front = Front(
        boils_w_k=between(rng, (12.0, 50.0)),
        hours_at_80=by_order(rng, (8.0, 60.0)),
        permeability_m2=make.permeability_m2,
        limit_pa=make.limit_pa,
        clings_k=between(rng, CLINGS_K),
    )
    wall = SkinOverMass((*lumps, _hearth_lumps(make, skin_m, grip)), front, start_c)
    return ("crown", "sides", "hearth"), cavity, wall


def leaky(make: Make, rng: np.random.Generator, start_c: float) -> Built:
    """A wide mouth with a strong draught, that robs most of the heat and chills the front."""
    crown, back = between(rng, (0.3, 0.45)), between(rng, (0.25, 0.35))
    areas = np.array([crown, back, 1.0 - crown - back, 0.0]) * make.dome_m2
    areas[-1] = make.hearth_m2
    seen = areas * np.array([1.4, 1.2, 0.7, 0.8])
    warm = between(rng, (9.0, 26.0))
    wide = replace(_mouth(make, rng), area_m2=make.mouth_m2 * between(rng, (1.1, 1.6)))
    cavity = Draughty(
        areas,
        radiates=between(rng, (0.30, 0.50)),
        sees=_shares(seen) * between(rng, (0.75, 0.95)),
        warms_w_m2_k=np.array([1.3, 1.0, 0.6, 0.35]) * warm,
        draught_m3_s=between(rng, (0.008, 0.024)),
        front=_shares(areas * np.array([0.6, 0.5, 2.0, 1.4])),
        chills_w_m2_k=between(rng, (1.0, 5.0)),
        couples_w_m2_k=between(rng, (3.0, 8.0)),
        views=_shares(areas * np.array([0.8, 1.3, 0.4, 1.2])),
        mouth=wide,
    )
    names = ("crown", "back", "front", "hearth")
    return names, cavity, _slab(make, rng, (1.0, 1.0, 1.0), start_c, Drying.BY_AND_BY)


def lopsided(make: Make, rng: np.random.Generator, start_c: float) -> Built:
    """A fire that lies to one side, and a wall of uneven thickness: sides that lag or lead."""
    parts = np.array([between(rng, (0.25, 0.4)), 1.0, 1.0, between(rng, (0.7, 1.2)), 0.0])
    parts[1:4] *= (1.0 - parts[0]) / parts[1:4].sum()
    areas = parts * make.dome_m2
    areas[-1] = make.hearth_m2
    near = between(rng, (-0.5, 0.5))
    leans = np.array(
        [
            between(rng, (1.0, 1.5)),
            between(rng, (0.85, 1.1)) + near,
            between(rng, (0.85, 1.1)) - near,
            between(rng, (0.7, 1.3)),
            between(rng, (0.4, 0.9)),
        ]
    )
    cavity = OneGlow(
        areas,
        leans=leans,
        couples_w_m2_k=between(rng, (4.0, 12.0)),
        keeps=between(rng, KEEPS),
        views=_shares(areas),
        mouth=_mouth(make, rng),
    )
    uneven = (1.0, *(between(rng, (0.75, 1.35)) for _ in range(3)))
    names = ("crown", "left", "right", "back", "hearth")
    return names, cavity, _slab(make, rng, uneven, start_c)


_BUILDERS: dict[Structure, Callable[[Make, np.random.Generator, float], Built]] = {
    Structure.ZONES: zones,
    Structure.SKIN: skin,
    Structure.LEAKY: leaky,
    Structure.LOPSIDED: lopsided,
}


def _shares(weights: Floats) -> Floats:
    return np.asarray(weights / weights.sum())


def _mouth(make: Make, rng: np.random.Generator) -> Mouth:
    return Mouth(make.mouth_m2, between(rng, (8.0, 35.0)), between(rng, (0.01, 0.07)))


def _slab(
    make: Make,
    rng: np.random.Generator,
    thickness: tuple[float, ...],
    start_c: float,
    drying: Drying | None = None,
) -> Slab:
    """``thickness`` of each dome zone, over that of the crown."""
    pores = Pores(
        permeability_m2=make.permeability_m2,
        opens=make.opens,
        holds_kg_m3=make.water_kg_m3 * between(rng, (1.3, 2.2)),
        limit_pa=make.limit_pa,
        outward=between(rng, (0.55, 0.95)),
        resists=by_order(rng, (12.0, 90.0)),
        drying=drying or (Drying.BOILING if rng.random() < 0.7 else Drying.BY_AND_BY),
        hours_at_100=by_order(rng, (1.5, 9.0)),
        energy_j_mol=between(rng, (35e3, 60e3)),
        clings_k=between(rng, CLINGS_K),
    )
    dome = tuple(
        _layers(make, factor, make.water_kg_m3 * (between(rng, (0.75, 1.4)) if at else 1.0))
        for at, factor in enumerate(thickness)
    )
    return Slab((*dome, _hearth(make)), pores, start_c, OUTSIDE_W_M2_K)


def _layers(make: Make, factor: float, water_kg_m3: float) -> tuple[Layer, ...]:
    shell_m = make.shell_m * factor - make.tile_m
    tile = Layer(make.tile_m, 1.1, 1.9e6, 0.25 * water_kg_m3)
    shell = Layer(shell_m, make.conductivity, make.heat_j_m3, water_kg_m3)
    cover = Layer(make.cover_m, make.cover_k, 2.5e5, make.cover_water_kg_m3, shell=False)
    render = Layer(make.render_m, 0.8, 1.6e6, 0.0, shell=False)
    return (*((tile,) if make.tile_m else ()), shell, cover, render)


def _hearth(make: Make) -> tuple[Layer, ...]:
    brick = Layer(make.hearth_m, make.hearth_k, 1.9e6, 10.0)
    under = Layer(0.07, 0.15, 5.0e5, 0.0, shell=False)
    return brick, under, Layer(0.05, 1.2, 2.0e6, 0.0, shell=False)


def _lumps(make: Make, skin_m: float, grip: float, water_kg_m3: float) -> Lumps:
    deep_m = make.shell_m - skin_m
    core_m, back_m = 0.45 * deep_m, 0.55 * deep_m
    heat = tuple(make.heat_j_m3 * metres for metres in (skin_m, core_m, back_m))
    water = tuple(water_kg_m3 * metres for metres in (skin_m, core_m, back_m))
    return Lumps(
        heat_j_k=(heat[0], heat[1], heat[2]),
        skin_to_core_w_k=grip * make.conductivity / (core_m / 2.0 + skin_m / 2.0),
        core_to_back_w_k=make.conductivity / (deep_m / 2.0),
        outside_w_k=1.0 / (make.cover_resists + 1.0 / OUTSIDE_W_M2_K),
        water_kg=(water[0], water[1], water[2]),
        core_m=core_m,
        back_m=back_m,
    )


def _hearth_lumps(make: Make, skin_m: float, grip: float) -> Lumps:
    floor = replace(make, shell_m=make.hearth_m, heat_j_m3=1.9e6, cover_m=0.07, cover_k=0.15)
    return _lumps(floor, skin_m, grip, 8.0)
