"""A crack of which nobody has said whether it is open: it stands, asked after, until they do."""

from datetime import timedelta

import pytest

from scheduling.alarm import AlarmName
from scheduling.firing.aim import Action
from scheduling.hazard import Hazard
from scheduling.meaning import HazardAsked, HazardClosedTold, LitTooEarly, MustNotBurn
from scheduling.record import Phase
from scheduling.record.need import needs_of, phase_of
from scheduling.remark import Crack, CrackSize, HazardSaid, Looked
from tests.scheduling.road import Road, lit


def cracked(builder: str | None = None) -> Road:
    """A fire due for wood, and a crack of which no more is said."""
    road = lit(builder=builder)
    road.wait(31)
    road.reads(50)
    road.stokes()
    road.wait(20)
    road.cracks(CrackSize.UNSAID)
    return road


def open_(road: Road) -> list[Hazard]:
    return [one.what for one in road.record.hazards]


def test_it_is_asked_after_again_and_again_with_a_question_of_its_own() -> None:
    road = cracked()
    road.wait(11)
    assert [one.hazard for one in road.heard_of(HazardAsked)] == [Hazard.CRACK_UNSAID]
    road.wait(60)
    assert len(road.heard_of(HazardAsked)) > 1
    road.wait(days=3)
    assert road.alarms[AlarmName.FOLLOW_UP] - road.now <= timedelta(days=1)


def test_it_is_asked_after_where_nothing_burns() -> None:
    road = Road().begin()
    road.cracks(CrackSize.UNSAID)
    road.wait(11)
    assert road.last(HazardAsked).hazard is Hazard.CRACK_UNSAID
    assert not road.last(HazardAsked).lit


def test_told_beside_a_hazard_it_is_not_forgotten() -> None:
    road = lit()
    road.say(HazardSaid(hazard=Hazard.CHILD_NEAR), Crack(size=CrackSize.UNSAID))
    road.looked(Hazard.CHILD_NEAR)
    told = road.last(HazardClosedTold)
    assert told.others == (Hazard.CRACK_UNSAID,)
    assert not told.lit, "the fire does not go on yet"
    road.wait(30)
    assert road.last(HazardAsked).hazard is Hazard.CRACK_UNSAID


def test_the_end_of_the_fire_does_not_answer_it_and_no_other_is_lit_before() -> None:
    road = cracked()
    road.fire_dies()
    road.shuts_door()
    assert open_(road) == [Hazard.CRACK_UNSAID]
    assert phase_of(road.record, road.now) is Phase.HELD
    road.wait(days=1)
    road.lights()
    assert road.last(LitTooEarly).why == "trouble"
    road.reads(60)
    assert road.last(MustNotBurn).hazard is Hazard.CRACK_UNSAID


@pytest.mark.parametrize(
    ("size", "standing"), [(CrackSize.HAIRLINE, []), (CrackSize.OPEN, [Hazard.CRACK])]
)
def test_a_word_of_its_width_settles_it(size: CrackSize, standing: list[Hazard]) -> None:
    road = cracked()
    road.wait(2)
    road.cracks(size)
    assert open_(road) == standing
    road.wait(days=2)
    asked = [one.hazard for one in road.all_said(HazardAsked)]
    assert Hazard.CRACK_UNSAID not in asked


def test_the_fire_goes_on_after_a_hairline() -> None:
    road = cracked()
    road.cracks(CrackSize.HAIRLINE)
    assert AlarmName.FOLLOW_UP not in road.alarms
    road.wait(12)
    road.reads(62)
    assert road.action is Action.ADD


@pytest.mark.parametrize("hazard", [None, Hazard.CRACK])
def test_that_it_is_sound_is_no_answer_to_how_wide_it_is(hazard: Hazard | None) -> None:
    road = cracked()
    road.say(Looked(hazard=hazard, sound=True))
    assert road.heard_of(HazardAsked)
    assert open_(road) == [Hazard.CRACK_UNSAID]


def test_taking_back_its_width_opens_the_question_again() -> None:
    road = cracked()
    road.cracks(CrackSize.HAIRLINE)
    road.undoes()
    assert open_(road) == [Hazard.CRACK_UNSAID]
    road.wait(11)
    assert road.last(HazardAsked).hazard is Hazard.CRACK_UNSAID


def test_the_builder_sees_what_the_oven_waits_for() -> None:
    road = cracked(builder="beth")
    assert Hazard.CRACK_UNSAID in [one.what for one in needs_of(road.record, road.now)]
