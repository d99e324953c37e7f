"""What may be taken back while a fire burns, and what stays said."""

from datetime import timedelta

import pytest

from scheduling.alarm import AlarmName
from scheduling.choice import About, Command, CommandName, Tending
from scheduling.firing.aim import Action
from scheduling.happening import Chose
from scheduling.hazard import Hazard
from scheduling.journal import Advised, FireLit, Undone, WoodPutOn
from scheduling.meaning import (
    Advice,
    FireStays,
    HazardAsked,
    HazardStays,
    HazardTold,
    StaleTap,
    UndoneTold,
)
from scheduling.remark import Crack, CrackSize, HazardSaid, Lit, NotLit, Reading, Remark, Stoked
from tests.scheduling.road import ANA, Road, lit

DANGERS = (
    (HazardSaid(hazard=Hazard.POPPING), Hazard.POPPING),
    (HazardSaid(hazard=Hazard.FLUE_FLAMES), Hazard.FLUE_FLAMES),
    (HazardSaid(hazard=Hazard.UNWELL), Hazard.UNWELL),
    (Crack(size=CrackSize.OPEN), Hazard.CRACK),
)


def fed() -> Road:
    """A fire that was read and fed, half an hour after the match."""
    road = lit()
    road.wait(31)
    road.say(Reading(top_c=45.0), key="read")
    assert road.action is Action.ADD
    return road


def lighting(road: Road) -> str:
    """The message that told of the first lighting."""
    key = road.entries(FireLit)[0].key
    assert key is not None
    return key


# ---------------------------------------------------------------- wood that was asked for


def test_an_edited_reading_asks_for_no_second_charge() -> None:
    road = fed()
    road.wait(2)
    road.say(Reading(top_c=46.0), key="read2", amends="read")
    assert road.action is not None
    assert road.action is not Action.ADD
    assert [one.top_c for one in road.record.readings] == [14, 46.0]


def test_a_reading_taken_back_and_told_anew_asks_for_no_second_charge() -> None:
    road = fed()
    asked_at = road.now
    road.undoes()
    assert road.record.session is not None
    assert road.record.session.last_fed_at == asked_at
    road.wait(2)
    road.reads(46)
    assert road.action is not None
    assert road.action is not Action.ADD


def test_wood_taken_back_was_still_asked_for() -> None:
    road = fed()
    road.wait(1)
    road.stokes(2)
    road.undoes()
    assert road.last(UndoneTold).pieces == 2
    assert road.record.session is not None
    assert not road.record.session.stokes
    road.wait(1)
    road.reads(47)
    assert road.action is not Action.ADD


# ---------------------------------------------------------------- the lighting of a burning fire


def test_an_edited_lighting_keeps_the_fire_and_all_that_is_known_of_it() -> None:
    road = fed()
    road.stokes(2)
    before = road.record.session
    assert before is not None
    earlier = before.lit_at - timedelta(minutes=10)
    road.say(Lit(at=earlier), key="lit2", amends=lighting(road))
    after = road.record.session
    assert after is not None
    assert after.lit_at == earlier
    assert after.readings == before.readings
    assert after.stokes == before.stokes
    assert after.aim == before.aim
    assert after.advised[: len(before.advised)] == before.advised
    assert AlarmName.NUDGE in road.alarms


def test_a_lighting_told_with_its_reading_can_be_edited() -> None:
    road = Road().begin().to_first_firing()
    road.reads(14)
    road.wait(31)
    road.say(Lit(at=road.now - timedelta(minutes=31)), Reading(top_c=45.0), key="both")
    assert road.action is Action.ADD
    road.wait(1)
    road.say(
        Lit(at=road.now - timedelta(minutes=32)),
        Reading(top_c=46.0),
        key="both2",
        amends="both",
    )
    assert road.record.session is not None
    assert [one.top_c for one in road.record.session.readings] == [46.0]
    assert road.record.question is None
    assert len(road.heard_of(Advice)) == 1
    assert road.action is not Action.ADD


def test_a_hold_that_is_over_is_not_forgotten_with_the_lighting() -> None:
    road = fed()
    road.record = road.record.with_entries([Advised(at=road.now, action=Action.HOLD_DONE)])
    road.say(Lit(), key="lit2", amends=lighting(road))
    assert road.record.session is not None
    assert road.record.session.ending


def test_a_burning_fire_stays_when_the_one_who_lit_it_takes_that_back() -> None:
    road = lit()
    road.press(Tending(person="bo"))
    road.wait(31)
    road.say(Reading(top_c=45.0), by="bo")
    before, alarms = road.record.session, dict(road.alarms)
    road.undoes()
    assert road.heard_of(FireStays)
    assert not road.entries(Undone)
    assert road.record.session == before
    assert road.alarms == alarms
    assert AlarmName.NUDGE in road.alarms


