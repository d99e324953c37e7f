"""Break-ins played through made-up seasons, by two ways of choosing days.

Common to both: free days, five firings, what the morning shows, what a poor day does to a fire.
The baseline tells the next five free days and fires on them; a day that fails is put behind the
list. The calendar is laid anew each evening from a forecast that errs.
"""

import math
from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np

from bot.rehearsal.weathermaking import Seasons, Sort, foresee, make
from scheduling.breakin.chance import (
    BREEZE_MS,
    SPOILING_MM,
    WIND_SPOILS,
    Setting,
    poor_chance,
    usual_poor_chance,
)
from scheduling.breakin.climate import usual_days
from scheduling.breakin.days import DayProblem, Weights
from scheduling.breakin.laying import lay_many
from scheduling.breakin.wind import NOT_WORTH_LIGHTING_MS
from scheduling.oven.makeup import Cover, Shelter

FIRINGS = 5
SESSION_H = 5.0
HORIZON = 30
LEADS = 9
SPOILT_MM = SPOILING_MM
WINDY_MS = BREEZE_MS
CALLED_OFF_MM = 8.0
CALLED_OFF_MS = NOT_WORTH_LIGHTING_MS
"""A poor day has this much rain or wind while the fire burns; on a terrible one both kinds of
owner see in the morning that nothing can be lit."""


@dataclass
class Tally:
    """What became of many ovens."""

    days: list[int] = field(default_factory=list)
    bad_fires: int = 0
    broken: int = 0
    pencilled_moved: int = 0
    fires: int = 0

    def line(self, name: str) -> str:
        """One row of the table."""
        spread = np.percentile(self.days, [50, 90])
        count = len(self.days)
        return (
            f"{name:10s} finish median {spread[0]:5.1f} d, 90 % {spread[1]:5.1f} d; "
            f"fires on bad days {self.bad_fires / count:5.2f}; "
            f"promised days broken {self.broken / count:5.2f}, "
            f"pencilled moved {self.pencilled_moved / count:5.2f}; fires {self.fires / count:4.2f}"
        )


@dataclass(frozen=True)
class World:
    """One sort of climate with many ovens, the same for whoever chooses the days."""

    sort: Sort
    seasons: Seasons
    free: "np.ndarray[tuple[int, ...], np.dtype[np.bool_]]"
    luck: "np.ndarray[tuple[int, ...], np.dtype[np.float64]]"
    seed: int

    def poor(self, oven: int, day: int) -> bool:
        """Whether a fire that day has the weather against it."""
        return bool(
            self.seasons.rain_mm[oven, day] >= SPOILT_MM
            or self.seasons.wind_ms[oven, day] >= WINDY_MS
        )

    def terrible(self, oven: int, day: int) -> bool:
        """Whether nobody would light a fire that morning."""
        return bool(
            self.seasons.rain_mm[oven, day] >= CALLED_OFF_MM
            or self.seasons.wind_ms[oven, day] >= CALLED_OFF_MS
        )

    def counts(self, oven: int, day: int, falls_short: float | None) -> bool:
        """Whether a fire lit that day reaches its aim.

        ``falls_short`` is the share of fires on poor days that must be repeated; None takes the
        chance that rain and wind of that day have by the law that the calendar is laid by.
        """
        if falls_short is not None:
            return not self.poor(oven, day) or self.luck[oven, day] >= falls_short
        dry = math.exp(-self.seasons.rain_mm[oven, day] / SPOILING_MM)
        steady = 1.0 - WIND_SPOILS * (self.seasons.wind_ms[oven, day] >= BREEZE_MS)
        return bool(self.luck[oven, day] >= 1.0 - dry * steady)


def world(sort: Sort, first: date, ovens: int, seed: int, days: int = 150) -> World:
    """Weather and owners: each is free on four to seven days of the week."""
    rng = np.random.default_rng(seed)
    seasons = make(sort, first, days, ovens, rng)
    share = rng.choice([4, 5, 6, 7], ovens)
    order = rng.permuted(np.tile(np.arange(7), (ovens, 1)), axis=1)
    weekly = order < share[:, None]
    free = weekly[:, (first.weekday() + np.arange(days)) % 7]
    return World(sort, seasons, free, rng.random((ovens, days)), seed)


