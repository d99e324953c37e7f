"""The last fire: somebody has to see the bare wall, and a black one is given more time."""

from functools import cache

from scheduling.alarm import AlarmName
from scheduling.choice import About
from scheduling.firing.aim import Action
from scheduling.journal import Finished, FiringEnded
from scheduling.meaning import Advice, BreakInDone, DaysShown, FiringDone, SignTold
from tests.scheduling.road import Road, fired, stoking


@cache
def _before_the_last() -> Road:
    road = Road().begin()
    while len(road.record.promise) > 1:
        fired(road)
    return road


def looking() -> Road:
    """The last fire, held its time: the owner has been asked to look."""
    kept = _before_the_last()
    road = Road(kept.now, kept.record, dict(kept.alarms), list(kept.said), kept.mark, kept.count)
    road.until(road.record.promise[0].start)
    road.reads(25)
    road.lights()
    for top_c in (110, 180, 250, 320, 370):
        stoking(road, top_c, 35.0, times=1)
    for _ in range(40):
        if road.last(Advice).action is Action.LOOK_FOR_SOOT:
            return road
        stoking(road, 398, 60.0, times=1)
    raise AssertionError("nobody was asked to look")


def test_after_its_hold_the_last_fire_waits_for_somebody_to_see_the_bare_wall() -> None:
    road = looking()
    session = road.record.session
    assert session is not None
    assert session.aim is not None
    assert session.held_h(road.now) >= session.aim.hold_h
    assert not session.ending


def test_a_clear_dome_ends_the_fire_and_the_break_in() -> None:
    road = looking()
    road.sees("soot_clear")
    assert road.action is Action.HOLD_DONE
    road.until(road.alarms[AlarmName.EMBERS])
    road.shuts_door()
    assert road.entries(FiringEnded)[-1].soot_clear
    assert road.last(FiringDone).soot_clear is True
    assert road.last(BreakInDone).soot_clear
    assert road.record.finished


def test_a_black_dome_is_kept_hot_for_longer_and_looked_at_again() -> None:
    road = looking()
    road.sees("soot_black")
    session = road.record.session
    assert session is not None
    assert not session.ending
    assert road.action is not Action.HOLD_DONE
    held = session.held_h(road.now)
    for _ in range(6):
        if road.last(Advice).action is Action.LOOK_FOR_SOOT:
            break
        stoking(road, 398, 60.0, times=1)
    assert road.last(Advice).action is Action.LOOK_FOR_SOOT
    session = road.record.session
    assert session is not None
    assert session.held_h(road.now) > held + 0.5


def test_a_dome_that_stays_black_is_not_fired_for_ever() -> None:
    road = looking()
    looks = 0
    for _ in range(40):
        session = road.record.session
        if session is None or session.ending:
            break
        if road.last(Advice).action is Action.LOOK_FOR_SOOT:
            looks += 1
            road.sees("soot_black")
        else:
            stoking(road, 398, 60.0, times=1)
    assert looks == 3
    assert road.last(Advice).action is Action.HOLD_DONE
    road.until(road.alarms[AlarmName.EMBERS])
    road.shuts_door()
    assert road.last(FiringDone).soot_clear is None, "it is asked after once more"
    assert not road.record.finished
    assert road.record.promise, "and the last fire is planned again"


def test_who_does_not_say_is_not_kept_from_an_end() -> None:
    road = looking()
    stoking(road, 398, 60.0, times=1)
    assert road.action is Action.HOLD_DONE
    road.until(road.alarms[AlarmName.EMBERS])
    assert road.last(Advice).look, "it is asked after beside the embers"
    road.shuts_door()
    assert road.last(FiringDone).soot_clear is None, "and once more when all is over"
    assert not road.entries(Finished)
    road.wait(hours=24)
    assert road.entries(Finished)
    assert not road.last(BreakInDone).soot_clear


def test_a_black_dome_seen_the_morning_after_gets_its_fire_once_more() -> None:
    road = looking()
    stoking(road, 398, 60.0, times=1)
    road.until(road.alarms[AlarmName.EMBERS])
    road.shuts_door()
    road.wait(hours=1)
    road.sees("soot_black")
    assert not road.record.finished
    assert road.last(DaysShown).lines[0].plateau_c == 400.0
    road.wait(hours=14)
    assert not road.record.finished


