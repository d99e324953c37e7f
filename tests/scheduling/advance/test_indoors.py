"""Where it stands: no fire is led indoors, and what is near the oven is minded."""

from datetime import timedelta

import pytest

from scheduling.advance.barring import barred, forbidden
from scheduling.advance.turn import Turn
from scheduling.choice import About, Command, CommandName, SetUpAnswer
from scheduling.firing.aim import Action
from scheduling.firing.answers import ASKED, described
from scheduling.hazard import Hazard
from scheduling.journal import Advised, Alerted, Answered, Described, FireLit
from scheduling.meaning import (
    Advice,
    Alert,
    Eve,
    FireIndoors,
    HowToLay,
    LitNoted,
    NowTold,
    PlanTold,
    SettingsShown,
    SetUpQuestion,
    StandsIndoors,
)
from scheduling.oven.makeup import Cover
from scheduling.oven.stands import Over
from scheduling.record import Phase
from scheduling.record.need import needs_of, phase_of
from scheduling.record.outlook import aims_of
from scheduling.record.standing import Concern
from scheduling.remark import Question, Topic
from tests.scheduling.road import ANSWERS, Road, lit

INDOORS = {About.STANDS: "indoors"}


def moved(road: Road, where: str) -> Road:
    road.press(SetUpAnswer(about=About.STANDS, value=where))
    return road


def test_the_first_meeting_asks_where_it_stands_and_is_no_longer_for_it() -> None:
    assert len(ASKED) == 11
    assert About.STANDS in ASKED
    assert About.OPENINGS in ASKED
    assert not {About.COVER, About.SHELTER, About.DOOR} & set(ASKED)


def test_indoors_no_plan_is_told_and_no_fire_is_planned() -> None:
    road = Road().begin(INDOORS, builder="beth")
    assert not road.all_said(PlanTold)
    assert road.record.promise == ()
    assert aims_of(road.record, road.now) == ()
    assert barred(Turn(road.record, road.now), road.now) == "indoors"
    assert phase_of(road.record, road.now) is Phase.HELD


def test_why_is_told_as_soon_as_it_is_known_and_the_builder_hears_of_it_at_once() -> None:
    road = Road().begin(INDOORS, builder="beth")
    first = next(i for i, m in enumerate(road.said) if isinstance(m.meaning, StandsIndoors))
    after = [m.meaning for m in road.said[first:] if isinstance(m.meaning, SetUpQuestion)]
    assert after, "it is told before the rest of the questions"
    assert road.all_said(StandsIndoors)[0].builder_told
    assert [one.needs for one in road.all_said(Alert)] == ["indoors"]
    assert Concern.INDOORS in [one.what for one in needs_of(road.record, road.now)]


@pytest.mark.parametrize("name", [CommandName.NOW, CommandName.PLAN, CommandName.DAYS])
def test_whatever_is_asked_indoors_the_answer_is_why_no_fire_is_led(name: CommandName) -> None:
    road = Road().begin(INDOORS)
    road.press(Command(name=name))
    assert road.heard_of(StandsIndoors)
    assert not road.heard_of(NowTold)
    assert not road.heard_of(PlanTold)


def test_weeks_go_by_indoors_and_nobody_is_asked_to_light() -> None:
    road = Road().begin(INDOORS)
    road.wait(days=21)
    assert not road.all_said(Eve)
    assert not road.all_said(HowToLay)
    road.reads(14)
    assert not road.all_said(HowToLay)


def test_a_fire_lit_indoors_all_the_same_is_left_to_die_with_everybody_out() -> None:
    road = Road().begin(INDOORS, builder="beth")
    road.lights()
    assert road.heard_of(FireIndoors)
    assert road.heard_of(FireIndoors)[0].builder_told
    assert road.entries(FireLit)[-1].too_early
    assert Hazard.LIT_EARLY.value in [one.needs for one in road.entries(Alerted)]
    for top_c in (60, 90, 120):
        road.wait(20)
        road.reads(top_c)
        assert road.action is not Action.ADD
    assert not [one for one in road.entries(Advised) if one.action is Action.ADD]


def test_a_fire_that_burns_when_it_comes_out_that_it_is_indoors_gets_no_more_wood() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.reads(60)
    moved(road, "indoors")
    assert road.heard_of(FireIndoors)
    assert forbidden(Turn(road.record, road.now)) == "indoors"
    assert road.entries(Advised)[-1].action is Action.STOP
    road.wait(25)
    road.reads(62)
    assert road.action is not Action.ADD
    assert "indoors" in [one.needs for one in road.entries(Alerted)]


