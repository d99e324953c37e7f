"""Whom an order is for: a reply, then a name, then the card that lies open; or one question."""

from datetime import timedelta

import pytest

from bot.conversation.heard import Heard
from scheduling.journal import Capped, CaseTaken, Forbidden, Held, Jotted
from tests.bot.conversation.office.van import Van


@pytest.fixture
async def van() -> Van:
    van = Van()
    await van.team("beth", "jo")
    for name in ("max", "maxine", "ivy", "may"):
        await van.client(name)
    return van


async def card_of(van: Van, name: str) -> Heard:
    await van.say("beth", name)
    return van.last("beth")


async def held(van: Van) -> list[str]:
    names = ("max", "maxine", "ivy", "may")
    return [name for name in names if (await van.record(name)).held is not None]


async def test_a_reply_is_about_the_oven_of_its_message_whatever_card_lies_open(van: Van) -> None:
    old = await card_of(van, "maxine")
    await van.say("beth", "ivy")
    await van.wait(hours=5)
    (told,) = await van.reply("beth", old, "hold, storm")
    assert told.startswith("Maxine: all fires are on hold.")
    assert await held(van) == ["maxine"]


async def test_a_reply_to_an_alert_is_about_the_one_in_danger(van: Van) -> None:
    await van.lights("max")
    await van.say("beth", "ivy")
    await van.say("max", "flames coming out of the flue")
    await van.reply("beth", van.last("beth"), "take it")
    assert (await van.record("max")).last_of(CaseTaken) is not None
    await van.say("beth", "ivy")
    alert = next(one for one in van.heard if one.to == "beth" and "Flames in the flue" in one.text)
    await van.reply("beth", alert, "note: rang him")
    assert [one.text for one in (await van.record("max")).all_of(Jotted)] == ["rang him"]
    assert not (await van.record("ivy")).all_of(Jotted)


async def test_a_reply_to_a_list_asks_which_of_it_and_a_tap_orders(van: Van) -> None:
    listed = await card_of(van, "list")
    (asked,) = await van.reply("beth", listed, "cap 200")
    assert "Nothing is changed yet." in asked
    assert await van.press("beth", "For 2 Max") == [
        "Max: no fire goes above 200 °C.\n\nThe owner has been told. The record names you."
    ]
    assert (await van.record("max")).all_of(Capped)


async def test_a_reply_to_no_message_of_ours_orders_nothing(van: Van) -> None:
    await van.say("beth", "ivy")
    unknown = Heard(van.now, "beth", "what the builder wrote", ref="999999")
    (asked,) = await van.reply("beth", unknown, "hold")
    assert asked.startswith("I cannot tell whom that message is about.")
    assert not await held(van)


async def test_a_reply_whose_words_name_another_is_asked_about(van: Van) -> None:
    old = await card_of(van, "ivy")
    (asked,) = await van.reply("beth", old, "hold maxine")
    assert "Maxine" in asked
    assert "Ivy" in asked
    assert not await held(van)
    await van.press("beth", "For 1 Maxine")
    assert await held(van) == ["maxine"]


async def test_words_in_a_reply_that_are_no_order_may_be_said_to_that_owner(van: Van) -> None:
    old = await card_of(van, "ivy")
    await van.say("beth", "list")
    (asked,) = await van.reply("beth", old, "how does it look today?")
    assert "or for Ivy to read?" in asked
    assert "End the talk" not in van.last("beth").labels
    await van.press("beth", "Say it to them")
    assert "“how does it look today?”" in van.told("ivy")[-1]


async def test_a_name_opens_that_card_although_another_lies_open(van: Van) -> None:
    await van.say("beth", "ivy")
    assert (await van.say("beth", "max"))[0].startswith("Max ·")
    assert (await van.say("beth", "May"))[0].startswith("May ·")
    await van.say("beth", "hold")
    assert await held(van) == ["may"]


async def test_a_name_in_the_words_goes_before_the_open_card(van: Van) -> None:
    await van.say("beth", "ivy")
    await van.say("beth", "hold max")
    await van.say("beth", "no fire for may on Sunday")
    await van.say("beth", "cap maxine 200, thin arch")
    assert await held(van) == ["max"]
    assert (await van.record("may")).all_of(Forbidden)
    (capped,) = (await van.record("maxine")).all_of(Capped)
    assert (capped.cap_c, capped.why) == (200.0, "thin arch")
    assert len((await van.record("ivy")).entries) == len((await van.record("may")).entries) - 2


