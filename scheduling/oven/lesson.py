"""What one oven tells, once its break-in is over: of what wood gives it and what its door loses.

All members of a fresh ensemble are led along what was read. What each then foretells (how warm the
dome is on the mornings, how much wood its fires take) is set beside what was seen, and a straight
line through the members says what that tells of each quantity (the update of an ensemble Kalman
filter, Evensen 1994). What the prior knew already is divided out again, so that ten ovens that
tell nothing do not add up to something.

Water is not among what is told. A third more of it makes the wet fires take some 3 % more wood,
and pieces that are counted are off by six times as much; surfaces and mornings show less still.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

import numpy as np
import numpy.typing as npt
from pydantic import BaseModel, ConfigDict, Field

from scheduling.oven.belief import Belief
from scheduling.oven.history import DoorSet, Fact, FireLit, FireOut, SurfaceRead
from scheduling.oven.makeup import MakeUp
from scheduling.oven.passage import wood_burnt_kg
from scheduling.oven.prior import SPREAD
from scheduling.oven.stand import Stand
from scheduling.oven.surroundings import Surroundings

Floats = npt.NDArray[np.float64]

QUANTITIES: Final = ("taken_up", "door_on")
"""Quantities of the prior that finished ovens teach. Strength and permeability, which bound the
steam, are not among them either: no reading tells of them."""

MEMBERS: Final = 100

MORNING_ERROR, WOOD_ERROR = 0.15, 0.10
"""What the model itself may be wrong by in each of the two, as a logarithm, however many fires
there were: of cooling as in ``evidence``, of wood own choice."""

READ_ERROR, FIRE_ERROR = 0.08, 0.20
"""And by chance, in each morning's excess over the air and in each fire's wood: pieces are counted,
not weighed (own choice)."""

WARM_K: Final = 20.0
"""A dome nearer to the air than this tells nothing of how it cooled."""

MEDIAN: Final = 1.25
"""Standard error of a middle value over that of a mean."""

LEAST_FIRES: Final = 3
TELLS: Final = 0.95
"""A variance that stays above this share of what it was has learnt nothing but chance."""


class Told(BaseModel):
    """What one oven tells of a quantity: the logarithm of its factor on the make-up, and one
    standard deviation, from what was seen alone."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    quantity: str
    mean: float = Field(allow_inf_nan=False)
    sd: float = Field(gt=0, allow_inf_nan=False)


@dataclass(frozen=True, slots=True)
class _Sign:
    """By how much each member (M,) foretold more than was seen, as a logarithm, with the standard
    error of what was seen."""

    over: Floats
    error: float


def told_by(
    make_up: MakeUp,
    facts: Sequence[Fact],
    wood_kg: Mapping[datetime, float],
    around: Surroundings,
    members: int = MEMBERS,
) -> tuple[Told, ...]:
    """What these facts, in order of time, tell; empty where they tell nothing. ``wood_kg`` is what
    fires burnt, by when they were lit, as far as anybody can say."""
    if not facts:
        return ()
    fresh = Belief.fresh(make_up, facts[0].at, around, members=members, spread=1.0)
    led = Led(fresh, around)
    for fact in facts:
        led.meets(fact)
    led.meets_all()
    signs = [*_mornings(led.mornings), *_wood(fresh, led.taken_kg, wood_kg)]
    return _learnt_from(fresh, signs) if signs else ()


