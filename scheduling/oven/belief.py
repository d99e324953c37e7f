"""What is believed of an oven: an ensemble carried through what happened to it.

    belief = Belief.fresh(make_up, at, surroundings, seed=1)
    belief = belief.carried(facts, until, surroundings)

Facts may come one at a time or all at once: what is believed afterwards is the same. While a
fire burns, the time since its last reading is kept open, so that the next reading can say what
happened in it.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, time, timedelta
from typing import NamedTuple, Self

import numpy as np
import numpy.typing as npt

from scheduling.oven import hearth
from scheduling.oven.evidence import likelihood, resampled
from scheduling.oven.history import (
    DoorSet,
    Fact,
    FireLit,
    FireOut,
    Rendered,
    Soaked,
    SurfaceRead,
    in_order,
)
from scheduling.oven.makeup import Door, MakeUp
from scheduling.oven.maturity import ageing_rate, strength_ratio
from scheduling.oven.passage import Watch, burnt_on, cooled, driven
from scheduling.oven.prior import drawn, members_of, usual_spread
from scheduling.oven.stand import Ensemble, Stand
from scheduling.oven.surroundings import Surroundings
from scheduling.oven.wall import at_rest, water_kg
from scheduling.oven.weathering import soaked

Floats = npt.NDArray[np.float64]

MEMBERS = 200

COUNTED_STRENGTH = 0.96
"""Strength beyond that which the cure waits for is not counted: heat and drying stop the
hydration of a hot face, and a gap must not raise what a wall is taken to carry."""

REST_OF_SIDES = 0.3
"""How far the mean of all sides has dried from the coldest toward the crown (own choice)."""

SOAKED_BACK_K = 100.0
LEAST_REACHED_C = 55.0
"""A soaking takes one step back; so low that the next fire is a first fire again."""


class BeliefError(ValueError):
    """A kept belief cannot be used; replay the journal instead."""


class Range(NamedTuple):
    """A cautious low, the middle, a cautious high."""

    low: float
    mid: float
    high: float


@dataclass(frozen=True)
class Belief:
    """An ensemble of M members at an instant. ``weights`` (M,) sum to 1.

    ``settled`` is how everything stood when it was last known for sure how time had passed,
    ``open_facts`` what happened since, ``present`` how it stands at ``at``.
    """

    ensemble: Ensemble
    weights: Floats
    settled: Stand
    present: Stand
    open_facts: tuple[Fact, ...] = ()

    @classmethod
    def fresh(
        cls,
        make_up: MakeUp,
        at: datetime,
        surroundings: Surroundings,
        *,
        members: int = MEMBERS,
        seed: int = 1,
        spread: float | None = None,
        age_d: float | None = None,
    ) -> Self:
        """An oven that was never fired, as its make-up describes it.

        ``age_d`` is the mortar's equivalent age (``maturity.Cure.age_d``); without it the mortar
        is taken to have aged since the wet work ended in the air that ``surroundings`` give.
        ``spread`` widens the prior beyond what the instrument, or the lack of one, makes it.
        """
        draws = drawn(members, seed, usual_spread(make_up) if spread is None else spread)
        ensemble = Ensemble(make_up, draws, members_of(make_up, draws))
        air_c = surroundings.air_at(at)
        wall = at_rest(ensemble.drawn.mesh, air_c, ensemble.drawn.water_kg_m3)
        if age_d is None:
            age_d = _age_d(make_up, at, surroundings)
        zero = np.zeros((members, 2))
        stand = Stand(
            at=at,
            wall=wall,
            hearth=hearth.at_rest(ensemble.drawn.hearth, air_c, ensemble.drawn.hearth_water_kg_m3),
            face_c=np.full((members, 2), air_c),
            fire_w_m2=zero,
            peak_pa=zero,
            age_d=max(0.0, age_d),
            door_on=make_up.door is not Door.NONE,
        )
        return cls(ensemble, np.full(members, 1.0 / members), stand, stand)

    # ------------------------------------------------------------ carrying on

    def carried(
        self,
        facts: Iterable[Fact],
        until: datetime,
        surroundings: Surroundings,
        watch: Watch | None = None,
    ) -> "Belief":
        """The belief at ``until``, after ``facts``. Raises DisorderError.

        ``watch`` is called with every stand on the way (not for what is still open).
        """
        known = in_order((*self.open_facts, *facts), self.settled.at, until)
        belief, index = replace(self, open_facts=()), 0
        while index < len(known):
            if not belief.settled.burning:
                belief = belief._cooled_to(known[index].at, surroundings, watch)
                belief = belief._told(known[index])
                index += 1
                continue
            ends = next((i for i in range(index, len(known)) if _settles(known[i])), None)
            if ends is None:
                break
            belief = belief._burnt_to(known[ends], known[index:ends], surroundings, watch)
            for fact in known[index : ends + 1]:
                belief = belief._told(fact)
            index = ends + 1
        if not belief.settled.burning:
            belief = belief._cooled_to(until, surroundings, watch)
            return replace(belief, present=belief.settled)
        open_facts = known[index:]
        present = burnt_on(belief.ensemble, belief.settled, until, open_facts, surroundings)
        return replace(belief, present=present, open_facts=open_facts)

    def _cooled_to(self, at: datetime, around: Surroundings, watch: Watch | None) -> "Belief":
        return replace(self, settled=cooled(self.ensemble, self.settled, at, around, watch))

    def _burnt_to(
        self,
        fact: Fact,
        between: tuple[Fact, ...],
        around: Surroundings,
        watch: Watch | None,
    ) -> "Belief":
        if isinstance(fact, SurfaceRead):
            stand = driven(self.ensemble, self.settled, fact, between, around, watch)
        else:
            stand = burnt_on(self.ensemble, self.settled, fact.at, between, around, watch)
        return replace(self, settled=stand)

    def _told(self, fact: Fact) -> "Belief":
        """What a fact changes at its instant."""
        stand = self.settled
        if isinstance(fact, FireLit):
            if stand.burning:
                return self
            none = np.zeros_like(stand.peak_pa)
            return self._with(
                replace(
                    stand,
                    reached_c=stand.built_on_c(fact.at),
                    lit=fact,
                    read_at=None,
                    top_c=None,
                    peak_pa=none,
                    door_on=False,
                )
            )
        if isinstance(fact, FireOut):
            return self._with(stand.put_out())
        if isinstance(fact, DoorSet):
            stand = stand.put_out() if fact.on else stand
            return self._with(replace(stand, door_on=fact.on))
        if isinstance(fact, SurfaceRead):
            return self if stand.burning or fact.between else self._weighed(fact)
        if isinstance(fact, Soaked):
            return self._with(self._soaked(stand, fact))
        if isinstance(fact, Rendered):
            return self._with(self._rendered(stand, fact))
        return self

    def _with(self, stand: Stand) -> "Belief":
        return replace(self, settled=stand)

    def _soaked(self, stand: Stand, fact: Soaked) -> Stand:
        drawn = self.ensemble.drawn
        deviates = self.ensemble.draws.of("soaking")
        if fact.rain_mm is not None:
            deviates = deviates + 2.0 * np.log(max(fact.rain_mm, 1.0) / 20.0)
        wall = soaked(drawn.mesh, stand.wall, drawn.water_kg_m3, deviates)
        reached = stand.reached_c
        if reached is not None:
            reached = max(LEAST_REACHED_C, reached - SOAKED_BACK_K)
        return replace(stand, wall=wall, reached_c=reached)

    def _rendered(self, stand: Stand, fact: Rendered) -> Stand:
        mesh, fresh = self.ensemble.drawn.mesh, self.ensemble.drawn.water_kg_m3
        wetted = mesh.coat | (mesh.shell if fact.reaches_shell else mesh.coat)
        water = np.where(wetted, np.maximum(stand.wall.water_kg_m3, fresh), stand.wall.water_kg_m3)
        stand = replace(stand, wall=replace(stand.wall, water_kg_m3=water))
        return replace(stand, age_d=0.0, reached_c=None) if fact.reaches_shell else stand

    # ------------------------------------------------------------ evidence

    def _weighed(self, read: SurfaceRead) -> "Belief":
        """Weigh the members by how well each foresaw a reading of the unlit dome."""
        likely = self.weights * likelihood(self.settled.face_c, read)
        likely /= likely.sum()
        if 1.0 / float((likely**2).sum()) >= 0.5 * likely.size:
            return replace(self, weights=likely)
        return self._resampled(likely)

    def _resampled(self, weights: Floats) -> "Belief":
        """Members as often as they weigh, all of equal weight again."""
        return replace(
            self.of_members(resampled(weights)), weights=np.full(weights.size, 1.0 / weights.size)
        )

    def of_members(self, chosen: npt.NDArray[np.intp]) -> "Belief":
        """Some members only, in that order, their weights rescaled."""
        draws = self.ensemble.draws.of_members(chosen)
        ensemble = Ensemble(self.ensemble.make_up, draws, members_of(self.ensemble.make_up, draws))
        weights = self.weights[chosen] / self.weights[chosen].sum()
        return Belief(
            ensemble,
            weights,
            self.settled.of_members(chosen),
            self.present.of_members(chosen),
            self.open_facts,
        )

    # ------------------------------------------------------------ asking

    @property
    def at(self) -> datetime:
        """The instant that ``present`` stands for."""
        return self.present.at

    @property
    def make_up(self) -> MakeUp:
        """The oven."""
        return self.ensemble.make_up

    @property
    def members(self) -> int:
        """How many members."""
        return int(self.weights.size)

    def quantile(self, values: Floats, q: float) -> float:
        """Weighted quantile of (M,) values: the least value that ``q`` of the weight lies at or
        below. No interpolation, so that "in 95 % of members" is meant literally."""
        order = np.argsort(values, kind="stable")
        reached = np.cumsum(self.weights[order])
        index = int(np.searchsorted(reached, q * reached[-1] - 1e-12))
        return float(values[order[min(index, values.size - 1)]])

    def ranged(self, values: Floats) -> Range:
        """5 %, 50 % and 95 % of (M,) values."""
        low, mid, high = (self.quantile(values, q) for q in (0.05, 0.5, 0.95))
        return Range(low, mid, high)

    def shell_water_l(self, stand: Stand | None = None) -> Floats:
        """Free water left in the shell of each member, crown and sides together (M,), litres."""
        mesh = self.ensemble.drawn.mesh
        held = water_kg(mesh, (stand or self.present).wall, mesh.shell)
        return np.asarray(held.sum(axis=1))

    def water_by_part_l(self, stand: Stand | None = None) -> dict[str, Floats]:
        """Free water left (M,) each, litres: in the shell of the crown, in that of the sides if all
        were as the coldest, as they may be on the mean, and in the hearth's tiles."""
        at = stand or self.present
        drawn = self.ensemble.drawn
        crown, coldest = water_kg(drawn.mesh, at.wall, drawn.mesh.shell).T
        as_crown = crown * drawn.mesh.inner_m2[:, 1] / drawn.mesh.inner_m2[:, 0]
        sides = coldest + REST_OF_SIDES * (np.minimum(as_crown, coldest) - coldest)
        tiles = hearth.tile_water_kg(drawn.hearth, at.hearth).sum(axis=1)
        return {"crown": crown, "coldest": coldest, "sides": sides, "hearth": tiles}

    def water_l(self, q: float) -> float:
        """Quantile of the water left in the shell, litres."""
        return self.quantile(self.shell_water_l(), q)

    @property
    def water_left_l(self) -> Range:
        """Water left in the shell, litres."""
        return self.ranged(self.shell_water_l())

    def surface_c(self, spot: str = "top") -> Range:
        """Surface temperature of the crown (``top``) or a side."""
        return self.ranged(self.present.face_c[:, 0 if spot == "top" else 1])

    @property
    def core_each_c(self) -> Floats:
        """Temperature of each member halfway through the shell, crown (M,)."""
        mesh = self.ensemble.drawn.mesh
        crown = self.present.wall.temperature_c[:, mesh.cells - 1 :: -1]
        middle = 0.5 * self.make_up.shell_thickness_mm
        place = int(np.searchsorted(mesh.depth_mm, middle))
        share = (middle - mesh.depth_mm[place - 1]) / np.diff(mesh.depth_mm)[place - 1]
        return np.asarray(crown[:, place - 1] + share * (crown[:, place] - crown[:, place - 1]))

    @property
    def core_c(self) -> Range:
        """The same of all, 5, 50 and 95 %."""
        return self.ranged(self.core_each_c)

    @property
    def door_loss(self) -> Range:
        """Loss with the door on, W/m²K of dome."""
        return self.ranged(self.ensemble.drawn.door_on_w_m2k)

    @property
    def strength_ratio(self) -> float:
        """Share of the mortar's 28-day strength, without any cap."""
        return strength_ratio(self.present.age_d, self.make_up.cement_class)

    def allowed_pa(self, safety: float) -> Floats:
        """Steam overpressure that each member may carry (M,)."""
        counted = min(self.strength_ratio, COUNTED_STRENGTH)
        return np.maximum(self.ensemble.drawn.strength_pa * counted / safety, 1.0)

    def steam_shares(self, safety: float, stand: Stand | None = None) -> Floats:
        """Highest steam pressure of the present fire over its limit, the worse wall (M,)."""
        peak = (stand or self.present).peak_pa.max(axis=1)
        return np.asarray(peak / self.allowed_pa(safety))

    def steam_share(self, q: float = 0.95, safety: float = 3.0) -> float:
        """Quantile of the above."""
        return self.quantile(self.steam_shares(safety), q)

    def to_bytes(self) -> bytes:
        """Packed for a cache (see ``kept``, which stands on this file)."""
        from scheduling.oven.kept import packed

        return packed(self)

    @classmethod
    def from_bytes(cls, kept: bytes) -> "Belief":
        """Unpacked again. Raises BeliefError."""
        from scheduling.oven.kept import unpacked

        return unpacked(kept)


def _settles(fact: Fact) -> bool:
    """Whether a fact says how a burning fire went up to it."""
    return isinstance(fact, SurfaceRead | FireOut) or (isinstance(fact, DoorSet) and fact.on)


def _age_d(make_up: MakeUp, at: datetime, around: Surroundings) -> float:
    """Equivalent age in the air that is known, day by day."""
    noon = datetime.combine(make_up.wet_work_ended, time(12), UTC)
    days = int(max(0, (at - noon) // timedelta(days=1)))
    return sum(
        ageing_rate(around.mean_air_c(noon + timedelta(days=i), noon + timedelta(days=i + 1)))
        for i in range(min(days, 400))
    )
