"""The report itself, and, slowly, ovens held out one by one."""

from concurrent.futures import ProcessPoolExecutor

import pytest

from tests.learning.__main__ import by_fleet, report
from tests.learning.trial import FORETOLD, Held, tried


def held(fleet: int, true: float, what: str = "wood") -> Held:
    return Held(fleet, what, (0.0, 4.0), (1.0, 3.0), true)


def test_each_fleet_counts_as_one_however_many_ovens_it_has() -> None:
    found = [held(0, 2.0), held(0, 2.0), held(0, 2.0), held(1, 3.5)]
    assert by_fleet(found, "wood", lambda one: one.covered(learnt=True)) == (0.5, 0.5)
    assert by_fleet(found, "wood", lambda one: one.covered(learnt=False)) == (1.0, 0.0)
    assert held(0, 2.0).narrower == 0.5


def test_the_report_has_a_row_for_all_that_is_foretold() -> None:
    found = [held(fleet, 2.0, what) for fleet in range(2) for what in FORETOLD]
    assert [row.split()[0] for row in report(found).splitlines()[1:]] == list(FORETOLD)


@pytest.mark.slow
@pytest.mark.timeout(1800)
def test_with_what_the_others_taught_the_interval_is_narrower_and_covers_as_much() -> None:
    with ProcessPoolExecutor(2) as pool:
        found = [one for batch in pool.map(tried, range(4), [7] * 4, [3] * 4) for one in batch]
    for what in ("wood", "morning", "fires"):
        width, error = by_fleet(found, what, lambda one: one.narrower)
        assert width + 2.0 * error < 1.0 if what != "morning" else width <= 1.0
        alone, _ = by_fleet(found, what, lambda one: one.covered(learnt=False))
        learnt, _ = by_fleet(found, what, lambda one: one.covered(learnt=True))
        assert learnt >= min(alone, 0.9) - 0.1
    water, _ = by_fleet(found, "water", lambda one: one.narrower)
    assert water == pytest.approx(1.0)
