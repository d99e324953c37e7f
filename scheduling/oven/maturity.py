"""When the mortar is strong enough for the first fire.

Equivalent age by EN 1992-1-1:2004 Annex B Eq. (B.10), strength by Eq. (3.2). A day counts with
its mean temperature, from noon to noon, so an oven finished on the 1st is one day old on the
2nd. Nothing is gained below 0 °C.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from itertools import accumulate, pairwise
from typing import Literal

from scheduling.oven.makeup import CementClass

HARDENING: Mapping[CementClass, float] = {"S": 0.38, "N": 0.25, "R": 0.20}
"""s of EN 1992-1-1 Eq. (3.2) by cement class."""

READY_RATIO = 0.96
"""Share of the 28-day strength to wait for: 21 equivalent days of class N (own choice)."""

HORIZON_D = 365
"""How far ahead a ready day is looked for."""

TENDER_D = 3.0
"""Equivalent days during which frost does lasting harm (ACI 306R's protection, from memory)."""

HARD_FROST_C = -3.0
"""A night as cold as this freezes thin young mortar through (own cautious choice)."""


class Standing(StrEnum):
    """How the mortar stands."""

    READY = "ready"
    CURING = "curing"
    FROZEN = "frozen"  # in its first days: somebody must look before any fire
    TOO_COLD = "too_cold"  # gains too little to be ready within the horizon


@dataclass(frozen=True, slots=True)
class DayTemperature:
    """A day's air at the oven. What is only expected never counts as frost that happened."""

    day: date
    mean_c: float
    low_c: float | None = None
    source: Literal["measured", "forecast", "climate"] = "measured"


@dataclass(frozen=True, slots=True)
class Frost:
    """A frost in the mortar's first days; ``hard`` if it may have broken it."""

    day: date
    low_c: float
    hard: bool


@dataclass(frozen=True, slots=True)
class Cure:
    """How the mortar stands on a day, and when it will be ready.

    ``ages_d[i]`` is the equivalent age in days at noon ``i`` days after the wet work ended.
    ``ready_on`` is None when frozen or too cold. ``held_by`` says what decides the day.
    """

    standing: Standing
    ready_on: date | None
    held_by: Literal["strength", "floor", "frost", "cold"]
    frosts: tuple[Frost, ...]
    began: date
    cement_class: CementClass
    ages_d: tuple[float, ...]

    def age_d(self, day: date) -> float:
        """Equivalent age at noon of ``day``; beyond the known days it stays what it was."""
        index = (day - self.began).days
        return 0.0 if index < 0 else self.ages_d[min(index, len(self.ages_d) - 1)]

    def strength(self, day: date) -> float:
        """Share of the 28-day strength at noon of ``day``."""
        return strength_ratio(self.age_d(day), self.cement_class)


def ageing_rate(temperature_c: float) -> float:
    """Days at 20 °C that one day at ``temperature_c`` is worth (EN 1992-1-1 Eq. (B.10)).

    The formula holds from 0 to 80 °C: below it is 0, above it stays as at 80 °C. A day at 20 °C
    is worth 0.9981 of a day, by the rounding in the standard's own constants.
    Raises ValueError for what is no temperature.
    """
    if not math.isfinite(temperature_c):
        raise ValueError(f"{temperature_c} is not a temperature")
    if temperature_c < 0.0:
        return 0.0
    return math.exp(13.65 - 4000.0 / (273.0 + min(temperature_c, 80.0)))


def strength_ratio(age_d: float, cement_class: CementClass) -> float:
    """Strength over that at 28 days, β_cc of EN 1992-1-1 Eq. (3.2); 0 at no age."""
    if age_d <= 0.0:
        return 0.0
    return math.exp(HARDENING[cement_class] * (1.0 - math.sqrt(28.0 / age_d)))


def age_of_strength_d(ratio: float, cement_class: CementClass) -> float:
    """Equivalent age at which ``strength_ratio`` reaches ``ratio`` (0 < ratio < e^s)."""
    root = 1.0 - math.log(ratio) / HARDENING[cement_class]
    if root <= 0.0:
        raise ValueError(f"cement of class {cement_class} never reaches {ratio:g} of its strength")
    return 28.0 / root**2


def cure(
    wet_work_ended: date,
    cement_class: CementClass,
    temperatures: Sequence[DayTemperature],
    today: date,
    *,
    ready_ratio: float = READY_RATIO,
    floor_d: int = 0,
    frost_cleared: bool = False,
) -> Cure:
    """The first safe day, by the temperatures measured and expected.

    ``temperatures`` come in any order; of one day the last counts. A day missing between known
    ones counts with the colder of its neighbours, days after the last known one with the last.
    ``floor_d`` is the builder's floor in days. ``frost_cleared`` is said by a builder who has
    looked at a frozen dome and found it sound. Raises ValueError without any temperature.
    """
    if not temperatures:
        raise ValueError("the cure needs at least one day's temperature")
    by_day = {one.day: one for one in temperatures}
    last = max(max(by_day), today, wet_work_ended) + timedelta(days=HORIZON_D)
    days = [wet_work_ended + timedelta(days=i) for i in range((last - wet_work_ended).days + 1)]
    rates = [ageing_rate(mean_c) for mean_c in _means(days, by_day)]
    gained = [(before + after) / 2 for before, after in pairwise(rates)]
    ages = tuple(accumulate(gained, initial=0.0))
    frosts = _early_frosts(days, ages, by_day)

    needed = age_of_strength_d(ready_ratio, cement_class)
    strong = next((i for i, age in enumerate(ages) if age >= needed), None)
    if any(frost.hard for frost in frosts) and not frost_cleared:
        return Cure(Standing.FROZEN, None, "frost", frosts, wet_work_ended, cement_class, ages)
    if strong is None:
        return Cure(Standing.TOO_COLD, None, "cold", frosts, wet_work_ended, cement_class, ages)
    ready_on = days[0] + timedelta(days=max(strong, floor_d))
    standing = Standing.READY if ready_on <= today else Standing.CURING
    held_by: Literal["floor", "strength"] = "floor" if floor_d > strong else "strength"
    return Cure(standing, ready_on, held_by, frosts, wet_work_ended, cement_class, ages)


def _means(days: Sequence[date], by_day: Mapping[date, DayTemperature]) -> list[float]:
    """A mean for every day: gaps take the colder neighbour, both ends the nearest known day."""
    known = sorted(by_day)
    means: list[float] = []
    position = 0
    for day in days:
        while position < len(known) and known[position] < day:
            position += 1
        after = by_day[known[min(position, len(known) - 1)]]
        before = by_day[known[max(position - 1, 0)]]
        if day in by_day:
            means.append(by_day[day].mean_c)
        elif day > known[-1]:
            means.append(by_day[known[-1]].mean_c)
        else:
            means.append(min(before.mean_c, after.mean_c))
    return means


def _early_frosts(
    days: Sequence[date], ages: Sequence[float], by_day: Mapping[date, DayTemperature]
) -> tuple[Frost, ...]:
    """Frosts that happened or are forecast while the mortar was tender."""
    frosts: list[Frost] = []
    for day, age in zip(days, ages, strict=True):
        if age >= TENDER_D:
            break
        air = by_day.get(day)
        if air is None or air.source == "climate":
            continue
        low_c = air.mean_c if air.low_c is None else min(air.low_c, air.mean_c)
        if low_c < 0.0:
            frosts.append(Frost(day, low_c, hard=low_c <= HARD_FROST_C or air.mean_c < 0.0))
    return tuple(frosts)
