"""How a dome may answer wood: many ways at once, and which of them fit what was read.

The crown is a skin over the mass behind it. Wood lies unlit, catches, and burns away::

    dT/dt = g w - l (T - air) - s (T - M)        the skin, °C
    dM/dt = s/d (T - M)                          what lies behind it
    w = b/τ,  db/dt = u/c - b/τ,  du/dt = -u/c   burning and unlit wood, kg

Gain g (K/kg), loss l, soak s (1/h), depth d, burning time τ and catching time c (h) differ from
sample to sample. Between two readings a sample foretells the second; how well it does is how much
it weighs. A massive dome, a thin one, a skin over a slow heap, quick sticks and sulking logs all
lie within (own choice of model and widths).
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from scheduling.firing.wood import AIR_C
from scheduling.oven.compiled import compiled

Floats = npt.NDArray[np.float64]
Places = npt.NDArray[np.intp]

STEP_H = 1.0 / 24.0
SAMPLES = 400
SEED = 20

GAIN, LOSS, SOAK, DEPTH, BURNS, CATCHES = range(6)
MEDIANS = (1.5, 0.25, 0.8, 5.0, 0.0075, 0.06)
"""Gain as a multiple of the first guess, which has an hour's soaking in it; loss and soak (1/h),
depth, hours of burning to 1/e for each millimetre of thickness, hours of catching. Readings come
in the troughs between charges: a slow burn guessed would hide how high it peaks."""
SPREADS = (0.5, 0.5, 0.7, 0.6, 0.5, 0.7)
"""Standard deviations of their logarithms."""

READ_SD_K, READ_SHARE = 8.0, 0.04
"""What a reading foretold may be off: hand and spot, and a share of the dome's excess."""

FREEDOM = 4.0
"""Degrees of freedom of its distribution (Student's t): one odd reading must not rule."""

TAKEN = 0.8
"""So far a sample's skin is moved to what was read."""

TEMPERS = (0.15, 0.5, 1.0)
"""Shares of the evidence after which samples are drawn anew, so that some are left."""
KERNEL = 0.4
"""Width of a redrawn sample over that of all (after Liu and West: mean and spread stay)."""

MOST_UNREAD_H = 1.6
"""Over a longer gap nothing is learnt: too much may have happened."""


@dataclass(frozen=True, slots=True)
class Course:
    """A fire as its samples are run through it. Times in hours from the match, ascending:
    ``wood`` (n, 3) when, kg, mm; ``read`` (m, 2) when, °C."""

    start_c: float
    wood: Floats
    read: Floats
    now_h: float


@dataclass(frozen=True, slots=True)
class Samples:
    """Ways that a dome may answer: ``ways`` (S, 6) as above, the burning time by the millimetre."""

    ways: Floats

    @classmethod
    def guessed(cls, gain_k_kg: float, samples: int = SAMPLES) -> "Samples":
        """Before anything was read; ``gain_k_kg`` is what the make-up promises."""
        normal = np.random.default_rng(SEED).standard_normal((samples, len(MEDIANS)))
        medians = np.array(MEDIANS)
        medians[GAIN] *= gain_k_kg
        return cls(medians * np.exp(np.array(SPREADS) * normal))

    def fitted(self, course: Course, weight: float = 1.0) -> "Samples":
        """The same after a fire, of whose evidence so much counts."""
        now, before = self, 0.0
        dice = np.random.default_rng(SEED + len(course.read))
        for temper in TEMPERS:
            share, before = weight * (temper - before), temper
            now = now._redrawn(share * now.run(course).fits, dice)
        return now

    def _redrawn(self, log_weights: Floats, dice: np.random.Generator) -> "Samples":
        weights = np.exp(log_weights - log_weights.max())
        weights /= weights.sum()
        count = weights.size
        chosen = np.searchsorted(np.cumsum(weights), (np.arange(count) + 0.5) / count)
        logs = np.log(self.ways[np.minimum(chosen, count - 1)])
        mean = logs.mean(axis=0)
        spread = np.atleast_2d(np.cov(logs, rowvar=False)) + 1e-8 * np.eye(logs.shape[1])
        noise = dice.multivariate_normal(np.zeros(mean.size), spread, count, method="cholesky")
        shrunk = np.sqrt(1.0 - KERNEL**2)
        return Samples(np.exp(mean + shrunk * (logs - mean) + KERNEL * noise))

    def widened(self, by: float) -> "Samples":
        """The same, less sure by that factor: another day, another pile of wood."""
        logs = np.log(self.ways)
        mean = logs.mean(axis=0)
        return Samples(np.exp(mean + by * (logs - mean)))

    def run(self, course: Course) -> "Run":
        """All samples through a fire, up to now."""
        count = len(self.ways)
        fits, ends = np.zeros(count), np.zeros((count, 5))
        sorts, sort = np.unique(course.wood[:, 2], return_inverse=True)
        _run(
            self.ways, course.start_c, course.wood, sorts, sort.reshape(-1), course.read,
            course.now_h, fits, ends,
        )  # fmt: skip
        return Run(self, fits, ends)


