"""In a talk: what may be for us is asked about, and never said to an owner."""

import pytest

from scheduling.journal import TalkSaid
from tests.bot.conversation.office.van import Van


@pytest.fixture
async def van() -> Van:
    van = Van()
    await van.team("beth", "jo")
    for name in ("ivy", "max", "maxine"):
        await van.client(name)
    await van.say("beth", "ivy")
    await van.say("beth", "talk")
    return van


async def said(van: Van) -> list[str]:
    return [one.text for one in (await van.record("ivy")).all_of(TalkSaid)]


@pytest.mark.parametrize(
    "text",
    ["list", "who needs me", "needs", "fires", "max", "Maxine", "find max", "plan", "note: thin",
     "take it", "talk", "help", "/list", "hold", "hold max", "max: hold", "hold all",
     "no fires for anybody today", "on hold", "cap 200"],
)  # fmt: skip
async def test_a_command_a_name_or_an_order_is_never_said_to_a_client(van: Van, text: str) -> None:
    told = len(van.told("ivy"))
    answers = await van.say("beth", text)
    assert answers
    assert "Said to Ivy" not in answers[0]
    assert not await said(van)
    assert len(van.told("ivy")) == told


@pytest.mark.parametrize("text", ["end", "end talk", "stop talking", "close the chat"])
async def test_the_talk_ends_at_a_word(van: Van, text: str) -> None:
    (told,) = await van.say("beth", text)
    assert told.startswith("The talk with Ivy is over.")


@pytest.mark.parametrize(
    "text",
    ["hello", "good morning", "yes", "152", "put two logs on", "is it burning well?",
     "Max will come by at five"],
)  # fmt: skip
async def test_ordinary_words_are_said(van: Van, text: str) -> None:
    await van.say("beth", text)
    assert await said(van) == [text]


async def test_what_was_asked_back_is_done_at_a_tap(van: Van) -> None:
    await van.say("beth", "list")
    assert "1. Ivy" in (await van.press("beth", "Show the list"))[-1]
    await van.say("beth", "ivy")
    await van.say("beth", "talk")
    await van.say("beth", "max")
    await van.press("beth", "Open Max")
    assert van.last("beth").text.startswith("Max ·")
    await van.say("beth", "hold")
    assert (await van.record("max")).held is not None
    assert not await said(van)


async def test_an_order_for_another_is_given_to_that_one_and_the_talk_is_over(van: Van) -> None:
    await van.say("beth", "is the fire out?")
    (asked,) = await van.say("beth", "hold max")
    assert "is that an order for Max" in asked
    await van.press("beth", "It is an order")
    assert (await van.record("max")).held is not None
    assert (await van.record("ivy")).held is None
    assert van.told("ivy")[-1].startswith("Beth has left the talk.")
    await van.say("beth", "thanks")
    assert await said(van) == ["is the fire out?"]


async def test_an_order_for_many_is_listed_and_the_talk_goes_on_until_it_is_given(van: Van) -> None:
    (asked,) = await van.say("beth", "hold everybody, storm")
    assert "three clients" in asked
    await van.press("beth", "Say it to them")
    assert await said(van) == ["hold everybody, storm"]
    await van.say("beth", "hold everybody, storm")
    await van.press("beth", "Yes, for all 3")
    for name in ("ivy", "max", "maxine"):
        assert (await van.record(name)).held is not None


async def test_an_answer_to_somebody_else_is_asked_about(van: Van) -> None:
    await van.say("beth", "end")
    await van.say("beth", "max")
    other = van.last("beth")
    await van.say("beth", "ivy")
    await van.say("beth", "talk")
    (asked,) = await van.reply("beth", other, "yes, go on")
    assert "about Max" in asked
    assert not await said(van)


async def test_a_photo_goes_to_nobody_while_another_may_be_meant(van: Van) -> None:
    await van.lights("max")
    await van.say("beth", "ivy")
    await van.press("beth", "End the talk")
    await van.say("beth", "talk")
    await van.say("max", "flames coming out of the flue")
    (asked,) = await van.photo("beth")
    assert asked.startswith("That photo: is that about Max, or for Ivy to read?")
    assert not van.last("ivy").attachments
