"""A message that could not be worked on is told at once, and in a fire it holds the wood."""

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduling.advance.burning import ground
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.choice import About
from scheduling.firing.advice import forbids_wood
from scheduling.firing.aim import Action
from scheduling.firing.ground import Reason
from scheduling.happening import WentUnheard
from scheduling.journal import Measured, Unheard
from scheduling.meaning import Advice, Alert, Doubtful, NotHeard, NothingToUndo, Nudge
from scheduling.outcome import Urgency
from scheduling.record.need import needs_of
from scheduling.record.standing import Concern
from tests.scheduling.road import ANA, Road, lit


def goes_unheard(road: Road) -> None:
    road.happen(WentUnheard(ANA))


def gate(road: Road) -> Reason | None:
    """Why no wood may go on, of a fire that would otherwise get some: nothing was put on or asked
    for since it was lit, and a number that is believed was read five minutes ago."""
    stands_on = ground(Turn(road.record, road.now))
    now = stands_on.session.lit_at + timedelta(minutes=45)
    reading = Measured(at=now - timedelta(minutes=5), top_c=45.0)
    readings = (reading,) if stands_on.instrument else ()
    session = replace(stands_on.session, readings=readings, advised=(), stokes=())
    return forbids_wood(replace(stands_on, now=now, session=session))


def test_it_is_told_at_once_and_the_fire_is_asked_about_soon() -> None:
    road = lit()
    road.wait(20)
    goes_unheard(road)
    assert [(one.words, one.lit) for one in road.heard_of(NotHeard)] == [("", True)]
    assert road.said[-1].urgency is Urgency.FIRE
    assert road.alarms[AlarmName.NUDGE] - road.now == timedelta(minutes=5)
    road.wait(6)
    assert road.heard_of(NotHeard), "it is asked once more, and nothing else is"
    assert not road.heard_of(Nudge)


def test_no_wood_goes_on_before_a_number_that_is_believed() -> None:
    road = lit()
    road.until(road.alarms[AlarmName.NUDGE])
    assert gate(road) is None
    goes_unheard(road)
    assert gate(road) == Reason("unheard")
    road.reads(300)
    assert road.heard_of(Doubtful)
    assert gate(road) == Reason("unheard"), "a number that is doubted settles nothing"
    road.say(text="hm")
    assert gate(road) == Reason("unheard"), "words that say nothing of the fire settle nothing"
    road.reads(45)
    assert gate(road) == Reason("unheard"), "a number sent before they can have seen the question"
    road.wait(4)
    road.reads(46)
    assert gate(road) is None


def test_by_the_clock_no_wood_is_asked_for_until_somebody_tells_of_the_fire() -> None:
    road = lit({About.INSTRUMENT: "none"})
    assert gate(road) is None
    goes_unheard(road)
    assert [(one.words, one.lit) for one in road.heard_of(NotHeard)] == [("", True)]
    assert gate(road) == Reason("unheard")
    road.wait(80)
    assert len(road.heard_of(NotHeard)) > 1
    assert not road.heard_of(Nudge)
    assert not any(one.action is Action.ADD for one in road.heard_of(Advice))
    road.sees("back")
    assert gate(road) is None


def test_where_no_fire_burns_it_is_an_answer_and_changes_nothing_else() -> None:
    road = Road().begin()
    alarms = dict(road.alarms)
    goes_unheard(road)
    assert [(one.words, one.lit) for one in road.heard_of(NotHeard)] == [("", False)]
    assert road.alarms == alarms


def test_the_builder_is_told_when_it_happens_again_and_once_of_the_same() -> None:
    road = lit(builder="beth")
    goes_unheard(road)
    assert not road.all_said(Alert)
    road.wait(2)
    goes_unheard(road)
    assert [one.needs for one in road.all_said(Alert)] == [Concern.UNHEARD.value]
    goes_unheard(road)
    assert len(road.all_said(Alert)) == 1
    assert Concern.UNHEARD in [one.what for one in needs_of(road.record, road.now)]
    later = road.now + timedelta(hours=25)
    assert Concern.UNHEARD not in [one.what for one in needs_of(road.record, later)]


def test_what_went_unheard_cannot_be_taken_back() -> None:
    road = lit()
    road.wait(hours=30)
    goes_unheard(road)
    road.undoes()
    assert road.heard_of(NothingToUndo)
    assert len(road.entries(Unheard)) == 1


@pytest.mark.parametrize("makeup", [{}, {About.INSTRUMENT: "none"}], ids=["reads", "by time"])
def test_somebody_whose_message_went_unheard_is_there(makeup: dict[About, str]) -> None:
    road = lit(makeup, builder="beth")
    road.until(road.alarms[AlarmName.NUDGE])
    road.wait(3)
    goes_unheard(road)
    assert road.record.session is not None
    assert road.record.session.nudged is None
    assert AlarmName.REPEAT not in road.alarms
