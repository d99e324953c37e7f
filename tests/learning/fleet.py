"""Ovens of one builder and model: strange ovens that have more in common than their make-up."""

from dataclasses import dataclass, fields, replace
from datetime import datetime, timedelta
from typing import Final

import numpy as np
import numpy.typing as npt

from scheduling.oven.history import DoorSet, Fact
from scheduling.oven.makeup import MakeUp
from tests.calibration.trial import AIR_C, LADDER, SOME_L, _cooled, _fired
from tests.scheduling.oven.domes import MORNING, an_oven, hours
from tests.strange_ovens.build import Made, made
from tests.strange_ovens.burn import Ovens

Floats = npt.NDArray[np.float64]

CONSTRUCTIONS: Final = ("cast-dense", "brick-mortar", "cast-thin", "tile-lined")
COMMON: Final = 0.6
"""Share of each property's spread that a whole fleet shares: the rest is from oven to oven."""

SHARED: Final = (
    "door_w_m2k", "radiant", "unburnt", "moisture", "recirculated", "plume", "upper_film", "vents",
    "releases_s", "mouth_m2", "lean", "conductivity", "capacity", "water", "size_m",
)  # fmt: skip

HAND_SD, COUNT_SD = 0.15, 0.12
"""How far an owner's pieces are from the weight that they are taken for, as logarithms: of all
their fires, and of each."""


@dataclass(frozen=True)
class Burnt:
    """What became of one oven. ``facts`` and ``told_kg`` are what its owner told. In truth
    ``true_kg`` of wood were burnt, the dome lay ``morning_k`` above the air on the morning after
    the first fire, its shell held ``water_l`` at first, and none was left in it after ``dry_after``
    fires (one more than there were where some was)."""

    make_up: MakeUp
    facts: tuple[Fact, ...]
    told_kg: dict[datetime, float]
    true_kg: float
    morning_k: float
    dry_after: int
    water_l: float


def fleet(number: int, ovens: int, seed: int) -> list[Burnt]:
    """The break-ins of a fleet, all drawn from its number and the seed."""
    rng = np.random.default_rng([seed, number, 3])
    make_up = an_oven(
        CONSTRUCTIONS[number % len(CONSTRUCTIONS)],
        inner_diameter_mm=float(rng.choice([700.0, 850.0, 1000.0])),
    )
    return _broken_in(make_up, _alike(made(make_up, ovens + 1, 1000 * seed + number)), rng)


def _alike(drawn: Made) -> Made:
    """The first oven of a draw is what the others have in common with each other."""
    share = COMMON**0.5, (1.0 - COMMON) ** 0.5
    new = {}
    for name in SHARED:
        logs = np.log(np.maximum(getattr(drawn, name), 1e-9))
        middle = logs.mean(axis=0)
        new[name] = np.exp(middle + share[0] * (logs[0] - middle) + share[1] * (logs - middle))
    structure = np.full_like(drawn.structure, drawn.structure[0])
    both = replace(drawn, structure=structure, **new)
    arrays = {f.name: getattr(both, f.name) for f in fields(both) if f.name not in WHOLE}
    return replace(both, **{name: values[1:] for name, values in arrays.items()})


WHOLE: Final = ("make_up", "is_shell")


def _broken_in(make_up: MakeUp, drawn: Made, rng: np.random.Generator) -> list[Burnt]:
    ovens, count = Ovens(drawn, AIR_C), drawn.count
    water_l = ovens.zone_water_kg()[:, :4].sum(axis=1)
    facts: list[list[Fact]] = [[] for _ in range(count)]
    hand = np.exp(HAND_SD * rng.standard_normal(count))
    told_kg: list[dict[datetime, float]] = [{} for _ in range(count)]
    morning_k = np.zeros(count)
    dry_after = np.full(count, len(LADDER) + 1)
    for fire, (plateau_c, hold_h) in enumerate(LADDER):
        lit, before_kg = MORNING + timedelta(days=fire), ovens.wood_kg.copy()
        told = _fired(ovens, plateau_c, hold_h, fire, rng)
        burnt_kg = ovens.wood_kg - before_kg
        until = max(fact.at for fact in told[0]) + hours(0.5)
        _cooled(ovens, 0.5, door_on=False)
        left = ovens.zone_water_kg()[:, :4].sum(axis=1)
        dry_after = np.where((left < SOME_L) & (dry_after > fire + 1), fire + 1, dry_after)
        counted = burnt_kg * hand * np.exp(COUNT_SD * rng.standard_normal(count))
        for one in range(count):
            facts[one] += [*told[one], DoorSet(at=until, on=True)]
            told_kg[one][lit] = float(counted[one])
        rest_h = (lit + timedelta(days=1) - until) / timedelta(hours=1)
        _cooled(ovens, rest_h - 0.05, door_on=True)
        if fire == 0:
            morning_k = ovens.surface[:, 0] - AIR_C
    return [
        Burnt(
            make_up, tuple(facts[one]), told_kg[one], float(ovens.wood_kg[one]),
            float(morning_k[one]), int(dry_after[one]), float(water_l[one]),
        )
        for one in range(count)
    ]  # fmt: skip
