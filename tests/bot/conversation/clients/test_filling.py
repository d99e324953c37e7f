"""A builder fills in an oven of theirs, before its owner comes and after; by model, tap or line."""

import pytest

from bot.wording.voice import Voice
from scheduling.choice import About
from tests.bot.conversation.clients.yard import Yard
from tests.bot.conversation.desk import Desk


@pytest.fixture
async def yard() -> Yard:
    yard = Yard()
    await yard.founded(models=True)
    return yard


LINES = "town: Alderby\nfinished: 2 March\nstands: under a roof"


async def test_what_is_filled_in_before_the_owner_comes_is_not_asked(yard: Yard) -> None:
    code = await yard.invited("Rosa")
    await yard.press("beth", "Fill in their oven")
    await yard.press("beth", "From a model of mine")
    await yard.press("beth", "Garden 80")
    await yard.say("beth", LINES)
    told = await yard.say("rosa", f"/start {code}")
    assert "Inner width: 80 cm" in told[0]
    assert "First come four short questions" in told[0]
    last = await yard.answers("rosa", "°C", "Any day", "9:00 to 18:00", "Just me")
    record = await yard.engine.record(await _oven(yard, "rosa"))
    assert record.makeup is not None
    assert record.makeup.inner_diameter_mm == 800
    assert record.model == "Garden 80"
    assert record.answered_by[About.SIZE] == "beth"
    assert last.to == "rosa"


async def test_nothing_is_planned_before_the_owner_has_answered(yard: Yard) -> None:
    code = await yard.invited("Rosa")
    await yard.say("beth", f"model: Garden 80\n{LINES}")
    await yard.person("rosa", zone="Europe/London")
    await yard.say("rosa", f"/start {code}")
    record = await yard.engine.record(await _oven(yard, "rosa"))
    assert record.promise == ()
    assert record.makeup is None


async def test_lines_right_after_an_invitation_are_about_its_oven(yard: Yard) -> None:
    await yard.invited("Rosa")
    (told,) = await yard.say("beth", LINES)
    assert "The oven of Rosa, noted" in told
    given = dict((await yard.open_ones())["Rosa"].given)
    assert given[About.WET_WORK] == "2026-03-02"
    assert given[About.STANDS] == "roof"


async def test_a_date_that_may_be_two_is_asked_back_and_takes_the_other_lines_along(
    yard: Yard,
) -> None:
    await yard.invited("Rosa")
    (asked,) = await yard.say("beth", "size: 90 cm\nfinished: 3/4/2026")
    assert "The rest of what you typed waits for this" in asked
    assert (await yard.open_ones())["Rosa"].given == ()
    await yard.press("beth", "Fri 3 Apr")
    given = dict((await yard.open_ones())["Rosa"].given)
    assert given == {About.SIZE: "900", About.WET_WORK: "2026-04-03"}


async def test_an_answer_that_cannot_be_right_is_refused_with_its_range(yard: Yard) -> None:
    await yard.invited("Rosa")
    await yard.press("beth", "Fill in their oven")
    await yard.press("beth", "Wall thickness")
    (asked,) = await yard.say("beth", "9000 mm")
    assert "“9000 mm” is not likely" in asked
    assert "between 2 cm and 30 cm" in asked
    (noted,) = await yard.say("beth", "8 cm")
    assert "Wall thickness: 8 cm" in noted


async def test_a_model_that_is_none_is_answered_with_those_there_are(yard: Yard) -> None:
    await yard.invited("Rosa")
    (asked,) = await yard.say("beth", "model: Garden 99\nsize: 85 cm")
    assert "which of your models is it" in asked
    await yard.press("beth", "Garden 80")
    given = dict((await yard.open_ones())["Rosa"].given)
    # What was typed goes before what the model says.
    assert (given[About.SIZE], given[About.CONSTRUCTION]) == ("850", "cast-dense")


async def test_without_a_model_it_is_told_how_to_have_one() -> None:
    yard = Yard()
    await yard.founded()
    await yard.invited("Rosa")
    await yard.press("beth", "Fill in their oven")
    (told,) = await yard.press("beth", "From a model of mine")
    assert "You have no model yet" in told