def test_soot_in_an_early_fire_is_as_it_should_be() -> None:
    kept = fired(Road().begin())
    kept.until(kept.record.promise[0].start)
    kept.reads(25)
    kept.lights()
    kept.sees("soot_black")
    assert kept.last(SignTold).what == "soot_black"
    assert kept.action is None


def test_a_bare_wall_seen_as_the_fire_is_lit_says_nothing_of_its_end() -> None:
    kept = _before_the_last()
    road = Road(kept.now, kept.record, dict(kept.alarms), list(kept.said), kept.mark, kept.count)
    road.until(road.record.promise[0].start)
    road.reads(25)
    road.lights()
    road.sees("soot_clear")
    for _ in range(40):
        if road.last(Advice).action in (Action.LOOK_FOR_SOOT, Action.HOLD_DONE):
            break
        stoking(road, 398, 60.0, times=1)
    assert road.last(Advice).action is Action.LOOK_FOR_SOOT, "it has been laid on anew since"


def test_who_cannot_read_the_dome_is_asked_to_look_as_well() -> None:
    road = Road().begin({About.INSTRUMENT: "none"})
    for _ in range(60):
        if road.record.finished or (
            road.all_said(Advice)[-1:] and (road.last(Advice).action is Action.LOOK_FOR_SOOT)
        ):
            break
        _by_time(road)
    assert road.last(Advice).action is Action.LOOK_FOR_SOOT
    assert road.record.session is not None
    assert not road.record.session.ending


def _by_time(road: Road) -> None:
    """One firing without a thermometer, every nudge answered."""
    if road.record.session is None:
        road.until(road.record.promise[0].start)
        road.lights()
    for _ in range(30):
        due = road.alarms.get(AlarmName.NUDGE)
        if due is None:
            break
        road.until(due)
        if road.all_said(Advice)[-1:] and road.last(Advice).action is Action.LOOK_FOR_SOOT:
            return
        road.stokes(1)
    if AlarmName.EMBERS in road.alarms:
        road.until(road.alarms[AlarmName.EMBERS])
    if road.record.session is not None:
        road.shuts_door()


def test_a_second_fire_held_is_the_last_though_nobody_says_what_it_looks_like() -> None:
    """At 375 the soot may stay, and no more is to be got out of this fire and this owner."""
    kept = _before_the_last()
    road = Road(kept.now, kept.record, dict(kept.alarms), list(kept.said), kept.mark, kept.count)
    for _ in range(2):
        assert not road.entries(Finished)
        road.until(road.record.promise[0].start)
        road.reads(25)
        road.lights()
        stoking(road, 373, 45.0)
        road.wait(hours=4)
    road.wait(hours=24)
    assert road.entries(Finished)
    assert not road.last(BreakInDone).soot_clear


def test_a_third_last_fire_ends_it_though_it_stays_black() -> None:
    kept = _before_the_last()
    road = Road(kept.now, kept.record, dict(kept.alarms), list(kept.said), kept.mark, kept.count)
    for _ in range(3):
        assert not road.entries(Finished)
        road.until(road.record.promise[0].start)
        road.reads(25)
        road.lights()
        stoking(road, 373, 45.0)
        road.wait(hours=3)
        road.sees("soot_black")
    assert road.entries(Finished)
    assert not road.last(BreakInDone).soot_clear


def test_a_dome_that_nobody_read_and_that_stays_black_is_not_called_done() -> None:
    """Four last fires by the clock, and every look says black: it is believed."""
    road = Road().begin({About.INSTRUMENT: "none"})
    for _ in range(90):
        if _last_fires(road) > 3 or not (road.record.promise or road.record.session):
            break
        _by_time(road)
        question = road.record.question
        looks = road.all_said(Advice)[-1:] and road.last(Advice).action is Action.LOOK_FOR_SOOT
        if looks or (question is not None and question.what == "soot"):
            road.sees("soot_black")
    assert _last_fires(road) > 3, "it never came to its last fires"
    assert not road.entries(Finished)


def _last_fires(road: Road) -> int:
    return sum(one.aim is not None and one.aim.last for one in road.record.ended_sessions)