def next_free_day(one: World, falls_short: float | None = None) -> Tally:
    """The baseline: a fixed list of the next five free days, slipping day by day."""
    tally = Tally()
    for oven in range(len(one.free)):
        open_days = [int(day) for day in np.flatnonzero(one.free[oven])]
        told, done, last = open_days[:FIRINGS], 0, 0
        while done < FIRINGS:
            day = told.pop(0)
            last = day
            if one.terrible(oven, day):
                # The list is put off: each fire takes the next free day in turn.
                later = [d for d in open_days if d > day][: FIRINGS - done]
                tally.broken += 1
                told = later
                continue
            tally.fires += 1
            tally.bad_fires += one.poor(oven, day)
            done += one.counts(oven, day, falls_short)
            if len(told) < FIRINGS - done:
                told = [d for d in open_days if d > day][: FIRINGS - done]
        tally.days.append(last + 1)
    return tally


def laid_calendar(one: World, weights: Weights, falls_short: float | None = None) -> Tally:
    """Ours: laid anew every evening, told days kept unless something is gained by moving."""
    tally = Tally()
    rng = np.random.default_rng(one.seed + 1)
    ovens = len(one.free)
    done = np.zeros(ovens, dtype=int)
    last = np.full(ovens, -1)
    told: list[frozenset[date]] = [frozenset()] * ovens
    firm: list[frozenset[date]] = [frozenset()] * ovens
    setting = Setting(Cover.OPEN, Shelter.EXPOSED)
    first = one.seasons.first
    for day in range(one.seasons.days - HORIZON):
        busy = [oven for oven in range(ovens) if done[oven] < FIRINGS]
        if not busy:
            break
        chance = _chances(one, day, rng, setting)
        problems = [
            DayProblem(
                first + timedelta(days=day),
                tuple(np.where(one.free[oven, day : day + HORIZON], 8.0, 0.0).tolist()),
                tuple(chance[oven].tolist()),
                (SESSION_H,) * (FIRINGS - int(done[oven])),
                None if last[oven] < 0 else day - int(last[oven]),
                told[oven],
                firm[oven],
                weights=weights,
            )
            for oven in busy
        ]
        today = first + timedelta(days=day)
        for oven, laid in zip(busy, lay_many(problems), strict=True):
            moved = {d for d in told[oven] if d >= today} - set(laid.days)
            tally.broken += len(moved & firm[oven])
            tally.pencilled_moved += len(moved - firm[oven])
            told[oven], firm[oven] = frozenset(laid.days), laid.firm(today)
            if today not in told[oven]:
                continue
            if one.terrible(oven, day):
                tally.broken += 1
                continue
            tally.fires += 1
            tally.bad_fires += one.poor(oven, day)
            last[oven] = day
            done[oven] += one.counts(oven, day, falls_short)
            if done[oven] == FIRINGS:
                tally.days.append(day + 1)
    return tally


def _chances(
    one: World, day: int, rng: np.random.Generator, setting: Setting
) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    seen = foresee(one.seasons, one.sort, day, LEADS, rng)
    leads = np.arange(seen.wind_ms.shape[1], dtype=np.float64)
    near = poor_chance(seen.rain_probability, seen.rain_mm, seen.wind_ms, leads, setting)
    of_year = (one.seasons.first + timedelta(days=day)).timetuple().tm_yday
    usual = usual_days(
        one.sort.latitude, one.sort.longitude, of_year + np.arange(HORIZON, dtype=np.float64)
    )
    far = np.tile(
        usual_poor_chance(usual, SESSION_H, setting, NOT_WORTH_LIGHTING_MS), (len(one.free), 1)
    )
    far[:, : near.shape[1]] = near
    return far