def test_advice_alone_keeps_a_fire() -> None:
    road = lit({About.INSTRUMENT: "none"})
    road.wait(60)
    assert road.record.session is not None
    assert any(one.action is Action.ADD for one in road.record.session.advised)
    road.undoes()
    assert road.heard_of(FireStays)
    assert road.record.session is not None


def test_not_lit_does_not_put_a_fire_out_that_was_read() -> None:
    road = lit()
    road.say(NotLit(), key="lit2", amends=lighting(road))
    assert road.record.session is None
    road = fed()
    road.say(NotLit(), key="lit2", amends=lighting(road))
    assert road.heard_of(FireStays)
    assert road.record.session is not None
    assert road.record.session.top_c == 45


def test_a_fire_lit_again_stays_lit() -> None:
    road = fed()
    road.wait(1)
    road.record = road.record.with_entries([FireLit(at=road.now, by=ANA, aim=None, key="again")])
    road.undoes()
    assert road.heard_of(FireStays)
    assert not road.entries(Undone)


# ---------------------------------------------------------------- dangers


@pytest.mark.parametrize(("remark", "hazard"), DANGERS)
def test_a_danger_is_looked_at_and_not_taken_back(remark: Remark, hazard: Hazard) -> None:
    road = fed()
    road.stokes(3)
    road.wait(1)
    road.say(remark)
    road.wait(1)
    before, alarms = road.record.entries, dict(road.alarms)
    road.undoes()
    stays = road.heard_of(HazardStays)
    assert [(one.hazard, one.why, one.lit) for one in stays] == [(hazard, "undo", True)]
    assert road.record.entries == before
    assert road.alarms == alarms
    road.wait(1)
    road.reads(46)
    assert road.action is not Action.ADD


@pytest.mark.parametrize(("remark", "hazard"), DANGERS)
def test_an_edited_danger_still_stands(remark: Remark, hazard: Hazard) -> None:
    road = fed()
    road.say(remark, key="danger")
    road.wait(1)
    road.say(Stoked(pieces=3), key="danger2", amends="danger")
    assert [one.what for one in road.record.hazards] == [hazard]
    assert road.record.session is not None
    assert road.record.session.stopped
    assert road.heard_of(HazardStays)


def test_a_danger_told_again_by_an_edit_is_answered_as_a_danger_alone() -> None:
    road = fed()
    road.say(HazardSaid(hazard=Hazard.POPPING), key="danger")
    road.wait(1)
    road.say(HazardSaid(hazard=Hazard.POPPING), key="danger2", amends="danger")
    assert road.heard_of(HazardTold)
    assert not road.heard_of(HazardStays)


def test_what_was_told_in_one_breath_with_a_danger_stays_with_it() -> None:
    road = fed()
    road.say(Stoked(pieces=3), HazardSaid(hazard=Hazard.POPPING))
    road.undoes()
    assert road.heard_of(HazardStays)
    assert [one.pieces for one in road.entries(WoodPutOn)] == [3]
    assert road.record.session is not None
    assert len(road.record.session.stokes) == 1


def test_what_came_after_a_danger_can_be_taken_back() -> None:
    road = fed()
    road.endangered(Hazard.POPPING)
    road.wait(12)
    road.reads(99)
    road.undoes()
    assert road.last(UndoneTold).top_c == 99
    road.undoes()
    assert road.heard_of(HazardStays)


def test_a_look_that_is_taken_back_opens_the_danger_again_and_asks_about_it() -> None:
    road = fed()
    road.endangered(Hazard.UNWELL)
    road.wait(11)
    road.looked(Hazard.UNWELL)
    assert not road.record.hazards
    road.undoes()
    assert road.last(UndoneTold).what == "trouble_closed"
    assert [one.what for one in road.record.hazards] == [Hazard.UNWELL]
    road.wait(11)
    assert road.heard_of(HazardAsked)


def test_a_danger_that_was_looked_at_stays_in_the_book() -> None:
    road = fed()
    road.endangered(Hazard.UNWELL)
    road.wait(11)
    road.looked(Hazard.UNWELL, by="bo")
    before = road.record.entries
    road.undoes()
    assert [one.why for one in road.heard_of(HazardStays)] == ["over"]
    assert road.record.entries == before


# ---------------------------------------------------------------- an older button


def test_an_older_button_takes_back_nothing_newer() -> None:
    road = fed()
    shown_at = road.now
    road.wait(1)
    road.stokes(2)
    undo = Command(name=CommandName.UNDO)
    before = road.record.entries
    road.happen(Chose(ANA, undo, road.key(), shown_at))
    assert [one.newer for one in road.heard_of(StaleTap)] == [True]
    assert road.record.entries == before
    road.happen(Chose(ANA, undo, road.key(), road.now))
    assert road.last(UndoneTold).pieces == 2


def test_a_lesser_sign_can_be_taken_back() -> None:
    road = fed()
    road.sees("steam")
    road.undoes()
    assert road.last(UndoneTold).what == "seen"
