"""What was read into words that told of no danger, and what is asked before wood goes on again."""

from datetime import timedelta

import pytest

from scheduling.choice import Saying
from scheduling.firing.aim import Action
from scheduling.hazard import HAZARDS, TOLD, Hazard
from scheduling.meaning import (
    Advice,
    Alert,
    CrackTold,
    HazardClosedTold,
    HazardTold,
    NotHeard,
    Nudge,
    StaleTap,
    WhatIsWrong,
)
from scheduling.remark import AllWell, Crack, CrackSize, HazardSaid, Misheard, SomethingWrong
from tests.scheduling.road import Road, lit

OF_PEOPLE = [one for one in TOLD if HAZARDS[one].people]
WORDS = "hands are burning hot, lovely"


def misread(hazard: Hazard) -> Road:
    """A fire that was due for wood when somebody's words were misread, and was told so."""
    road = lit()
    road.wait(31)
    road.reads(50)
    road.stokes()
    road.wait(20)
    road.endangered(hazard, text=WORDS)
    road.wait(1)
    road.say(Misheard(hazard=hazard, since=road.last(HazardTold).since))
    return road


def asked_for_wood(road: Road, since: int) -> bool:
    said = [one.meaning for one in road.said[since:]]
    return any(isinstance(one, Advice) and one.action is Action.ADD for one in said)


@pytest.mark.parametrize("hazard", OF_PEOPLE)
def test_whether_everybody_is_safe_is_asked_before_wood_goes_on_again(hazard: Hazard) -> None:
    road = misread(hazard)
    told = road.last(HazardClosedTold)
    assert told.misheard
    assert told.safe_since == road.now
    assert not told.lit, "the fire does not go on yet"
    start = len(road.said)
    for top_c in (62, 63, 64):
        road.wait(9)
        road.reads(top_c)
        asked = road.heard_of(NotHeard)
        assert asked, "a number does not answer it, and is not left without a word"
        assert asked[-1].misread
    assert not asked_for_wood(road, start)
    road.say(AllWell(since=road.last(NotHeard).since))
    assert road.action is Action.ADD


def test_one_word_settles_it() -> None:
    road = misread(Hazard.BURNT)
    road.say(AllWell(since=road.last(HazardClosedTold).safe_since))
    road.wait(12)
    road.reads(62)
    assert road.action is Action.ADD
    road.wait(40)
    assert not road.all_said(NotHeard)


def test_it_is_asked_again_and_nothing_else_is_while_nobody_answers() -> None:
    road = misread(Hazard.UNWELL)
    road.wait(30)
    assert len(road.heard_of(NotHeard)) > 1
    assert not road.heard_of(Nudge)


def test_it_stays_open_beside_newer_words_that_nobody_understood() -> None:
    road = misread(Hazard.BURNT)
    road.wait(2)
    road.say(unheard="the thingummy is odd")
    assert road.last(NotHeard).misread
    start = len(road.said)
    road.wait(9)
    road.reads(62)
    assert not asked_for_wood(road, start)
    road.say(AllWell(since=road.last(NotHeard).since))
    assert road.action is Action.ADD


def test_something_is_wrong_after_all() -> None:
    road = misread(Hazard.BURNT)
    road.say(SomethingWrong())
    assert road.heard_of(WhatIsWrong)
    assert [one.what for one in road.record.hazards] == [Hazard.UNNAMED]


def test_what_is_no_danger_to_people_is_taken_back_without_a_question() -> None:
    road = misread(Hazard.POPPING)
    told = road.last(HazardClosedTold)
    assert told.lit
    assert told.safe_since is None
    road.wait(10)
    road.reads(62)
    assert road.action is Action.ADD


def test_nothing_is_asked_where_nothing_burns() -> None:
    road = Road().begin()
    road.endangered(Hazard.UNWELL, text=WORDS)
    road.say(Misheard(hazard=Hazard.UNWELL, since=road.last(HazardTold).since))
    assert road.last(HazardClosedTold).safe_since is None
    assert not road.record.hazards


