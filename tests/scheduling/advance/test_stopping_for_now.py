from datetime import timedelta

from scheduling.alarm import AlarmName
from scheduling.choice import Confirm
from scheduling.journal import FiringEnded
from scheduling.meaning import DaysShown, StoppedForNow
from scheduling.remark import FireOut, Lit
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
