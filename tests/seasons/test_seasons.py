"""Laid calendars against "next free day" over made-up seasons: a small version of the bench."""

from datetime import date

import numpy as np
import pytest

from bot.rehearsal.weathermaking import SORTS, foresee, make
from scheduling.breakin.days import Weights
from tests.seasons.season import laid_calendar, next_free_day, world


def test_laying_beats_the_next_free_day_over_five_climates() -> None:
    base_days: list[int] = []
    our_days: list[int] = []
    base_bad = our_bad = base_broken = our_broken = 0
    for number, sort in enumerate(SORTS):
        one = world(sort, date(2026, 4, 1), 60, seed=number)
        base, ours = next_free_day(one), laid_calendar(one, Weights())
        base_days += base.days
        our_days += ours.days
        base_bad, our_bad = base_bad + base.bad_fires, our_bad + ours.bad_fires
        base_broken, our_broken = base_broken + base.broken, our_broken + ours.broken
    assert len(our_days) == len(base_days)
    assert our_bad <= base_bad / 2
    assert our_broken < base_broken
    assert np.median(our_days) <= np.median(base_days)


@pytest.mark.parametrize("sort", SORTS, ids=lambda sort: sort.name)
def test_the_share_of_wet_days_and_their_spells_are_as_asked(sort: object) -> None:
    assert sort in SORTS
    one = next(s for s in SORTS if s is sort)
    made = make(one, date(2026, 4, 1), 60, 2000, np.random.default_rng(3))
    again = make(one, date(2026, 4, 1), 60, 2000, np.random.default_rng(3))
    assert np.array_equal(made.rain_mm, again.rain_mm)
    stays = made.wet[:, 1:][made.wet[:, :-1]].mean()
    comes = made.wet[:, 1:][~made.wet[:, :-1]].mean()
    assert stays - comes == pytest.approx(one.spells, abs=0.03)
    assert made.wind_ms.min() >= 0


def test_a_forecasts_chances_are_honest() -> None:
    """Of the days called so and so likely to be wet, about that share is wet."""
    sort = SORTS[1]
    rng = np.random.default_rng(5)
    made = make(sort, date(2026, 4, 1), 20, 20_000, rng)
    seen = foresee(made, sort, 5, 9, rng)
    for lead in (0, 2, 5, 8):
        said, wet = seen.rain_probability[:, lead], made.rain_mm[:, 5 + lead] > 0
        for likely in (said > 0.5 * said.max(), said <= 0.5 * said.max()):
            assert wet[likely].mean() == pytest.approx(said[likely].mean(), abs=0.06)
