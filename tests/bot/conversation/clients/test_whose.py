"""Whom lines, numbers and orders are about: a reply goes before what lies open or was asked."""

import pytest

from scheduling.choice import About
from scheduling.ports import Person
from tests.bot.conversation.clients.yard import Yard


@pytest.fixture
async def yard() -> Yard:
    yard = Yard()
    await yard.founded()
    for name in ("max", "ivy"):
        await yard.client(name)
    return yard


async def kept(yard: Yard, who: str) -> Person:
    async with yard.store.read() as unit:
        person = await unit.people.get(who)
    assert person is not None
    return person


async def test_lines_in_a_reply_are_about_the_oven_of_that_message(yard: Yard) -> None:
    await yard.say("beth", "max")
    of_max = yard.last("beth")
    await yard.say("beth", "ivy")
    before = (await yard.record("ivy")).answers
    await yard.reply("beth", of_max, "size: 95 cm")
    assert (await yard.record("max")).answers[About.SIZE] == "950"
    assert (await yard.record("ivy")).answers == before


async def test_lines_in_a_reply_are_about_no_make_up_that_lies_open(yard: Yard) -> None:
    await yard.say("beth", "max")
    of_max = yard.last("beth")
    await yard.invited("Rosa")
    await yard.reply("beth", of_max, "size: 95 cm")
    assert (await yard.record("max")).answers[About.SIZE] == "950"
    assert (await yard.open_ones())["Rosa"].given == ()


async def test_a_number_in_a_reply_is_of_whoever_that_message_is_about(yard: Yard) -> None:
    await yard.say("beth", "max")
    of_max = yard.last("beth")
    await yard.say("beth", "ivy")
    await yard.reply("beth", of_max, "their number is 07700 900123")
    assert (await kept(yard, "max")).phone == "+44 7700 900123"
    assert (await kept(yard, "ivy")).phone == ""


async def test_an_order_with_a_name_is_no_answer_to_a_question(yard: Yard) -> None:
    await yard.say("beth", "max")
    await yard.press("beth", "The oven")
    await yard.press("beth", "Inner width")
    await yard.say("beth", "hold ivy")
    assert (await yard.record("ivy")).held is not None
    assert (await yard.record("max")).held is None


@pytest.mark.parametrize("order", ["hold all", "hold ivy", "ivy: hold"])
async def test_an_order_is_nobodys_name(yard: Yard, order: str) -> None:
    await yard.say("beth", "/team")
    await yard.press("beth", "My name")
    await yard.say("beth", order)
    assert (await kept(yard, "beth")).name == "Beth"


async def test_words_in_a_reply_about_an_oven_are_no_name(yard: Yard) -> None:
    await yard.say("beth", "max")
    of_max = yard.last("beth")
    await yard.say("beth", "/team")
    await yard.press("beth", "My name")
    await yard.reply("beth", of_max, "looks good today")
    assert (await kept(yard, "beth")).name == "Beth"


async def test_in_a_talk_a_word_for_a_search_is_said_to_the_owner(yard: Yard) -> None:
    await yard.say("beth", "max")
    await yard.say("beth", "talk")
    await yard.say("beth", "cracks")
    assert "cracks" in yard.told("max")[-1]


async def test_in_a_talk_a_search_that_is_called_one_is_asked_about(yard: Yard) -> None:
    await yard.say("beth", "max")
    await yard.say("beth", "talk")
    (asked,) = await yard.say("beth", "find on hold")
    assert "for Max to read" in asked