@dataclass(frozen=True, slots=True)
class Run:
    """Samples at the end of a course: how well each fits (S,), as a logarithm, and where it stands
    (S, 5): skin and mass (°C), unlit and burning wood (kg) and the thickness of both (mm)."""

    samples: Samples
    fits: Floats
    ends: Floats

    def with_at_most(self, kg: float) -> "Run":
        """The same with no more wood left than that: somebody looked in."""
        there = self.ends[:, 2] + self.ends[:, 3]
        ends = self.ends.copy()
        ends[:, 2:4] *= np.minimum(1.0, kg / np.maximum(there, 1e-9))[:, np.newaxis]
        return Run(self.samples, self.fits, ends)

    def ahead(
        self, top_c: float | None, thickness_mm: float, looks: int
    ) -> tuple[Floats, Floats, Floats]:
        """The skin (S, looks) at steps of ``STEP_H`` from now if nothing goes on, the same over a
        bare hearth, and what a kilogram of that thickness put on now adds to it. It stands at
        ``top_c``; None: in each way as the course left it."""
        count = len(self.ends)
        unfed, bare, lift = (np.zeros((count, looks)) for _ in range(3))
        begin = self.ends[:, 0].copy() if top_c is None else np.full(count, top_c)
        ways, nothing = self.samples.ways, np.zeros(count)
        mass, wood = self.ends[:, 1].copy(), self.ends[:, 2:].copy()
        _ahead(ways, begin, mass, wood, AIR_C, unfed)
        wood[:, :2] = 0.0
        _ahead(ways, begin, mass, wood, AIR_C, bare)
        wood[:, 0], wood[:, 2] = 1.0, thickness_mm
        _ahead(ways, nothing, nothing, wood, 0.0, lift)
        return unfed, bare, lift


@compiled
def _run(
    ways: Floats,
    start_c: float,
    wood: Floats,
    sorts_mm: Floats,
    sort: Places,
    read: Floats,
    now_h: float,
    fits: Floats,
    ends: Floats,
) -> None:
    """Every sample through a course; ``sort`` says which of ``sorts_mm`` a charge is of."""
    steps = int(np.ceil(now_h / STEP_H - 1e-9))
    unlit, lit, goes_share = np.zeros((3, sorts_mm.size))
    for sample in range(ways.shape[0]):
        gain, loss, soak, depth, per_mm, catches = ways[sample]
        skin, mass, fed, seen, fit, last_h = start_c, start_c, 0, 0, 0.0, 0.0
        takes_share = 1.0 - np.exp(-STEP_H / catches)
        for one in range(sorts_mm.size):
            unlit[one], lit[one] = 0.0, 0.0
            goes_share[one] = 1.0 - np.exp(-STEP_H / (per_mm * sorts_mm[one]))
        for step in range(steps):
            at_h = step * STEP_H
            while fed < wood.shape[0] and wood[fed, 0] < at_h + 0.5 * STEP_H:
                unlit[sort[fed]] += wood[fed, 1]
                fed += 1
            burnt = 0.0
            for one in range(sorts_mm.size):
                takes, goes = unlit[one] * takes_share, lit[one] * goes_share[one]
                unlit[one] -= takes
                lit[one] += takes - goes
                burnt += goes
            soaks = soak * (skin - mass) * STEP_H
            skin += gain * burnt - loss * (skin - AIR_C) * STEP_H - soaks
            mass += soaks / depth
            while seen < read.shape[0] and read[seen, 0] <= at_h + STEP_H:
                off = read[seen, 1] - skin
                if read[seen, 0] - last_h <= MOST_UNREAD_H:
                    sd = READ_SD_K + READ_SHARE * max(read[seen, 1] - AIR_C, 0.0)
                    fit -= 0.5 * (FREEDOM + 1.0) * np.log(1.0 + off * off / (FREEDOM * sd * sd))
                skin += TAKEN * off
                last_h = read[seen, 0]
                seen += 1
        fits[sample] = fit
        ends[sample, 0], ends[sample, 1] = skin, mass
        ends[sample, 2], ends[sample, 3] = unlit.sum(), lit.sum()
        there, thick = 1e-9, 0.0
        for one in range(sorts_mm.size):
            there += unlit[one] + lit[one]
            thick += (unlit[one] + lit[one]) * sorts_mm[one]
        ends[sample, 4] = max(thick / there, 1.0)


@compiled
def _ahead(
    ways: Floats, skin_c: Floats, mass_c: Floats, wood: Floats, air_c: float, out: Floats
) -> None:
    """Skin (S, looks) from here on; ``wood`` (S, 3) lies unlit and burns, kg, and is so thick."""
    for sample in range(ways.shape[0]):
        gain, loss, soak, depth, per_mm, catches = ways[sample]
        skin, mass = skin_c[sample], mass_c[sample]
        unlit, lit, mm = wood[sample]
        takes_share = 1.0 - np.exp(-STEP_H / catches)
        goes_share = 1.0 - np.exp(-STEP_H / (per_mm * mm))
        for look in range(out.shape[1]):
            takes, goes = unlit * takes_share, lit * goes_share
            unlit -= takes
            lit += takes - goes
            soaks = soak * (skin - mass) * STEP_H
            skin += gain * goes - loss * (skin - air_c) * STEP_H - soaks
            mass += soaks / depth
            out[sample, look] = skin
