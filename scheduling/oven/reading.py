"""Whether a reading is to be believed.

A person reads a number off an instrument, in smoke, and types it. Before it moves the wall it
must lie inside the instrument's range, be possible after the reading before it, and agree
between crown and sides. A doubtful one is asked about, and counts for nothing until a second
reading bears it out.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Literal

from scheduling.oven.infrared import KELVIN, STEFAN_BOLTZMANN
from scheduling.oven.makeup import Instrument, MakeUp
from scheduling.oven.materials import effusivity_w_s05_m2k

FIERCEST_FLUX_W_M2 = 5000.0
"""Heat that a fire of a break-in drives into the dome (own choice): 280 K in a first hour."""

SLACK_K = 8.0
"""Two readings of one surface differ by this much by where they were aimed (own choice)."""

SUN_AND_EVENING_OUT_K = 15.0
"""How much an unlit dome may warm between two readings (own choice)."""

STILL_AIR_W_M2K = 10.0
"""Convection off a hot surface in an open mouth (from memory)."""

LONG_AGO_S = 3 * 3600.0
"""After this long any change is possible."""

NO_OVEN_SO_HOT_C = 800.0
"""Wood fires do not take a dome beyond; a wood-fired dome was measured near 500 °C in flames
(Falciano, Moresi & Masi, Foods 12 (2023) 890)."""

UNTOLD_WOOD_K = 60.0
"""Above what the wood that was told of can do: one more piece that nobody mentioned (own choice).
Hotter than that is asked about once: a flame in the spot reads far too hot."""

CONFIRMS_K = 20.0
"""A second reading this near to a doubtful one bears it out (own choice)."""


class Suspicion(StrEnum):
    """What speaks against a reading."""

    NOT_A_NUMBER = "not_a_number"
    NOTHING_READ = "nothing_read"
    IN_THE_FUTURE = "in_the_future"
    OUT_OF_ORDER = "out_of_order"
    ABOVE_RANGE = "above_range"
    BELOW_RANGE = "below_range"
    BELOW_AIR = "below_air"
    TOO_HOT = "too_hot"
    OTHER_UNIT = "other_unit"
    FLAME_IN_SPOT = "flame_in_spot"
    ROSE_UNLIT = "rose_unlit"
    FELL_TOO_FAST = "fell_too_fast"
    TWO_AT_ONCE = "two_at_once"
    CROWN_AGAINST_SIDES = "crown_against_sides"


class Ask(StrEnum):
    """What to ask the person for."""

    READ_AGAIN = "read_again"
    AIM_BESIDE_THE_FLAME = "aim_beside_the_flame"
    WHICH_UNIT = "which_unit"
    WHICH_TIME = "which_time"
    WHICH_SPOT = "which_spot"
    IS_IT_LIT = "is_it_lit"


ASKS: dict[Suspicion, Ask] = {
    Suspicion.NOT_A_NUMBER: Ask.READ_AGAIN,
    Suspicion.NOTHING_READ: Ask.READ_AGAIN,
    Suspicion.IN_THE_FUTURE: Ask.WHICH_TIME,
    Suspicion.OUT_OF_ORDER: Ask.WHICH_TIME,
    Suspicion.ABOVE_RANGE: Ask.READ_AGAIN,
    Suspicion.BELOW_RANGE: Ask.READ_AGAIN,
    Suspicion.BELOW_AIR: Ask.READ_AGAIN,
    Suspicion.TOO_HOT: Ask.WHICH_UNIT,
    Suspicion.OTHER_UNIT: Ask.WHICH_UNIT,
    Suspicion.FLAME_IN_SPOT: Ask.AIM_BESIDE_THE_FLAME,
    Suspicion.ROSE_UNLIT: Ask.IS_IT_LIT,
    Suspicion.FELL_TOO_FAST: Ask.READ_AGAIN,
    Suspicion.TWO_AT_ONCE: Ask.READ_AGAIN,
    Suspicion.CROWN_AGAINST_SIDES: Ask.WHICH_SPOT,
}


@dataclass(frozen=True, slots=True)
class Sample:
    """Surface temperatures as the instrument showed them (°C), and when (UTC).

    ``unit_certain`` if the person named the unit, or has been asked; ``taken_in`` is the unit
    that the numbers were taken in.
    """

    at: datetime
    top_c: float | None = None
    sides_c: tuple[float, ...] = ()
    hearth_c: float | None = None
    unit_certain: bool = False
    taken_in: Literal["C", "F"] = "C"

    def spots(self) -> Iterator[tuple[str, float]]:
        """Every number read, with its place."""
        if self.top_c is not None:
            yield "top", self.top_c
        yield from (("side", side_c) for side_c in self.sides_c)
        if self.hearth_c is not None:
            yield "hearth", self.hearth_c


@dataclass(frozen=True, slots=True)
class Known:
    """What is known when a reading comes in.

    ``before`` is the last believed reading, ``doubted`` a doubtful one after it. ``expected_c``
    is the range that the belief gives for the crown now, ``most_c`` the hottest that the wood
    that was told of can have made it. ``effusivity`` is the shell's √(kρc). ``unit_doubted`` if the
    numbers of this fire, this one among them, fit the other unit better.
    """

    now: datetime
    burning: bool
    air_c: float
    effusivity: float
    instrument: Instrument | None = None
    before: Sample | None = None
    doubted: Sample | None = None
    expected_c: tuple[float, float] | None = None
    most_c: float | None = None
    unit_doubted: bool = False


@dataclass(frozen=True, slots=True)
class Verdict:
    """Believed, or doubtful for a reason.

    ``spot`` and ``shown_c`` say which number is doubtful, ``likely_c`` what it may have been
    meant as, ``possible_c`` what would have been possible there. ``at_least`` marks a doubtful
    reading that may well stand for something hotter: to be treated as hot, never as cool.
    """

    suspicion: Suspicion | None = None
    spot: str | None = None
    shown_c: float | None = None
    likely_c: float | None = None
    possible_c: tuple[float, float] | None = None
    at_least: bool = False

    @property
    def believed(self) -> bool:
        """Whether the reading may move the wall."""
        return self.suspicion is None

    @property
    def ask(self) -> Ask | None:
        """What to ask for, if it is doubtful."""
        return None if self.suspicion is None else ASKS[self.suspicion]


BELIEVED = Verdict()


def shell_effusivity(make_up: MakeUp) -> float:
    """√(kρc) of the layer that faces the fire (W√s/m²K)."""
    inner = make_up.layers[0]
    return effusivity_w_s05_m2k(
        inner.conductivity_w_mk, inner.density_kg_m3, inner.heat_capacity_j_kgk
    )


def judge(sample: Sample, known: Known) -> Verdict:
    """Judge a reading; the first thing that speaks against it decides.

    Order matters: a number outside the instrument's range is not worth comparing with the one
    before, and a wrong unit explains what would otherwise look like a flame in the spot.
    """
    return (
        _unreadable(sample)
        or _wrong_time(sample, known)
        or _outside_range(sample, known)
        or _wrong_unit(sample, known)
        or _below_air(sample, known)
        or _crown_against_sides(sample, known)
        or _too_sudden(sample, known)
        or BELIEVED
    )


def possible_c(before_c: float, seconds: float, known: Known) -> tuple[float, float]:
    """Lowest and highest temperature possible ``seconds`` after ``before_c``.

    A thick wall under a constant flux q warms by 2q√(t/π)/e (Carslaw & Jaeger §2.9), e its
    effusivity. It cools by what a black surface can lose to the air, which is far less at
    150 °C: a reading that is too low is the one that would call for more fire.
    """
    above_air_k = max(0.0, before_c - known.air_c)
    radiated = STEFAN_BOLTZMANN * ((before_c + KELVIN) ** 4 - (known.air_c + KELVIN) ** 4)
    lost = min(FIERCEST_FLUX_W_M2, max(0.0, radiated) + STILL_AIR_W_M2K * above_air_k)
    kelvin_per_flux = 2.0 * math.sqrt(seconds / math.pi) / known.effusivity
    fall = SLACK_K + lost * kelvin_per_flux
    rise = SLACK_K + FIERCEST_FLUX_W_M2 * kelvin_per_flux
    if not known.burning:
        rise = min(rise, SUN_AND_EVENING_OUT_K)
    return before_c - fall, before_c + rise


def _unreadable(sample: Sample) -> Verdict | None:
    read = tuple(sample.spots())
    if not read:
        return Verdict(Suspicion.NOTHING_READ)
    for spot, shown_c in read:
        if not math.isfinite(shown_c):
            return Verdict(Suspicion.NOT_A_NUMBER, spot)
    return None


def _wrong_time(sample: Sample, known: Known) -> Verdict | None:
    if (sample.at - known.now).total_seconds() > 60.0:
        return Verdict(Suspicion.IN_THE_FUTURE)
    if known.before is not None and sample.at < known.before.at:
        return Verdict(Suspicion.OUT_OF_ORDER)
    return None


def _outside_range(sample: Sample, known: Known) -> Verdict | None:
    """At its very end an instrument shows the end, whatever the surface is."""
    tool = known.instrument
    for spot, shown_c in sample.spots():
        if tool is not None and shown_c >= tool.max_c - 1.0:
            return Verdict(Suspicion.ABOVE_RANGE, spot, shown_c, at_least=True)
        if tool is not None and shown_c <= tool.min_c:
            return Verdict(Suspicion.BELOW_RANGE, spot, shown_c)
        if shown_c > NO_OVEN_SO_HOT_C:
            likely_c = _if_fahrenheit(shown_c)
            return Verdict(Suspicion.TOO_HOT, spot, shown_c, likely_c, at_least=True)
    return None


def _below_air(sample: Sample, known: Known) -> Verdict | None:
    """A dome is no colder than the air around it, but for a clear night and a loose forecast."""
    floor_c = known.air_c - 10.0
    for spot, shown_c in sample.spots():
        if shown_c < floor_c:
            return Verdict(Suspicion.BELOW_AIR, spot, shown_c, possible_c=(floor_c, math.inf))
    return None


def _wrong_unit(sample: Sample, known: Known) -> Verdict | None:
    """Impossible as it stands, and just what is expected in the other unit.

    Where the other unit would be hotter, saying the same number again does not settle it: only
    the unit does.
    """
    window = _window(sample, known)
    if sample.unit_certain or window is None or sample.top_c is None:
        return None
    if _inside(sample.top_c, window):
        return _unit_doubted(sample, known)
    near = known.expected_c or _near_before(known, window)
    likely_c = in_the_other_unit(sample.top_c, sample.taken_in)
    if not (_inside(likely_c, near) and _inside(likely_c, window)):
        return None
    if likely_c < sample.top_c and _borne_out(sample, known):
        return None
    return Verdict(
        Suspicion.OTHER_UNIT,
        "top",
        sample.top_c,
        likely_c,
        window,
        at_least=likely_c > sample.top_c,
    )


def _unit_doubted(sample: Sample, known: Known) -> Verdict | None:
    """Possible as it stands, but all the numbers of this fire fit the other unit better. Who reads
    the same again is asked no more where the other unit would be cooler: nothing goes on for it."""
    if not known.unit_doubted or sample.top_c is None:
        return None
    likely_c = in_the_other_unit(sample.top_c, sample.taken_in)
    if likely_c < sample.top_c and _borne_out(sample, known):
        return None
    at_least = likely_c > sample.top_c
    return Verdict(Suspicion.OTHER_UNIT, "top", sample.top_c, likely_c, at_least=at_least)


def _crown_against_sides(sample: Sample, known: Known) -> Verdict | None:
    """The crown takes the flames. A fire to one side bends that, within limits (own choice)."""
    if sample.top_c is None or not sample.sides_c:
        return None
    above_air = max(0.0, max(sample.top_c, *sample.sides_c) - known.air_c)
    low_c = sample.top_c - max(60.0, 0.45 * above_air)
    high_c = sample.top_c + max(30.0, 0.2 * above_air)
    for side_c in sample.sides_c:
        if not low_c <= side_c <= high_c and not _borne_out(sample, known):
            return Verdict(
                Suspicion.CROWN_AGAINST_SIDES, "side", side_c, None, (low_c, high_c), at_least=True
            )
    return None


def _too_sudden(sample: Sample, known: Known) -> Verdict | None:
    window = _window(sample, known)
    if window is None or sample.top_c is None or _inside(sample.top_c, window):
        return None
    rose = sample.top_c > window[1]
    if _borne_out(sample, known) and (known.burning or not rose):
        # A dome that warms without a fire has one: no second number explains it.
        return None
    if known.before is not None and sample.at == known.before.at:
        suspicion = Suspicion.TWO_AT_ONCE
    elif rose:
        suspicion = Suspicion.FLAME_IN_SPOT if known.burning else Suspicion.ROSE_UNLIT
    else:
        suspicion = Suspicion.FELL_TOO_FAST
    return Verdict(suspicion, "top", sample.top_c, None, window, at_least=rose)


def _window(sample: Sample, known: Known) -> tuple[float, float] | None:
    """What the crown can be now, from the reading before, else from the belief."""
    before = known.before
    if before is not None and before.top_c is not None:
        seconds = (sample.at - before.at).total_seconds()
        if seconds <= LONG_AGO_S:
            low_c, high_c = possible_c(before.top_c, seconds, known)
            if known.burning and known.most_c is not None:
                high_c = min(high_c, max(before.top_c + SLACK_K, known.most_c + UNTOLD_WOOD_K))
            return low_c, high_c
    if known.expected_c is None:
        return None
    low_c, high_c = known.expected_c
    # Beside a fire much is possible; a dome without one is known far better.
    margin_k = max(60.0 if known.burning else 30.0, 0.3 * abs(high_c))
    return low_c - margin_k, high_c + margin_k


def _near_before(known: Known, window: tuple[float, float]) -> tuple[float, float]:
    """Where the crown most likely is, by the reading before alone: there, or warmer."""
    before = known.before
    if before is None or before.top_c is None:
        return window
    return before.top_c - CONFIRMS_K / 2, window[1]


def _borne_out(sample: Sample, known: Known) -> bool:
    """The doubtful reading just before said the same of the crown, at another instant."""
    doubted = known.doubted
    if doubted is None or doubted.top_c is None or sample.top_c is None:
        return False
    apart_s = (sample.at - doubted.at).total_seconds()
    return 0 < apart_s <= LONG_AGO_S and abs(sample.top_c - doubted.top_c) <= CONFIRMS_K


def _inside(value: float, window: tuple[float, float]) -> bool:
    return window[0] <= value <= window[1]


def in_the_other_unit(shown_c: float, taken_in: Literal["C", "F"]) -> float:
    """What a number is (°C) if it was in the other unit than the one that it was ``taken_in``."""
    return _if_fahrenheit(shown_c) if taken_in == "C" else shown_c * 1.8 + 32.0


def _if_fahrenheit(shown: float) -> float:
    """What a number taken for °C is, if it was °F."""
    return (shown - 32.0) / 1.8