async def test_a_note_goes_to_whoever_stands_before_it(van: Van) -> None:
    await van.say("beth", "ivy")
    await van.say("beth", "max: note: thin arch")
    assert (await van.record("max")).all_of(Jotted)
    assert not (await van.record("ivy")).all_of(Jotted)


async def test_a_word_that_is_a_cap_and_a_name_is_asked_about(van: Van) -> None:
    await van.say("beth", "ivy")
    (asked,) = await van.say("beth", "max 200")
    assert asked.startswith("“max 200”: for whom?")
    for name in ("max", "ivy"):
        assert not (await van.record(name)).all_of(Capped)


async def test_part_of_a_name_is_asked_about(van: Van) -> None:
    await van.say("beth", "ivy")
    await van.say("beth", "cap maxi 200")
    assert not (await van.record("ivy")).all_of(Capped)
    await van.press("beth", "For 1 Maxine")
    assert (await van.record("maxine")).all_of(Capped)


async def test_nobodys_name_changes_nothing_and_says_so(van: Van) -> None:
    await van.say("beth", "ivy")
    (asked,) = await van.say("beth", "cap nemo 200")
    assert asked.startswith("I find nobody for “nemo”.")
    assert not (await van.record("ivy")).all_of(Capped)


async def test_of_two_of_one_name_it_is_asked_which_before_anything_is_done(van: Van) -> None:
    await van.client("other", oven="May", place="51.5,-0.1,Europe/London,Chelm")
    (asked,) = await van.say("beth", "hold may")
    assert "Chelm" in asked
    assert not await held(van)
    assert (await van.record("other")).held is None


async def test_a_card_that_was_left_open_is_asked_about(van: Van) -> None:
    await van.say("beth", "ivy")
    (asked,) = await van.say("beth", "hold", after=timedelta(hours=2))
    assert "The card of Ivy has lain open for a while." in asked
    assert not await held(van)
    await van.press("beth", "For 1 Ivy")
    assert await held(van) == ["ivy"]


async def test_a_danger_told_since_may_be_what_is_meant(van: Van) -> None:
    await van.lights("max")
    await van.say("beth", "ivy")
    await van.say("max", "flames coming out of the flue")
    (asked,) = await van.say("beth", "hold")
    assert "others were told of since" in asked
    assert not await held(van)
    await van.press("beth", "For 2 Max")
    assert await held(van) == ["max"]
    await van.say("beth", "ivy")
    await van.say("beth", "no fire tomorrow")
    assert (await van.record("ivy")).all_of(Forbidden), "the card was opened after the danger"


async def test_a_case_is_not_taken_while_two_may_be_meant(van: Van) -> None:
    await van.lights("max")
    await van.say("beth", "ivy")
    await van.say("max", "flames coming out of the flue")
    (asked,) = await van.say("beth", "take it")
    assert "A tap opens the card" in asked
    assert (await van.record("max")).last_of(CaseTaken) is None


async def test_the_button_under_an_order_takes_back_that_order_and_no_later_one(van: Van) -> None:
    await van.say("beth", "ivy")
    await van.say("beth", "cap 200")
    key = van.listener.key_of("beth", "Take the order back")
    await van.say("beth", "no fire on Sunday")
    pressed = van.chat._incoming("beth", van.now, press=key)
    await van.chat._do(pressed, van.now)
    await van.say("beth", "confirmed")
    record = await van.record("ivy")
    assert not record.all_of(Capped)
    assert record.all_of(Forbidden)


async def test_what_is_confirmed_is_what_was_asked_about(van: Van) -> None:
    await van.say("beth", "ivy")
    await van.say("beth", "cap 200")
    await van.say("beth", "take back")
    await van.say("jo", "ivy")
    await van.say("jo", "no fire on Sunday")
    await van.say("beth", "confirmed")
    record = await van.record("ivy")
    assert not record.all_of(Capped)
    assert record.all_of(Forbidden)


async def test_buttons_say_whose_fires_they_hold(van: Van) -> None:
    await van.say("beth", "ivy")
    assert "Hold their fires" in van.last("beth").labels
    await van.press("beth", "Hold their fires")
    await van.say("beth", "ivy")
    assert "Allow their fires again" in van.last("beth").labels
    (told,) = await van.say("beth", "hold")
    assert told == "Not done: they are on hold already."
    assert len((await van.record("ivy")).all_of(Held)) == 1
