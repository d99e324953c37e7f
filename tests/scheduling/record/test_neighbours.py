"""Two neighbours who answer alike on the same morning get the same plan."""

from datetime import timedelta

import pytest

from scheduling.choice import About
from scheduling.firing.aim import Aim
from scheduling.happening import Forecasted
from scheduling.record import Record
from scheduling.record.outlook import aims_of
from tests.scheduling.record.test_wall import a_forecast
from tests.scheduling.road import START, Road

ALL = 200
"""Members as in use: a lottery of them is what is looked for."""

BRICK = {About.CONSTRUCTION: "brick-mortar", About.SIZE: "850", About.STANDS: "sky"}


def answered(minutes: float = 0.0) -> Road:
    """Somebody who has answered everything, so many minutes later; by the rule alone so far."""
    return Road(START + timedelta(minutes=minutes), Record(members=0)).begin(BRICK)


def planned(road: Road, oven: str = "") -> tuple[Aim, ...]:
    """All firings, with the wall behind them, in an oven of that id."""
    return aims_of(Record(road.record.entries, oven, members=ALL), road.now)


@pytest.fixture(scope="module")
def first() -> tuple[Aim, ...]:
    return planned(answered(), "one")


def test_the_plan_does_not_hang_on_the_id_of_the_oven(first: tuple[Aim, ...]) -> None:
    assert planned(answered(), "another") == first


def test_it_does_not_hang_on_the_minute_of_the_last_answer(first: tuple[Aim, ...]) -> None:
    later = planned(answered(25))
    assert [one.plateau_c for one in later] == [one.plateau_c for one in first]


def test_it_is_the_same_whether_a_forecast_came_before_it_or_after(
    first: tuple[Aim, ...],
) -> None:
    """Two days of rain over an open dome were a fire more, told or not by who asked when."""
    road = answered()
    road.happen(Forecasted(a_forecast(road.now)))
    assert road.record.forecast is not None
    assert [one.plateau_c for one in planned(road)] == [one.plateau_c for one in first]
