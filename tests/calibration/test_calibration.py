"""The report itself, and a short one: what is believed of ovens that the belief does not know."""

from functools import cache

import pytest

from tests.calibration.report import LEAST, MOST, coverage, report
from tests.calibration.trial import LADDER, PARTS, Believed, dealt, tried


def found(part: str, true: float, fire: int = 0) -> Believed:
    return Believed(part, fire, 1.0, 2.0, 3.0, true)


@cache
def short() -> list[Believed]:
    return [one for batch in dealt(8, 5, 30, size=4) for one in tried(batch)]


def test_coverage_counts_what_lies_within_and_a_spoonful_of_water_is_none() -> None:
    several = [found("crown", true) for true in (0.5, 0.96, 2.0, 3.04, 9.0)]
    assert coverage(several, "crown") == (0.6, 5)
    assert coverage([found("core", 3.04)], "core") == (0.0, 1)


def test_the_report_has_a_row_for_every_part_and_a_column_for_every_fire() -> None:
    every = [found(part, 2.0, fire) for part in PARTS for fire in range(len(LADDER))]
    head, *rows = report(every).splitlines()
    assert head.count("fire") == len(LADDER)
    assert [row[:14].strip() for row in rows] == list(PARTS)


def test_the_ovens_are_dealt_out_to_structures_and_sizes() -> None:
    batches = dealt(200, 1, 60)
    assert sum(one.count for one in batches) == 200
    assert len({one.construction for one in batches}) == 4
    assert len({one.diameter_mm for one in batches}) == 3
    assert len({one.seed for one in batches}) == len(batches)


@pytest.mark.parametrize("part", PARTS)
def test_no_part_of_a_strange_oven_lies_outside_what_is_believed_more_than_it_may(
    part: str,
) -> None:
    """Eight ovens after five fires each: too few for the goal of 85 to 97 %, enough to see a
    belief that is far too sure (18 % of the wetter sides were covered once)."""
    share, count = coverage(short(), part)
    assert count == 40
    assert share >= LEAST - 0.20
    assert MOST < 1.0
