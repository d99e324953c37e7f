"""A conversation driven by hand: time passes alarm by alarm, and nothing is heard twice."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.conversation.heard import NoSuchButtonError
from tests.bot.conversation.road_fake import chat_fake

NINE = datetime(2026, 5, 13, 9, 0, tzinfo=UTC)


def minutes(count: float) -> datetime:
    return NINE + timedelta(minutes=count)


async def test_what_is_said_is_answered_at_its_own_time() -> None:
    chat, _ = chat_fake(NINE, [])
    (heard,) = await chat.say("ana", "top 152", minutes(3))
    assert (heard.at, heard.to, heard.text) == (minutes(3), "ana", "heard top 152")


async def test_every_alarm_before_a_message_runs_at_its_own_time() -> None:
    chat, _ = chat_fake(NINE, [minutes(30), minutes(60), minutes(90)])
    heard = await chat.say("ana", "hello", minutes(60))
    assert [(h.at, h.text) for h in heard] == [
        (minutes(30), "Stoke & read"),
        (minutes(60), "Stoke & read"),
        (minutes(60), "heard hello"),
    ]
    assert chat.next_due() == minutes(90)


async def test_letting_time_pass_returns_what_was_said_meanwhile() -> None:
    chat, _ = chat_fake(NINE, [minutes(30)])
    assert await chat.pass_time(minutes(20)) == []
    (heard,) = await chat.pass_time(minutes(40))
    assert heard.buttons == (("<3", "Stoked"),)
    assert await chat.pass_time(minutes(50)) == []
    assert chat.now == minutes(50)


async def test_a_button_is_pressed_by_its_label() -> None:
    chat, _ = chat_fake(NINE, [minutes(1)])
    await chat.pass_time(minutes(2))
    (heard,) = await chat.press("ana", " stoked", minutes(3))
    assert heard.text == "heard key of Stoked"


async def test_a_button_nobody_was_shown_is_refused_with_those_that_were() -> None:
    chat, _ = chat_fake(NINE, [minutes(1)])
    with pytest.raises(NoSuchButtonError, match="none shown"):
        await chat.press("ben", "Stoked", minutes(2))
    assert len(chat.heard()) == 1
    with pytest.raises(NoSuchButtonError, match="shown: 'Stoked', '<3'"):
        await chat.press("ana", "Lit", minutes(3))


async def test_places_and_photos_arrive() -> None:
    chat, _ = chat_fake(NINE, [])
    (place,) = await chat.location("ana", 52.2, -1.5, minutes(1))
    assert place.text == "heard (52.2, -1.5)"
    (photo,) = await chat.photo("ana", minutes(2))
    assert photo.text.startswith("heard replay:")


async def test_the_same_words_twice_at_one_time_are_two_messages() -> None:
    chat, _ = chat_fake(NINE, [])
    assert len(await chat.say("ana", "lit", minutes(1))) == 1
    assert len(await chat.say("ana", "lit", minutes(1))) == 1


async def test_time_does_not_go_back_and_needs_an_offset() -> None:
    chat, _ = chat_fake(NINE, [])
    await chat.pass_time(minutes(10))
    with pytest.raises(ValueError, match="time does not go back: it is already 2026-05-13T09:10"):
        await chat.say("ana", "lit", minutes(9))
    with pytest.raises(ValueError, match="needs its offset"):
        await chat.pass_time(datetime(2026, 5, 14))  # noqa: DTZ001 - that is the fault


async def test_a_fault_behind_a_message_comes_out_and_the_chat_goes_on() -> None:
    chat, road = chat_fake(NINE, [])
    with pytest.raises(RuntimeError, match="no luck"):
        await chat.say("ana", "fail", minutes(1))
    (heard,) = await chat.say("ana", "lit", minutes(2))
    assert heard.text == "heard lit"
    await chat.close()
    assert road.closed


async def test_an_alarm_that_never_goes_away_is_a_fault() -> None:
    chat, road = chat_fake(NINE, [])

    async def always() -> datetime | None:
        return NINE

    road.next_due = always  # type: ignore[method-assign]
    with pytest.raises(RuntimeError, match="due again and again"):
        await chat.pass_time(minutes(1))


async def test_while_nothing_is_due_time_passes_without_asking_the_store() -> None:
    chat, road = chat_fake(NINE, [minutes(30)])
    await chat.say("ana", "hello", minutes(1))
    asked = road.asked
    assert await chat.pass_time(minutes(29)) == []
    assert road.asked == asked
    assert chat.now == minutes(29)
    assert len(await chat.pass_time(minutes(30))) == 1
