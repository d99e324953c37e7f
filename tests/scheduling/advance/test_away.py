"""Whoever leaves the fire is asked for nothing, looked for, and silent if they stay away."""

from scheduling.alarm import AlarmName
from scheduling.firing.aim import Action
from scheduling.journal import Advised, Silent
from scheduling.meaning import Alert, BackAsked, LeavingFire, Nudge
from scheduling.remark import Leaving, Sign
from tests.scheduling.road import Road, lit


def fed(builder: str | None = None) -> Road:
    road = lit(builder=builder)
    road.wait(31)
    road.reads(50)
    road.stokes()
    return road


def test_who_goes_for_a_moment_leaves_the_fire_as_it_is_and_is_looked_for_then() -> None:
    road = fed()
    road.say(Leaving(minutes=8))
    told = road.last(LeavingFire)
    assert told.short
    assert told.back_at is not None
    assert (told.back_at - road.now).total_seconds() == 8 * 60
    road.wait(9)
    assert road.heard_of(BackAsked)
    assert not road.heard_of(Nudge)


def test_who_goes_for_an_hour_is_told_what_to_do_before_leaving() -> None:
    road = fed()
    road.say(Leaving(minutes=60))
    assert not road.last(LeavingFire).short
    road.wait(21)
    assert road.heard_of(BackAsked)


def test_nothing_is_asked_of_who_is_away() -> None:
    road = fed()
    before = len(road.entries(Advised))
    road.say(Leaving(minutes=10))
    road.wait(60)
    assert not [one for one in road.entries(Advised)[before:] if one.action is Action.ADD]
    assert not [one for one in road.heard if isinstance(one, Nudge) and one.ready_pieces]


def test_who_does_not_come_back_counts_as_silent() -> None:
    road = fed(builder="beth")
    road.say(Leaving(minutes=10))
    road.wait(60)
    assert road.entries(Silent)
    assert {one.needs for one in road.all_said(Alert)} == {"silent"}


def test_a_number_read_at_the_dome_says_that_they_are_back() -> None:
    road = fed()
    road.say(Leaving(minutes=10))
    road.wait(20)
    road.reads(62)
    assert road.action is Action.ADD


def test_a_number_told_on_leaving_does_not() -> None:
    road = fed()
    road.wait(20)
    road.reads(62)
    road.say(Leaving(minutes=10))
    road.say(Sign(kind="thanks"))
    assert AlarmName.NUDGE in road.alarms
    road.wait(11)
    assert road.heard_of(BackAsked)
