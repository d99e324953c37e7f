"""A new builder says who they are and where; nothing of that is guessed, and all can wait."""

import pytest

from bot.wording.voice import Voice
from scheduling.ports import Person
from tests.bot.conversation.desk import CODES, Desk


@pytest.fixture
async def desk() -> Desk:
    desk = Desk(channel="telegram", voice=Voice())
    await desk.say("kev", f"/start {CODES.builder}")
    return desk


async def known(desk: Desk, who: str = "kev") -> tuple[Person, str]:
    person = await desk.person(who)
    assert person is not None
    async with desk.store.read() as unit:
        builder = await unit.builders.get(person.builder or "")
    return person, builder.name if builder is not None else ""


async def test_three_questions_make_a_builder_known(desk: Desk) -> None:
    (own,) = await desk.say("kev", "Alder & Sons")
    assert "what are you called yourself" in own
    (town,) = await desk.say("kev", "Tom Alder")
    assert "Which town" in town
    (next_,) = await desk.say("kev", "Alderby")
    assert "This is how to begin" in next_
    person, name = await known(desk)
    assert (person.name, person.zone, name) == ("Tom Alder", "Europe/London", "Alder & Sons")


async def test_all_of_it_can_stay_as_it_is(desk: Desk) -> None:
    await desk.press_label("kev", "Keep it")
    await desk.press_label("kev", "Keep it")
    (next_,) = await desk.press_label("kev", "Later")
    assert "This is how to begin" in next_
    person, name = await known(desk)
    assert (person.name, person.zone, name) == ("kev", "UTC", "kev")


async def test_of_towns_of_one_name_the_builder_chooses(desk: Desk) -> None:
    (asked,) = await desk.say("kev", "my town is Twinton")
    assert "Which one do you mean?" in asked
    await desk.press_label("kev", "Twinton, United States")
    person, _ = await known(desk)
    assert person.zone == "America/Chicago"


async def test_a_town_that_is_not_known_is_asked_once_more(desk: Desk) -> None:
    (asked,) = await desk.say("kev", "my town is Atlantis")
    assert "I do not know “Atlantis”" in asked
    assert "Noted: Alderby" in (await desk.say("kev", "Alderby"))[0]


async def test_a_name_can_be_said_at_any_time(desk: Desk) -> None:
    await desk.say("kev", "/team")
    assert "you are called Tom here" in (await desk.say("kev", "call me Tom"))[0]
    person, _ = await known(desk)
    assert person.name == "Tom"


async def test_a_command_is_no_name_and_ends_the_question(desk: Desk) -> None:
    await desk.say("kev", "/help")
    await desk.say("kev", "Holloway")
    person, name = await known(desk)
    assert (person.name, name) == ("kev", "kev")


@pytest.mark.parametrize("word", ["list", "help", "who needs me", "find Max"])
async def test_a_word_of_the_office_is_no_name(desk: Desk, word: str) -> None:
    await desk.say("kev", word)
    assert (await known(desk))[1] == "kev"


async def test_words_much_later_are_no_answer(desk: Desk) -> None:
    for _ in range(100):
        desk.incoming("kev")
    await desk.say("kev", "Holloway")
    assert (await known(desk))[1] == "kev"


async def test_whoever_joins_a_team_says_their_name_and_town_and_leaves_the_teams(
    desk: Desk,
) -> None:
    code = (await desk.say("kev", "/team Bo"))[0].split()[-1]
    (waits,) = await desk.say("bo", f"/start {code}")
    assert "I have asked “kev” to let you in" in waits
    await desk.press_label("kev", "Let them in")
    assert "what are you called yourself" in (await desk.told("bo"))[-1]
    await desk.say("bo", "Bo Birch")
    await desk.say("bo", "Alderby")
    person, name = await known(desk, "bo")
    assert (person.name, person.zone, name) == ("Bo Birch", "Europe/London", "kev")


async def test_who_is_not_let_in_is_asked_nothing(desk: Desk) -> None:
    code = (await desk.say("kev", "/team Bo"))[0].split()[-1]
    await desk.say("bo", f"/start {code}")
    await desk.press_label("kev", "No")
    (told,) = await desk.told("bo")
    assert "did not let you in" in told


async def test_who_tends_an_oven_goes_on_with_it_when_they_are_let_in(desk: Desk) -> None:
    await desk.say("bo", f"/start {CODES.owner}")
    code = (await desk.say("kev", "/team Bo"))[0].split()[-1]
    await desk.say("bo", f"/start {code}")
    await desk.press_label("kev", "Let them in")
    (told,) = await desk.told("bo")
    assert "You are in the team" in told
    await desk.say("bo", "C")
    person, _ = await known(desk, "bo")
    assert person.name == "bo"


async def test_a_phone_number_is_no_name(desk: Desk) -> None:
    await desk.say("kev", "my phone is +44 7700 900123")
    assert (await known(desk))[1] == "kev"