def test_once_it_stands_in_the_open_it_is_planned_and_told() -> None:
    road = Road().begin(INDOORS)
    moved(road, "sky")
    assert road.heard_of(PlanTold)
    assert road.record.promise
    assert barred(Turn(road.record, road.now), road.record.promise[0].start) is None
    assert Concern.INDOORS not in [one.what for one in needs_of(road.record, road.now)]


def test_words_that_answer_where_it_stands_now_are_waited_for() -> None:
    road = Road().begin(INDOORS)
    question = road.record.question
    assert question is not None
    assert question.what == "set_up:stands"


@pytest.mark.parametrize(
    ("where", "cover"),
    [
        ("sky", Cover.OPEN), ("sky+sheet", Cover.SHEET), ("sky+beside", Cover.OPEN),
        ("slats", Cover.OPEN), ("slats+sheet", Cover.SHEET), ("roof", Cover.ROOF),
        ("roof+beside", Cover.ROOF),
    ],
)  # fmt: skip
def test_what_is_over_it_says_what_keeps_the_rain_off(where: str, cover: Cover) -> None:
    makeup = described({**ANSWERS, About.STANDS: where}, "Oven", {})
    assert makeup.cover is cover
    assert makeup.stands is not None
    assert makeup.stands.beside == ("beside" in where)
    assert not makeup.indoors


def test_flue_or_none_is_known_where_the_fire_is_spoken_of() -> None:
    for closes, flue in (("plain+flue", True), ("plain+no_flue", False)):
        road = lit({About.OPENINGS: closes})
        assert road.last(LitNoted).flue is flue
        assert road.last(HowToLay).flue is flue


def test_what_stands_beside_it_is_known_where_it_is_laid() -> None:
    road = lit({About.STANDS: "slats+beside"})
    stands = road.last(HowToLay).stands
    assert stands is not None
    assert (stands.over, stands.beside) == (Over.SLATS, True)
    eve = road.all_said(Eve)
    assert all(one.stands == stands for one in eve)


# ---------------------------------------------------------------- old journals


def old_road() -> Road:
    """An oven that was described when only its cover and its door were asked for."""
    road = Road().begin()
    kept = [
        entry
        for entry in road.record.entries
        if not (isinstance(entry, Answered) and entry.about in (About.STANDS, About.OPENINGS))
    ]
    answers = {About.COVER: "roof", About.DOOR: "insulated"}
    said = [Answered(at=road.now, about=about, value=value) for about, value in answers.items()]
    road.record = road.record.folded([*kept, *said])
    makeup = described(road.record.answers, "Oven", {})
    road.record = road.record.applied(Described(at=road.now, makeup=makeup))
    object.__setattr__(road.record, "members", 0)
    return road


def test_an_old_journal_is_read_as_it_was_meant() -> None:
    road = old_road()
    makeup = road.record.makeup
    assert makeup is not None
    assert makeup.cover is Cover.ROOF
    assert makeup.door.value == "insulated"
    assert (makeup.stands, makeup.flue) == (None, None)
    assert not road.record.indoors


def test_an_old_answer_is_corrected_in_todays_words_and_the_rest_stays() -> None:
    road = old_road()
    road.press(Command(name=CommandName.SETTINGS, rest="cover"))
    assert road.last(SetUpQuestion).about is About.STANDS
    moved(road, "sky+beside")
    makeup = road.record.makeup
    assert makeup is not None
    assert makeup.cover is Cover.OPEN
    assert makeup.door.value == "insulated"
    road.press(Command(name=CommandName.SETTINGS))
    shown = dict(road.last(SettingsShown).answers)
    assert About.COVER not in shown
    assert shown[About.STANDS] == "sky+beside"
    assert shown[About.DOOR] == "insulated"


def test_an_old_oven_is_asked_where_it_stands_the_evening_before_its_fire() -> None:
    road = old_road()
    eve_of = road.record.promise[0].start - timedelta(hours=10)
    road.until(eve_of)
    assert [one.about for one in road.heard_of(SetUpQuestion)] == [About.STANDS]
    assert road.record.question is not None
    assert road.record.question.what.startswith("eve:")


def test_asking_indoors_about_the_plan_in_words_gets_the_same_answer() -> None:
    road = Road().begin(INDOORS)
    road.say(Question(topic=Topic.LIGHTING))
    assert road.heard_of(StandsIndoors)
    assert not road.heard_of(Advice)
