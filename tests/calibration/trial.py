"""One break-in of many strange ovens at once, and what was believed of each after every fire."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Final

import numpy as np

from scheduling.oven.belief import Belief
from scheduling.oven.fire_heat import HEARTH_SHARE
from scheduling.oven.history import DoorSet, Fact, FireLit, FireOut, SurfaceRead
from tests.scheduling.oven.domes import MILD, MORNING, an_oven, hours
from tests.strange_ovens.build import Floats, made
from tests.strange_ovens.burn import Ovens, led

AIR_C = 12.0
PARTS: Final = ("crown", "coldest side", "hearth", "total", "core")
LADDER: Final = ((150.0, 4.0), (185.0, 4.0), (215.0, 4.0), (265.0, 3.0), (330.0, 3.0))
"""Plateau (°C) and hold (h) of five fires a day apart."""

CONSTRUCTIONS: Final = ("cast-dense", "brick-mortar", "cast-thin", "tile-lined")
READ_SD_K: Final = 4.0
SOME_L: Final = 0.05
"""Less water than this in a part is none, for truth and belief alike."""


@dataclass(frozen=True)
class Believed:
    """5, 50 and 95 % of a part, and the truth, after a fire (the first is 0)."""

    part: str
    fire: int
    low: float
    mid: float
    high: float
    true: float

    @property
    def within(self) -> bool:
        """Whether the truth lies in the interval."""
        slack = 0.0 if self.part == "core" else SOME_L
        return self.low - slack <= self.true <= self.high + slack


@dataclass(frozen=True)
class Batch:
    """Ovens of one construction and size, each with a belief of its own."""

    construction: str
    diameter_mm: float
    count: int
    seed: int
    members: int


def dealt(count: int, seed: int, members: int, size: int = 10) -> list[Batch]:
    """``count`` ovens dealt out to constructions and sizes, no more than ``size`` in a batch."""
    return [
        Batch(
            CONSTRUCTIONS[index % len(CONSTRUCTIONS)],
            (700.0, 850.0, 1000.0)[index % 3],
            min(size, count - index * size),
            1000 * seed + index,
            members,
        )
        for index in range(-(-count // size))
    ]


def tried(batch: Batch) -> list[Believed]:
    """The break-in of a batch."""
    make_up = an_oven(batch.construction, inner_diameter_mm=batch.diameter_mm)
    count, seed, members = batch.count, batch.seed, batch.members
    rng = np.random.default_rng([seed, 7])
    ovens = Ovens(made(make_up, count, seed), AIR_C)
    fresh = Belief.fresh(make_up, MORNING, MILD, members=members, seed=seed)
    beliefs = [fresh] * count
    found: list[Believed] = []
    for fire, (plateau_c, hold_h) in enumerate(LADDER):
        lit = MORNING + timedelta(days=fire)
        facts = _fired(ovens, plateau_c, hold_h, fire, rng)
        until = max(fact.at for fact in facts[0]) + hours(0.5)
        _cooled(ovens, 0.5, door_on=False)
        for one in range(count):
            beliefs[one] = beliefs[one].carried(facts[one], until, MILD)
            found += _compared(beliefs[one], ovens, one, fire)
            shut = DoorSet(at=until, on=True)
            beliefs[one] = beliefs[one].carried([shut], until, MILD)
        rest_h = (lit + timedelta(days=1) - until) / timedelta(hours=1)
        _cooled(ovens, rest_h - 0.05, door_on=True)
    return found


def _fired(
    ovens: Ovens, plateau_c: float, hold_h: float, fire: int, rng: np.random.Generator
) -> list[list[Fact]]:
    """Fire all ovens and note what their owners would tell: the crown before the match and every
    half hour, the coldest side an hour and a half after it and as the hold ends."""
    lit = MORNING + timedelta(days=fire)
    count = ovens.made.count
    told: list[list[Fact]] = [[] for _ in range(count)]

    def read(at_h: float, side: bool) -> None:
        noise = READ_SD_K * rng.standard_normal((2, count))
        crown = ovens.surface[:, 0] + noise[0]
        coldest = ovens.surface[:, 1:4].min(axis=1) + noise[1]
        for one in range(count):
            sides = (float(coldest[one]),) if side else ()
            told[one].append(
                SurfaceRead(at=lit + hours(at_h), top_c=float(crown[one]), side_c=sides)
            )

    if fire:
        read(0.0, side=False)
    for one in range(count):
        told[one].append(FireLit(at=lit, aim_c=plateau_c))
    start = float(ovens.surface[:, 0].mean())
    end_h = round(2.0 * ((plateau_c - start) / 100.0 + hold_h)) / 2.0

    def look(at_h: float, _: Ovens) -> None:
        if abs(2.0 * at_h - round(2.0 * at_h)) < 1e-6 and at_h < end_h + 1e-6:
            read(at_h, side=at_h in (1.5, end_h - 0.5))

    led(ovens, plateau_c, 100.0, end_h - (plateau_c - start) / 100.0, AIR_C, look)
    for one in range(count):
        told[one].append(FireOut(at=lit + hours(end_h)))
    return told


def _cooled(ovens: Ovens, rest_h: float, *, door_on: bool) -> None:
    ovens.passed(3600.0 * rest_h, AIR_C, np.zeros(ovens.made.count), door_on=door_on)


def _compared(belief: Belief, ovens: Ovens, one: int, fire: int) -> list[Believed]:
    """What is believed of every part of an oven, beside the truth: walls and hearth in litres a
    square metre, all of it in litres, the core in °C."""
    mesh, make_up = belief.ensemble.drawn.mesh, belief.make_up
    held = belief.water_by_part_l()
    believed: dict[str, Floats] = {
        "crown": held["crown"] / mesh.inner_m2[:, 0],
        "coldest side": held["coldest"] / mesh.inner_m2[:, 1],
        "hearth": held["hearth"] / (HEARTH_SHARE * make_up.dome_area_m2),
        "total": held["crown"] + held["sides"] + held["hearth"],
        "core": belief.core_each_c,
    }
    zones, area = ovens.zone_water_kg()[one], ovens.made.area_m2[one]
    coldest = 1 + int(np.argmin(ovens.surface[one, 1:4]))
    true = {
        "crown": zones[0] / area[0],
        "coldest side": zones[coldest] / area[coldest],
        "hearth": zones[4] / area[4],
        "total": zones.sum(),
        "core": ovens.core_c()[one],
    }
    return [
        Believed(part, fire, *belief.ranged(believed[part]), true=float(true[part]))
        for part in PARTS
    ]
