"""How a dome may answer wood: many ways at once, and which of them fit what was read.

The crown is the face of a thick wall. Heat that reaches it for a moment lifts it at once, and most
of that is gone into the wall within minutes: a semi-infinite solid answers a pulse with 1/√(πt)
(Carslaw & Jaeger §2.4). Here it is a sum of exponentials, whose weights fall with the time they
last by a power p (½ for that solid; less for a lump that warms through, more for a skin), all of
them shortened by what the dome loses::

    T = air + Σ xᵢ
    dxᵢ/dt = g aᵢ w - (1/τᵢ + l) xᵢ     aᵢ ~ τᵢ^-p
    w = (1-e) b₃ 3/f + m/3f             heat that flames and embers give, as kg of wood an hour
    du/dt = -u/c   db₁/dt = u/c - b₁ 3/f   db₂/dt = (b₁-b₂) 3/f   db₃/dt = (b₂-b₃) 3/f
    dm/dt = e b₃ 3/f - m/3f             wood unlit, in flames in three stages, embers

Flames rise, stand and are gone, and so does what they do to the face: one stage, an exponential,
would hide how high. Gain g (K/kg: the rise of an hour in which a kilogram burns), loss l (1/h), p,
flaming time f and catching time c (h) differ from sample to sample. Between two readings a sample
foretells the second; how well it does is how much it weighs. Readings are taken between charges,
where the crown is lowest: only what the wall and the wood are known to do tells how high it stood
in the meantime.
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

LASTS_H = np.array([0.05, 0.2, 0.8, 3.2, 12.8])
"""How long each exponential lasts: from minutes to the cooling of the whole dome."""
MODES = len(LASTS_H)
STARTS = np.array([0.0, 0.0, 0.0, 0.3, 0.7])
"""Where the warmth of yesterday sits: in what is slow."""
TAKES = np.array([0.05, 0.15, 0.3, 0.3, 0.2])
"""Where a sample is set right by what was read."""

GAIN, LOSS, SHAPE, FLAMES, CATCHES = range(5)
MEDIANS = (1.0, 0.12, 0.5, 0.0058, 0.06)
"""Gain as a multiple of the first guess; loss (1/h); power; hours of flames for each
millimetre of thickness, in the mean (sticks of 40 mm burn out in half an hour: Babrauskas, SFPE
Handbook, after Gross and Block, from memory); hours of catching."""
SPREADS = (0.5, 0.6, 0.25, 0.45, 0.7)
"""Standard deviations of their logarithms (own choice)."""
WIDEST = 3.0
"""No sample lies further out than so many of them."""

EMBERS, EMBERS_OUTLAST = 0.25, 3.0
"""Of the heat of wood, what glows after the flames, and how much longer (from memory)."""

READ_SD_K, READ_SHARE = 8.0, 0.04
"""What a reading foretold may be off: hand and spot, and a share of the dome's excess."""

TAKEN = 0.8
"""So far a sample is moved to what was read."""

FREEDOM = 4.0
"""Degrees of freedom of its distribution (Student's t): one odd reading must not rule."""

TEMPERS = (0.15, 0.5, 1.0)
"""Shares of the evidence after which samples are drawn anew, so that some are left."""
KERNEL = 0.4
"""Width of a redrawn sample over that of all (after Liu and West: mean and spread stay)."""

MOST_UNREAD_H = 1.6
"""Over a longer gap nothing is learnt: too much may have happened."""

