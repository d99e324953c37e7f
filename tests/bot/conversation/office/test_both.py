"""A builder who owns an oven too: each word is about the right one."""

import pytest

from scheduling.journal import Held
from tests.bot.conversation.office.van import Van


@pytest.fixture
async def van() -> Van:
    van = Van()
    await van.team("beth", quiet_from=None, quiet_until=None)
    await van.client("beths", builder=None, owner="beth")
    await van.client("rosa")
    return van


async def test_readings_at_their_own_fire_are_their_own(van: Van) -> None:
    await van.until((await van.record("beths")).promise[0].start)
    await van.say("beth", "rosa")
    await van.say("beth", "14")
    await van.say("beth", "lit")
    for name, burns in (("beths", True), ("rosa", False)):
        assert ((await van.record(name)).session is not None) == burns
    await van.say("beth", "back")
    record = await van.record("beths")
    assert record.session is not None
    assert [getattr(one, "what", "") for one in record.session.seen] == ["back"]


async def test_an_order_goes_to_the_open_card_and_never_to_their_own(van: Van) -> None:
    await van.say("beth", "rosa")
    await van.say("beth", "hold")
    assert (await van.record("rosa")).all_of(Held)
    assert not (await van.record("beths")).all_of(Held)


async def test_the_list_shows_the_way_back_to_their_own_oven(van: Van) -> None:
    text = (await van.say("beth", "/roster"))[-1]
    assert "Rosa" in text
    assert "Beths" not in text
    await van.press("beth", "My own oven")
    assert van.last("beth").text
    assert "Rosa" not in van.last("beth").text


async def test_a_danger_at_their_own_fire_is_heard_with_a_clients_card_open(van: Van) -> None:
    await van.say("beth", "rosa")
    await van.say("beth", "i feel dizzy and have a headache")
    assert (await van.record("beths")).hazards
    assert not (await van.record("rosa")).hazards


async def test_while_their_own_oven_is_set_up_its_questions_are_answered(van: Van) -> None:
    van = Van()
    await van.team("beth")
    await van.client("rosa")
    async with van.store.write() as unit:
        card = await unit.ovens.get("oven-rosa")
        assert card is not None
        own = card.model_copy(update={"id": "own", "builder": None, "owners": ("beth",)})
        await unit.ovens.put(own.model_copy(update={"name": "Beth", "state": "set_up"}))
        await unit.commit()
    await van.say("beth", "/start")
    await van.say("beth", "C")
    await van.say("beth", "Alderby")
    answers = (await van.engine.record("own")).answers
    assert len(answers) == 2
    assert "Rosa" in (await van.say("beth", "list"))[0]


async def test_their_own_commands_stay_their_own(van: Van) -> None:
    await van.say("beth", "rosa")
    await van.say("beth", "/plan")
    assert "Rosa" not in van.last("beth").text


async def test_help_is_about_both_unless_their_own_fire_burns(van: Van) -> None:
    assert "“My oven” leads back to your own." in (await van.say("beth", "help"))[-1]
    await van.until((await van.record("beths")).promise[0].start)
    await van.say("beth", "14")
    await van.say("beth", "lit")
    assert "“My oven”" not in (await van.say("beth", "help"))[-1]
