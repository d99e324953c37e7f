"""One oven of a trial, drawn from the seed and its own number, whatever the others are."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from tests.trials.unmet_ovens.fire import Burning, Fire
from tests.trials.unmet_ovens.make import Make, between, by_order, draw_make
from tests.trials.unmet_ovens.oven import Oven, Weather
from tests.trials.unmet_ovens.soot import Soot, SootKind
from tests.trials.unmet_ovens.structures import Structure, build

BURN_OUT_MIN = (12.0, 60.0)
CATCH_MIN = (1.0, 7.0)
EMBERS_OUTLAST = (0.7, 2.2)
WIND_FANS = (0.0, 0.06)
THICKNESS_POWER = (0.7, 1.4)
SOOT_CLEARS_C = (350.0, 392.0)
SOOT_MINUTES = (20.0, 70.0)
SOOT_J_MOL = (120e3, 220e3)
SHUT_DOOR_LETS = (0.06, 0.4)


@dataclass(frozen=True, slots=True)
class Drawn:
    """An oven, and how it was built."""

    structure: Structure
    make: Make
    oven: Oven


def generators(seed: int, number: int, count: int) -> list[np.random.Generator]:
    """Independent chance for one oven of a trial."""
    return np.random.default_rng([seed, number]).spawn(count)


def draw_oven(
    structure: Structure,
    rng: np.random.Generator,
    start: datetime,
    weather_at: Callable[[datetime], Weather],
) -> Drawn:
    """An oven as it stands at ``start``, of that structure and otherwise of any kind."""
    make = draw_make(rng)
    names, cavity, wall = build(structure, make, rng, weather_at(start).air_c)
    burning = Burning(
        burn_out_min=by_order(rng, BURN_OUT_MIN),
        thickness_power=between(rng, THICKNESS_POWER),
        catch_min=by_order(rng, CATCH_MIN),
        embers_outlast=between(rng, EMBERS_OUTLAST),
        wind_fans=between(rng, WIND_FANS),
    )
    soot = SootKind(
        between(rng, SOOT_CLEARS_C), between(rng, SOOT_MINUTES), between(rng, SOOT_J_MOL)
    )
    oven = Oven(
        zones=names,
        cavity=cavity,
        wall=wall,
        fire=Fire(burning),
        soot=Soot(soot, len(names)),
        weather_at=weather_at,
        now=start,
        door_open_share=by_order(rng, SHUT_DOOR_LETS),
    )
    return Drawn(structure, make, oven)
