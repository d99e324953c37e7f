from datetime import timedelta

import pytest

from scheduling.alarm import AlarmName
from scheduling.choice import Confirm, OrderName
from scheduling.hazard import Hazard
from scheduling.journal import FiringEnded
from scheduling.meaning import DaysMoved, DaysShown, StoppedForNow
from scheduling.remark import FireOut, Lit, Sign, Unavailable
from tests.scheduling.road import Road, lit


def fallen_short(times: int) -> Road:
    """So many fires, each dead after one reading."""
    road = lit()
    for index in range(times):
        if index:
            road.wait(hours=20)
            road.say(Lit())
        road.wait(31)
        road.reads(60)
        road.wait(60)
        road.say(FireOut())
    return road


def test_six_fires_in_a_row_that_ended_short_are_enough_for_now() -> None:
    road = fallen_short(6)
    assert [one.completed for one in road.entries(FiringEnded)] == [False] * 6
    assert road.last(StoppedForNow).firings == 6
    assert road.last(StoppedForNow).attended, "somebody told of each"
    assert road.record.promise == ()
    assert AlarmName.DAY_BEFORE not in road.alarms


def test_five_are_not() -> None:
    road = fallen_short(5)
    assert not road.all_said(StoppedForNow)
    assert road.record.promise


def test_a_word_goes_on_with_days() -> None:
    road = fallen_short(6)
    road.press(Confirm(proposal=road.last(StoppedForNow).proposal, yes=True))
    assert road.last(DaysShown).lines
    assert road.record.promise
    assert AlarmName.DAY_BEFORE in road.alarms or AlarmName.MORNING in road.alarms


def test_nothing_lays_days_until_then() -> None:
    road = fallen_short(6)
    road.sleep_through(road.now + timedelta(days=3))
    assert road.record.promise == ()


def test_four_fire_days_without_a_fire_are_enough_for_now() -> None:
    road = Road().begin().wait(hours=12)
    for gone in range(1, 4):
        road.wait(days=1)
        assert len(road.all_said(DaysMoved)) == gone, "each is told, and another day found"
    road.wait(days=2)
    assert road.last(StoppedForNow).days == 4
    assert road.record.promise == ()
    said = len(road.said)
    road.wait(days=10)
    assert len(road.said) == said, "and then it is quiet"
    road.press(Confirm(proposal=road.last(StoppedForNow).proposal, yes=True))
    assert road.record.promise


def test_days_that_suit_begin_the_count_anew() -> None:
    road = Road().begin().wait(hours=12)
    for _ in range(6):
        road.wait(days=1)
        tomorrow = road.record.today(road.now) + timedelta(days=1)
        road.say(Unavailable(first=tomorrow, last=tomorrow))
        road.say(Sign(kind="yes"))
    assert not road.all_said(StoppedForNow)


def lifted(road: Road, bar: str) -> None:
    if bar == "held":
        road.orders(OrderName.RELEASE, confirmed=True)
    else:
        road.looked(Hazard.BAN)
    assert road.record.held is None
    assert not road.record.hazards


def barred(bar: str) -> Road:
    road = Road().begin(builder="beth")
    if bar == "held":
        road.orders(OrderName.HOLD)
    else:
        road.endangered(Hazard.BAN)
    return road


@pytest.mark.parametrize("bar", ["held", "hazard"])
def test_days_on_which_no_fire_might_be_lit_are_not_the_owners(bar: str) -> None:
    road = barred(bar)
    road.wait(days=6)
    assert road.record.days_gone_by == 0
    lifted(road, bar)
    while road.record.days_gone_by < 3:
        road.wait(days=1)
    assert not road.all_said(StoppedForNow)
    road.wait(days=2)
    assert road.last(StoppedForNow).days == 4


@pytest.mark.parametrize("bar", ["held", "hazard"])
def test_nor_is_a_day_on_which_one_might_be_lit_only_late(bar: str) -> None:
    road = barred(bar)
    first = road.record.promise[0]
    road.until(first.start + timedelta(hours=1))
    lifted(road, bar)
    road.until(first.start + timedelta(hours=14))
    assert road.record.promise[0].day > first.day
    assert road.record.days_gone_by == 0