async def test_a_running_oven_is_corrected_from_its_card_and_its_owner_is_told(
    yard: Yard,
) -> None:
    await yard.client("ivy")
    (card,) = await yard.say("beth", "ivy")
    assert "Oven: Cast dome, dense; 90 cm" in card
    assert "Assumed: wall thickness" in card
    await yard.press("beth", "The oven")
    (noted,) = await yard.say("beth", "size: 120 cm")
    assert "Its owner is told" in noted
    assert "Beth has put down for your oven" in yard.told("ivy")[-2]
    assert "the plan has changed" in yard.told("ivy")[-1]
    assert (await yard.record("ivy")).answers[About.SIZE] == "1200"


async def test_an_owner_who_says_otherwise_is_believed_and_the_builder_hears(yard: Yard) -> None:
    await yard.client("ivy")
    await yard.say("beth", "ivy")
    await yard.say("beth", "size: 120 cm")
    await yard.press("ivy", "Something is not right")
    await yard.press("ivy", "Change inner width")
    await yard.say("ivy", "100 cm")
    assert "Ivy says otherwise of the inner width: 100 cm" in yard.told("beth")[-1]
    assert (await yard.record("ivy")).answers[About.SIZE] == "1000"


async def test_a_wall_is_not_changed_while_a_fire_burns_in_it(yard: Yard) -> None:
    await yard.client("ivy")
    await yard.lights("ivy")
    await yard.say("beth", "ivy")
    (told,) = await yard.say("beth", "size: 120 cm")
    assert told.startswith("Nothing is changed")
    assert (await yard.record("ivy")).answers[About.SIZE] == "900"


async def test_an_order_is_an_order_although_a_question_is_open(yard: Yard) -> None:
    await yard.client("ivy")
    await yard.say("beth", "ivy")
    await yard.press("beth", "The oven")
    await yard.press("beth", "Inner width")
    await yard.say("beth", "hold")
    assert (await yard.record("ivy")).held is not None


async def test_another_clients_name_is_no_answer_and_opens_their_card(yard: Yard) -> None:
    await yard.client("ivy")
    await yard.client("dora")
    await yard.say("beth", "ivy")
    await yard.press("beth", "The oven")
    await yard.press("beth", "Inner width")
    (card,) = await yard.say("beth", "dora")
    assert card.startswith("Dora")


async def test_an_invitation_gets_a_new_code_with_all_that_is_filled_in(yard: Yard) -> None:
    old = await yard.invited("Rosa")
    await yard.say("beth", LINES)
    await yard.say("beth", "/invitations")
    await yard.press("beth", "1. Rosa")
    (told,) = await yard.press("beth", "A new code to pass on")
    assert "The code before opens nothing any more" in told
    await yard.person("eve")
    assert "set up" not in " ".join(await yard.say("eve", f"/start {old}"))
    assert len((await yard.open_ones())["Rosa"].given) == 3


async def test_who_was_invited_is_found_by_their_name(yard: Yard) -> None:
    await yard.invited("Rosa Green")
    await yard.later(yard.now - yard.now)
    (told,) = await yard.say("beth", "green")
    assert told.startswith("Rosa Green")
    assert "Nobody has come for it yet" in told


async def test_no_other_builder_sees_or_fills_in_what_is_not_theirs() -> None:
    desk = Desk(channel="telegram", voice=Voice())
    for who in ("bea", "eve"):
        await desk.founded(who)
    await desk.say("bea", "/invite Ana")
    key = desk.listener.key_of("bea", "Fill in their oven")
    (seen,) = await desk.press("eve", key)
    assert "Ana" not in seen
    assert seen == (await desk.press("eve", "no-such-key"))[0]


async def _oven(yard: Yard, who: str) -> str:
    async with yard.store.read() as unit:
        person = await unit.people.at("replay", who)
        assert person is not None
        (card,) = await unit.ovens.of_person(person.id)
    return card.id