STAGES = 3
UNLIT, LIT, GLOWING, THICK = MODES, MODES + 1, MODES + 1 + STAGES, MODES + 2 + STAGES
STATES = THICK + 1


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
    """Ways that a dome may answer: ``ways`` (S, 5) as above, the flaming time by the millimetre.
    None lies outside ``bounds`` (2, 5) of their logarithms."""

    ways: Floats
    bounds: Floats

    @classmethod
    def guessed(cls, gain_k_kg: float, samples: int = SAMPLES) -> "Samples":
        """Before anything was read; ``gain_k_kg`` is what the make-up promises."""
        normal = np.random.default_rng(SEED).standard_normal((samples, len(MEDIANS)))
        medians = np.array(MEDIANS)
        medians[GAIN] *= gain_k_kg
        middle, spread = np.log(medians), np.array(SPREADS)
        bounds = np.stack([middle - WIDEST * spread, middle + WIDEST * spread])
        return cls(np.exp(np.clip(middle + spread * normal, *bounds)), bounds)

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
        return self._within(mean + shrunk * (logs - mean) + KERNEL * noise)

    def widened(self, by: float) -> "Samples":
        """The same, less sure by that factor: another day, another pile of wood."""
        logs = np.log(self.ways)
        mean = logs.mean(axis=0)
        return self._within(mean + by * (logs - mean))

    def _within(self, logs: Floats) -> "Samples":
        return Samples(np.exp(np.clip(logs, *self.bounds)), self.bounds)

    def run(self, course: Course) -> "Run":
        """All samples through a fire, up to now."""
        count = len(self.ways)
        fits, ends = np.zeros(count), np.zeros((count, STATES))
        sorts, sort = np.unique(course.wood[:, 2], return_inverse=True)
        _run(
            self.ways, course.start_c, course.wood, sorts, sort.reshape(-1), course.read,
            course.now_h, fits, ends,
        )  # fmt: skip
        return Run(self, fits, ends)


@dataclass(frozen=True, slots=True)
class Run:
    """Samples at the end of a course: how well each fits (S,), as a logarithm, and where it stands
    (S, ``STATES``): the modes (K), wood unlit, in flames and glowing (kg), its thickness (mm)."""

    samples: Samples
    fits: Floats
    ends: Floats

    @property
    def there_kg(self) -> Floats:
        """Wood (S,) that has not burnt to embers."""
        return np.asarray(self.ends[:, UNLIT:GLOWING].sum(axis=1))

    def with_at_most(self, kg: float) -> "Run":
        """The same with no more wood left than that: somebody looked in."""
        ends = self.ends.copy()
        share = np.minimum(1.0, kg / np.maximum(self.there_kg, 1e-9))
        ends[:, UNLIT:GLOWING] *= share[:, np.newaxis]
        return Run(self.samples, self.fits, ends)

    def ahead(
        self, top_c: float | None, thickness_mm: float, looks: int
    ) -> tuple[Floats, Floats, Floats]:
        """The crown (S, looks) at steps of ``STEP_H`` from now if nothing goes on, the same over a
        bare hearth, and what a kilogram of that thickness put on now adds to it. It stands at
        ``top_c``; None: in each way as the course left it."""
        count = len(self.ends)
        unfed, bare, lift = (np.zeros((count, looks)) for _ in range(3))
        ways, state = self.samples.ways, self.ends.copy()
        if top_c is not None:
            off = top_c - AIR_C - state[:, :MODES].sum(axis=1)
            state[:, :MODES] += off[:, np.newaxis] * TAKES
        _ahead(ways, state, AIR_C, unfed)
        state[:, UNLIT:THICK] = 0.0
        _ahead(ways, state, AIR_C, bare)
        fresh = np.zeros_like(state)
        fresh[:, UNLIT], fresh[:, THICK] = 1.0, thickness_mm
        _ahead(ways, fresh, 0.0, lift)
        return unfed, bare, lift


