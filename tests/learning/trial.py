"""Each oven of a fleet foretold from its make-up alone, and with what the others taught."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from scheduling.oven.belief import Belief
from scheduling.oven.learnt import learnt_from, narrowed
from scheduling.oven.lesson import Led, Told, told_by
from scheduling.oven.prior import Narrowed
from scheduling.record.lesson import FIRES_ERROR, FIRES_SPREAD
from tests.learning.fleet import Burnt, Floats, fleet
from tests.scheduling.oven.domes import MILD

FORETOLD: Final = ("wood", "morning", "water", "fires")
MEMBERS: Final = 100


@dataclass(frozen=True)
class Held:
    """An oven held out: 5 to 95 % of something as logarithms, from its make-up alone and with what
    was learnt, and the truth."""

    fleet: int
    what: str
    alone: tuple[float, float]
    learnt: tuple[float, float]
    true: float

    @property
    def narrower(self) -> float:
        """The width with what was learnt over that without."""
        return (self.learnt[1] - self.learnt[0]) / (self.alone[1] - self.alone[0])

    def covered(self, *, learnt: bool) -> bool:
        """Whether the truth lies within."""
        low, high = self.learnt if learnt else self.alone
        return low <= self.true <= high


def tried(number: int, ovens: int, seed: int) -> list[Held]:
    """A fleet, each of its ovens held out in turn."""
    burnt = fleet(number, ovens, seed)
    told = [told_by(one.make_up, one.facts, one.told_kg, MILD) for one in burnt]
    planned = [_fires_foretold(one) for one in burnt]
    found: list[Held] = []
    for held, one in enumerate(burnt):
        others = [index for index in range(ovens) if index != held]
        learnt = learnt_from([told[index] for index in others])
        alone_ends, learnt_ends = _ends(one, ()), _ends(one, learnt)
        true = {"wood": one.true_kg, "morning": one.morning_k, "water": one.water_l}
        found += [
            Held(number, what, alone_ends[what], learnt_ends[what], math.log(true[what]))
            for what in true
        ]
        ratios = [_ratio(burnt[index].dry_after, planned[index]) for index in others]
        ends = _fires(ratios, planned[held])
        found.append(Held(number, "fires", ends[0], ends[1], math.log(one.dry_after)))
    return found


def _ends(one: Burnt, learnt: Sequence[Narrowed]) -> dict[str, tuple[float, float]]:
    """What is foretold of an oven along its own readings, told of no morning and of no wood."""
    belief = Belief.fresh(one.make_up, one.facts[0].at, MILD, members=MEMBERS, learnt=learnt)
    led = Led(belief, MILD)
    for fact in one.facts:
        led.meets(fact)
    led.meets_all()
    worth = belief.ensemble.draws.factor("taken_up")
    wood = np.sum(list(led.taken_kg.values()), axis=0) / worth
    return {
        "wood": _middle_90(np.log(wood)),
        "morning": _middle_90(np.log(led.mornings[0][0])),
        "water": _middle_90(np.log(belief.shell_water_l(belief.settled))),
    }


def _middle_90(values: Floats) -> tuple[float, float]:
    low, high = np.quantile(values, [0.05, 0.95])
    return float(low), float(high)


def _fires_foretold(one: Burnt) -> int:
    """The number of these fires after which nine of ten members are dry."""
    belief = Belief.fresh(one.make_up, one.facts[0].at, MILD, members=MEMBERS)
    led = Led(belief, MILD)
    count = 0
    for fact in one.facts:
        led.meets(fact)
        if fact.kind == "door_set":
            led.meets_all()
            count += 1
            left = led.belief.shell_water_l()
            if np.quantile(left, 0.9) < 0.05:
                return count
    return count + 1


def _ratio(taken: int, planned: int) -> Told:
    return Told(quantity="fires", mean=math.log(taken / planned), sd=FIRES_ERROR)


def _fires(ratios: Sequence[Told], planned: int) -> tuple[tuple[float, float], ...]:
    """Fires taken, alone and learnt: whole ones, so that half a fire either way is within."""
    prior = Narrowed(quantity="fires", shift=0.0, width=1.0)
    ends = []
    for one in (prior, narrowed("fires", ratios, FIRES_SPREAD)):
        at = [FIRES_SPREAD * (one.shift + side * 1.645 * one.width) for side in (-1.0, 1.0)]
        low, high = (planned * math.exp(end) for end in at)
        ends.append((math.log(max(low - 0.5, 0.5)), math.log(high + 0.5)))
    return tuple(ends)