class Led:
    """The members on their way through the facts, told of no morning. ``mornings`` are the excess
    over the air as foretold (M,) and as seen; ``taken_kg`` (M,) is what each fire took of wood that
    gives as much as the make-up says, by when it was lit."""

    def __init__(self, belief: Belief, around: Surroundings) -> None:
        self.mornings: list[tuple[Floats, float]] = []
        self.taken_kg: dict[datetime, Floats] = {}
        self.belief, self._around = belief, around
        self._waiting: list[Fact] = []
        self._burning, self._lit_at = False, belief.at
        self._last: Stand | None = None

    def meets(self, fact: Fact) -> None:
        """The next fact."""
        if isinstance(fact, SurfaceRead) and not self._burning:
            if not fact.between:
                self._see(fact)
            return
        if isinstance(fact, FireLit) and not self._burning:
            self.meets_all()
            self._burning = True
            self._lit_at = fact.at
            self.taken_kg[fact.at] = np.zeros(self.belief.members)
        if isinstance(fact, FireOut) or (isinstance(fact, DoorSet) and fact.on):
            self._burning = False
        self._waiting.append(fact)

    def meets_all(self, until: datetime | None = None) -> None:
        """Carry the members through what waits, and on until then."""
        told, self._waiting = self._waiting, []
        if told or until is not None:
            ends = until or told[-1].at
            self.belief = self.belief.carried(told, ends, self._around, self._watch)

    def _see(self, read: SurfaceRead) -> None:
        self.meets_all(read.at)
        air_c = self._around.air_at(read.at)
        if read.top_c is not None and self.taken_kg and read.top_c - air_c >= WARM_K:
            foretold = self.belief.present.face_c[:, 0] - air_c
            self.mornings.append((foretold, read.top_c - air_c))

    def _watch(self, stand: Stand) -> None:
        before, self._last = self._last, stand
        if before is None or stand.lit is None or not self.taken_kg:
            return
        ensemble, mesh = self.belief.ensemble, self.belief.ensemble.drawn.mesh
        inmost = stand.wall.temperature_c[:, mesh.hot_cells]
        heat_in_w = mesh.inner_w_k * (stand.face_c - inmost)
        air_c = self._around.air_at(stand.at)
        kg = wood_burnt_kg(ensemble, before, stand, heat_in_w, air_c)
        self.taken_kg[self._lit_at] += kg * ensemble.draws.factor("taken_up")


def _mornings(mornings: Sequence[tuple[Floats, float]]) -> list[_Sign]:
    """How warm the dome was before its fires: of all mornings the middle one, so that a single
    wild number decides nothing."""
    if not mornings:
        return []
    over = np.median([np.log(np.maximum(one, 1.0) / seen) for one, seen in mornings], axis=0)
    return [_Sign(over, math.hypot(MORNING_ERROR, MEDIAN * READ_ERROR / len(mornings) ** 0.5))]


def _wood(
    belief: Belief, taken_kg: Mapping[datetime, Floats], burnt_kg: Mapping[datetime, float]
) -> list[_Sign]:
    """How much wood the fires took: of all fires the middle one."""
    overs = [
        np.log(np.maximum(need, 1e-3) / kg)
        for lit_at, need in taken_kg.items()
        if (kg := burnt_kg.get(lit_at, 0.0)) > 0
    ]
    if len(overs) < LEAST_FIRES:
        return []
    worth = SPREAD["taken_up"] * belief.ensemble.draws.of("taken_up")
    error = math.hypot(WOOD_ERROR, MEDIAN * FIRE_ERROR / len(overs) ** 0.5)
    return [_Sign(np.median(overs, axis=0) - worth, error)]


def _learnt_from(belief: Belief, signs: Sequence[_Sign]) -> tuple[Told, ...]:
    """What the signs together tell of each quantity, the prior divided out."""
    over = np.array([one.over for one in signs])
    middle = over.mean(axis=1)
    spread = np.atleast_2d(np.cov(over)) + np.diag([one.error**2 for one in signs])
    found = []
    for quantity in QUANTITIES:
        prior = SPREAD[quantity] ** 2
        logs = SPREAD[quantity] * belief.ensemble.draws.of(quantity)
        shared = (over - middle[:, np.newaxis]) @ logs / (logs.size - 1)
        gain = np.linalg.solve(spread, shared)
        after = prior - float(gain @ shared)
        if 0.0 < after < TELLS * prior:
            precision = 1.0 / after - 1.0 / prior
            mean = -float(gain @ middle) / after / precision
            found.append(Told(quantity=quantity, mean=mean, sd=precision**-0.5))
    return tuple(found)