@compiled
def _modes(way: Floats, keeps: Floats, lifts: Floats) -> None:
    """What is left of each mode after a step, and how far a kilogram burnt in it lifts each."""
    gain, loss, shape = way[0], way[1], way[2]
    in_an_hour = 0.0
    for one in range(keeps.size):
        lifts[one] = LASTS_H[one] ** -shape
        in_an_hour += lifts[one] * LASTS_H[one] * (1.0 - np.exp(-1.0 / LASTS_H[one]))
    for one in range(keeps.size):
        keeps[one] = np.exp(-STEP_H * (1.0 / LASTS_H[one] + loss))
        lifts[one] *= gain / in_an_hour * np.sqrt(keeps[one])  # burnt in the middle of the step


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
    unlit, glows, goes_share, fades_share = np.zeros((4, sorts_mm.size))
    lit = np.zeros((sorts_mm.size, STAGES))
    modes, keeps, lifts = np.zeros((3, MODES))
    for sample in range(ways.shape[0]):
        _modes(ways[sample], keeps, lifts)
        per_mm, catches = ways[sample, 3], ways[sample, 4]
        fed, seen, fit, last_h = 0, 0, 0.0, 0.0
        modes[:] = STARTS * (start_c - AIR_C)
        takes_share = min(1.0, STEP_H / catches)
        for one in range(sorts_mm.size):
            unlit[one], lit[one, :], glows[one] = 0.0, 0.0, 0.0
            flames_h = per_mm * sorts_mm[one]
            goes_share[one] = min(1.0, STEP_H * STAGES / flames_h)
            fades_share[one] = min(1.0, STEP_H / (EMBERS_OUTLAST * flames_h))
        for step in range(steps):
            at_h = step * STEP_H
            while fed < wood.shape[0] and wood[fed, 0] < at_h + 0.5 * STEP_H:
                unlit[sort[fed]] += wood[fed, 1]
                fed += 1
            burnt = 0.0
            for one in range(sorts_mm.size):
                goes = unlit[one] * takes_share
                unlit[one] -= goes
                fades = glows[one] * fades_share[one]
                for stage in range(STAGES):
                    comes, goes = goes, lit[one, stage] * goes_share[one]
                    lit[one, stage] += comes - goes
                glows[one] += EMBERS * goes - fades
                burnt += (1.0 - EMBERS) * goes + fades
            crown = AIR_C
            for one in range(MODES):
                modes[one] = modes[one] * keeps[one] + lifts[one] * burnt
                crown += modes[one]
            while seen < read.shape[0] and read[seen, 0] <= at_h + STEP_H:
                off = read[seen, 1] - crown
                if read[seen, 0] - last_h <= MOST_UNREAD_H:
                    sd = READ_SD_K + READ_SHARE * max(read[seen, 1] - AIR_C, 0.0)
                    fit -= 0.5 * (FREEDOM + 1.0) * np.log(1.0 + off * off / (FREEDOM * sd * sd))
                crown = AIR_C
                for one in range(MODES):
                    modes[one] += TAKEN * TAKES[one] * off
                    crown += modes[one]
                last_h = read[seen, 0]
                seen += 1
        fits[sample] = fit
        for one in range(MODES):
            ends[sample, one] = modes[one]
        there, thick = 1e-9, 0.0
        for one in range(sorts_mm.size):
            ends[sample, UNLIT] += unlit[one]
            ends[sample, GLOWING] += glows[one]
            kg = unlit[one] + glows[one]
            for stage in range(STAGES):
                ends[sample, LIT + stage] += lit[one, stage]
                kg += lit[one, stage]
            there += kg
            thick += kg * sorts_mm[one]
        ends[sample, THICK] = max(thick / there, 1.0)


@compiled
def _ahead(ways: Floats, state: Floats, air_c: float, out: Floats) -> None:
    """The crown (S, looks) from here on; ``state`` (S, ``STATES``) as in ``Run.ends``."""
    modes, keeps, lifts = np.zeros((3, MODES))
    lit = np.zeros(STAGES)
    for sample in range(ways.shape[0]):
        _modes(ways[sample], keeps, lifts)
        modes[:] = state[sample, :MODES]
        unlit, glows = state[sample, UNLIT], state[sample, GLOWING]
        lit[:] = state[sample, LIT:GLOWING]
        flames_h = ways[sample, 3] * state[sample, THICK]
        takes_share = min(1.0, STEP_H / ways[sample, 4])
        goes_share = min(1.0, STEP_H * STAGES / flames_h)
        fades_share = min(1.0, STEP_H / (EMBERS_OUTLAST * flames_h))
        for look in range(out.shape[1]):
            goes, fades = unlit * takes_share, glows * fades_share
            unlit -= goes
            for stage in range(STAGES):
                comes, goes = goes, lit[stage] * goes_share
                lit[stage] += comes - goes
            glows += EMBERS * goes - fades
            burnt = (1.0 - EMBERS) * goes + fades
            crown = air_c
            for one in range(MODES):
                modes[one] = modes[one] * keeps[one] + lifts[one] * burnt
                crown += modes[one]
            out[sample, look] = crown