def test_an_older_all_is_well_settles_nothing() -> None:
    road = misread(Hazard.BURNT)
    told = road.last(HazardClosedTold)
    assert told.safe_since is not None
    road.say(AllWell(since=told.safe_since - timedelta(hours=1)))
    assert road.heard_of(StaleTap)
    assert road.record.session is not None
    assert road.record.session.unheard is not None


# ---------------------------------------------------------------- cracks


def cracked(size: CrackSize, builder: str | None = None) -> Road:
    """A fire due for wood, and words that were taken for a crack."""
    road = lit(builder=builder)
    road.wait(31)
    road.reads(50)
    road.stokes()
    road.wait(20)
    road.say(Crack(size=size), text="cracking morning for it")
    return road


def denies(road: Road) -> None:
    told = road.last(CrackTold)
    assert told.misread_as is not None
    assert told.since is not None
    road.say(Misheard(hazard=told.misread_as, since=told.since))


@pytest.mark.parametrize("size", [CrackSize.OPEN, CrackSize.UNSAID])
def test_a_crack_that_nobody_told_of_is_taken_back_with_all_that_it_stopped(
    size: CrackSize,
) -> None:
    road = cracked(size)
    assert road.record.hazards
    road.wait(1)
    denies(road)
    assert road.last(HazardClosedTold).misheard
    assert not road.record.hazards
    assert road.record.session is not None
    assert not road.record.session.ending
    road.wait(12)
    road.reads(62)
    assert road.action is Action.ADD


def test_the_builder_hears_that_it_was_none_where_they_heard_of_it() -> None:
    road = cracked(CrackSize.OPEN, builder="beth")
    denies(road)
    assert [one.misheard for one in road.all_said(Alert)] == [False, True]
    road = cracked(CrackSize.UNSAID, builder="beth")
    denies(road)
    assert not road.all_said(Alert)


def test_a_crack_told_by_a_button_or_a_hairline_was_not_misread() -> None:
    road = lit()
    road.press(Saying(remarks=(Crack(size=CrackSize.OPEN),)))
    assert road.last(CrackTold).misread_as is None
    since = road.record.hazards[0].since
    road.say(Misheard(hazard=Hazard.CRACK, since=since))
    assert road.heard_of(StaleTap)
    assert road.record.hazards
    assert cracked(CrackSize.HAIRLINE).last(CrackTold).misread_as is None


def test_a_crack_that_was_told_of_again_since_stays() -> None:
    road = cracked(CrackSize.UNSAID)
    since = road.last(CrackTold).since
    assert since is not None
    road.wait(1)
    road.press(Saying(remarks=(Crack(size=CrackSize.OPEN),)))
    road.say(Misheard(hazard=Hazard.CRACK_UNSAID, since=since))
    assert road.heard_of(StaleTap)
    assert [one.what for one in road.record.hazards] == [Hazard.CRACK]


def test_of_a_crack_and_another_hazard_either_is_denied_alone() -> None:
    road = cracked(CrackSize.HAIRLINE)
    road.wait(1)
    both = (HazardSaid(hazard=Hazard.BURNT), Crack(size=CrackSize.OPEN))
    road.say(*both, text="hands burning hot, cracking day")
    road.say(Misheard(hazard=Hazard.BURNT, since=road.last(HazardTold).since))
    assert [one.what for one in road.record.hazards] == [Hazard.CRACK]
    assert road.last(HazardClosedTold).others == (Hazard.CRACK,)
    road.say(Misheard(hazard=Hazard.CRACK, since=road.record.hazards[0].since))
    assert not road.record.hazards
    road.wait(9)
    road.reads(62)
    assert road.last(NotHeard).misread, "and whether everybody is safe is still to be said"
    assert road.action is not Action.ADD
