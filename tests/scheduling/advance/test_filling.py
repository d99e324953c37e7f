"""A builder fills in an oven of theirs: the owner answers what is left, and both are told."""

from scheduling.choice import About, Command, CommandName, Filling, SetUpAnswer
from scheduling.firing.answers import ASKED, BUILDERS
from scheduling.happening import Begun
from scheduling.meaning import (
    FilledIn,
    FillingWaits,
    FireIndoors,
    Meaning,
    OwnerSaysOtherwise,
    PlanTold,
    SettingsShown,
    SetUpQuestion,
    StandsIndoors,
    Welcome,
)
from scheduling.outcome import BUILDER, TENDERS, Message
from tests.scheduling.road import ANA, ANSWERS, Road

BETH = "beth"
OF_BETH = {about: value for about, value in ANSWERS.items() if about in BUILDERS}


def fills(road: Road, *answers: tuple[About, str], model: str = "") -> tuple[Message, ...]:
    filling = Filling(answers=answers, model=model, by="Beth")
    return road.press(filling, by=BETH).messages


def kinds(messages: tuple[Message, ...], to: str) -> list[type[Meaning]]:
    return [type(one.meaning) for one in messages if one.to == to]


def begun(*given: tuple[About, str]) -> Road:
    road = Road()
    road.happen(
        Begun(ANA, "Oven", "team", "Beth & Co", given=given, given_by=BETH, model="Garden 80")
    )
    return road


def test_an_owner_is_told_what_is_filled_in_and_asked_only_what_is_left() -> None:
    road = begun(*OF_BETH.items())
    welcome = road.last(Welcome)
    assert dict(welcome.given) == OF_BETH | {About.PLACE: road.record.answers[About.PLACE]}
    left = [about for about in ASKED if about not in OF_BETH]
    assert welcome.to_ask == len(left)
    for about in left:
        assert road.last(SetUpQuestion).about is about
        road.press(SetUpAnswer(about=about, value=ANSWERS[about]))
    assert road.last(PlanTold).lines
    assert road.record.model == "Garden 80"


def test_whatever_a_builder_brings_along_no_fire_is_planned_before_the_owner_has_answered() -> None:
    road = begun(*OF_BETH.items())
    assert road.record.makeup is None
    assert road.record.promise == ()
    assert {About.UNITS, About.DAYS, About.HOURS, About.SECOND}.isdisjoint(BUILDERS)


def test_the_owners_own_words_are_not_filled_in_by_a_builder() -> None:
    road = begun()
    fills(road, (About.DAYS, "0123456"), (About.SIZE, "900"))
    assert About.DAYS not in road.record.answers
    assert road.record.answers[About.SIZE] == "900"


def test_an_answer_is_by_whoever_gave_it() -> None:
    road = begun((About.SIZE, "900"))
    road.press(SetUpAnswer(about=About.UNITS, value="C"))
    assert road.record.answered_by == {About.SIZE: BETH, About.UNITS: ANA}


def test_the_question_that_a_builder_answers_is_followed_by_the_next() -> None:
    road = begun()
    road.press(SetUpAnswer(about=About.UNITS, value="C"))
    told = fills(road, (About.PLACE, ANSWERS[About.PLACE]))
    assert kinds(told, BETH) == [FilledIn]
    assert kinds(told, TENDERS) == [FilledIn, SetUpQuestion]
    assert road.last(SetUpQuestion).about is About.CONSTRUCTION


def test_a_question_that_is_still_open_is_not_asked_twice() -> None:
    road = begun()
    told = fills(road, (About.SIZE, "900"))
    assert kinds(told, TENDERS) == [FilledIn]


def test_a_correction_of_a_described_oven_tells_its_owner_the_days_that_follow() -> None:
    road = Road().begin(builder="team")
    before = road.record.promise
    told = fills(road, (About.SIZE, "1400"), model="Big one")
    assert kinds(told, BETH) == [FilledIn]
    assert kinds(told, TENDERS) == [FilledIn, PlanTold]
    assert road.record.makeup is not None
    assert road.record.makeup.inner_diameter_mm == 1400
    assert road.record.promise != before


def test_what_is_known_already_changes_nothing_and_the_owner_is_left_alone() -> None:
    road = Road().begin(builder="team")
    told = fills(road, (About.SIZE, "900"))
    assert kinds(told, TENDERS) == []
    assert road.last(FilledIn).answers == ()


def test_a_wall_is_not_changed_under_a_burning_fire() -> None:
    road = Road().begin(builder="team")
    road.now = road.record.promise[0].start
    road.lights()
    told = fills(road, (About.THICKNESS, "150"))
    assert kinds(told, BETH) == [FillingWaits]
    assert About.THICKNESS not in road.record.answers


def test_that_an_oven_stands_indoors_is_taken_at_once_even_beside_a_fire() -> None:
    road = Road().begin(builder="team")
    road.now = road.record.promise[0].start
    road.lights()
    told = fills(road, (About.STANDS, "indoors"))
    assert road.record.indoors
    assert FireIndoors in kinds(told, TENDERS)


def test_an_oven_that_turns_out_to_stand_indoors_gets_no_fire() -> None:
    road = Road().begin(builder="team")
    told = fills(road, (About.STANDS, "indoors"))
    assert StandsIndoors in kinds(told, TENDERS)
    assert road.record.promise == ()


def test_a_builder_hears_when_the_owner_says_otherwise() -> None:
    road = begun((About.SIZE, "900"), (About.PLACE, ANSWERS[About.PLACE]))
    told = road.press(SetUpAnswer(about=About.SIZE, value="700")).messages
    assert kinds(told, BUILDER) == [OwnerSaysOtherwise]
    said = road.last(OwnerSaysOtherwise)
    assert (said.given, said.told) == ("900", "700")
    again = road.press(SetUpAnswer(about=About.SIZE, value="800")).messages
    assert kinds(again, BUILDER) == []


def test_an_owner_can_look_at_it_all_before_the_set_up_is_done() -> None:
    road = begun((About.SIZE, "900"))
    road.press(Command(name=CommandName.SETTINGS, rest="all"))
    assert dict(road.last(SettingsShown).answers) == {About.SIZE: "900"}
