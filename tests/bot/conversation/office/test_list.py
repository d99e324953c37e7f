"""A builder's list: who needs them comes first, and anybody is found by a word."""

from datetime import timedelta

import pytest

from bot.wording.roster import PAGE
from tests.bot.conversation.office.van import Van


@pytest.fixture
async def van() -> Van:
    van = Van()
    await van.team("beth")
    return van


async def test_a_builder_without_clients_is_told_how_they_come(van: Van) -> None:
    assert (await van.say("beth", "hello"))[0].startswith("No clients.")
    assert "No clients yet" in (await van.say("beth", "152"))[0]


async def test_who_needs_somebody_stands_before_the_fires_and_the_fires_before_the_rest(
    van: Van,
) -> None:
    for name in ("rosa", "ruben", "ana"):
        await van.client(name)
    await van.client("carl", wet_work="2026-04-28")
    await van.lights("ana", "ruben")
    await van.say("ruben", "flames coming out of the flue")
    (text,) = await van.say("beth", "list")
    assert text.startswith("1 in danger · 2 burning · 1 planned · 1 with mortar still hardening.")
    lines = text.split("\n\n")[1].split("\n")
    assert [line.split(" ")[1] for line in lines] == ["Ruben", "Ana", "Rosa", "Carl"]
    assert "flames in the flue, reported 1 minute ago; fire burning" in lines[0]


async def test_a_list_of_hundreds_is_turned_page_by_page(van: Van) -> None:
    for number in range(2 * PAGE + 3):
        await van.client(f"owner{number:02}")
    (first,) = await van.say("beth", "list")
    assert "Page 1 of 3." in first
    assert "‹ Before" not in van.last("beth").labels
    (second,) = await van.press("beth", "Next ›")
    (third,) = await van.press("beth", "Next ›")
    assert f"{2 * PAGE + 1}. " in third
    assert "Next ›" not in van.last("beth").labels
    named = [line.split(" ")[1] for text in (first, second, third) for line in _lines(text)]
    assert len(set(named)) == 2 * PAGE + 3


async def test_a_page_that_is_no_more_shows_the_last_there_is(van: Van) -> None:
    for number in range(PAGE + 1):
        await van.client(f"owner{number}")
    await van.say("beth", "list")
    async with van.store.write() as unit:
        card = await unit.ovens.get("oven-owner0")
        assert card is not None
        await unit.ovens.put(card.model_copy(update={"builder": None}))
        await unit.commit()
    (text,) = await van.press("beth", "Next ›")
    assert len(_lines(text)) == PAGE


async def test_a_client_is_found_by_part_of_a_name_a_place_or_how_they_stand(van: Van) -> None:
    await van.client("rosa", place="51.5,-0.1,Europe/London,Émberley")
    await van.client("ruben", oven="Mill oven")
    await van.client("carl", wet_work="2026-04-28")
    assert (await van.say("beth", "emberley"))[0].startswith("Rosa · Émberley")
    assert (await van.say("beth", "mill"))[0].startswith("Mill oven, Ruben")
    assert (await van.say("beth", "find rube"))[0].startswith("Mill oven, Ruben")
    assert (await van.say("beth", "carl curing"))[0].startswith("Carl")
    assert "I find nobody for “rosa”" in (await van.say("beth", "rosa curing"))[0]


async def test_of_two_of_one_name_it_is_asked_which(van: Van) -> None:
    await van.client("rosa", oven="Rosa")
    await van.client("other", oven="Rosa", place="51.5,-0.1,Europe/London,Chelm")
    await van.client("rosanna")
    (text,) = await van.say("beth", "Rosa")
    assert text.startswith("Two clients are called “Rosa”; which?")
    assert "Chelm" in text
    await van.press("beth", van.last("beth").labels[0])
    assert van.last("beth").text.startswith("Rosa")


async def test_a_whole_name_is_that_client_and_no_longer_one(van: Van) -> None:
    await van.client("rosa")
    await van.client("rosanna")
    assert (await van.say("beth", "rosa"))[0].startswith("Rosa ·")
    assert (await van.say("beth", "ros"))[0].count("Ros") == 2


async def test_a_builder_sees_only_their_own_clients(van: Van) -> None:
    await van.client("rosa")
    await van.client("strange", builder="another-team")
    (text,) = await van.say("beth", "list")
    assert "Strange" not in text
    nobody = (await van.say("beth", "nemo"))[0].replace("nemo", "…")
    assert (await van.say("beth", "strange"))[0].replace("strange", "…") == nobody


async def test_all_fires_are_on_one_picture(van: Van) -> None:
    for name in ("rosa", "ruben"):
        await van.client(name)
    assert await van.say("beth", "fires") == ["No fire burns now."]
    await van.lights("rosa", "ruben")
    (text,) = await van.say("beth", "fires")
    assert text.startswith("Two fires burning at")
    assert van.last("beth").attachments == ("fires.png",)


async def test_a_card_tells_where_they_are_at_a_glance(van: Van) -> None:
    await van.client("rosa")
    await van.lights("rosa")
    await van.say("rosa", "40", after=timedelta(minutes=30))
    await van.say("rosa", "popping noises, bits flaking off")
    (text,) = await van.say("beth", "rosa")
    head, needs, readings, *_ = text.split("\n\n")
    assert head.startswith("Rosa · Kew · fire burning down, number 1")
    assert needs.startswith("Needs somebody: popping or flaking, reported 1 minute ago.")
    assert "“popping noises, bits flaking off”" in needs
    assert "40 °C at" in readings
    assert "Lately:" in text
    assert "I’ll take it" in van.last("beth").labels


async def test_a_picture_and_a_plan_of_a_client_are_one_tap_away(van: Van) -> None:
    await van.client("rosa")
    await van.lights("rosa")
    await van.say("beth", "rosa")
    await van.press("beth", "Picture")
    assert van.last("beth").attachments == ("fire-1.png",)
    await van.press("beth", "Plan")
    assert van.last("beth").attachments == ("plan.png",)


async def test_a_builder_reads_in_their_own_scale_and_hours(van: Van) -> None:
    await van.client("rosa")
    assert "aim 300 °F" in (await van.say("beth", "fahrenheit"))[0]
    await van.say("beth", "my town is Alderby")
    beth = await van.chat_person("beth")
    assert (beth.unit, beth.zone) == ("F", "Europe/London")
    assert "I do not know “Nowhere”" in (await van.say("beth", "my town is Nowhere"))[0]


def _lines(text: str) -> list[str]:
    return [line for line in text.split("\n") if line[:1].isdigit() and ". " in line[:4]]


async def test_what_somebody_has_taken_stands_behind_what_nobody_has(van: Van) -> None:
    await van.team("jo")
    for name in ("rosa", "ruben"):
        await van.client(name)
    await van.lights("rosa", "ruben")
    await van.say("rosa", "i feel dizzy and have a headache")
    await van.say("ruben", "popping noises, bits flaking off")
    await van.say("jo", "rosa")
    await van.say("jo", "take it")
    (text,) = await van.say("beth", "needs")
    assert [line.split(" ")[1] for line in _lines(text)] == ["Ruben", "Rosa"]
    assert "Jo has it." in _lines(text)[1]


async def test_counts_in_the_heading_on_the_buttons_and_of_the_lists_are_the_same(van: Van) -> None:
    for name in ("rosa", "ruben", "ana", "uma"):
        await van.client(name)
    await van.lights("rosa", "ruben")
    await van.say("rosa", "popping noises, bits flaking off")
    await van.say("beth", "uma")
    await van.say("beth", "hold")
    (text,) = await van.say("beth", "list")
    assert text.startswith("1 in danger · 2 burning · 1 planned · 1 on hold.")
    for label, heading in (
        ("Burning: 2", "Fires burning: 2."), ("Planned: 1", "Fires to come: 1."),
        ("On hold: 1", "On hold: 1."), ("Need you: 1", ""),
    ):  # fmt: skip
        await van.say("beth", "list")
        (listed,) = await van.press("beth", label)
        assert heading in listed
        assert len(_lines(listed)) == int(label[-1])


async def test_an_old_report_is_told_as_one_and_its_fire_as_out(van: Van) -> None:
    await van.client("rosa")
    await van.lights("rosa")
    await van.say("rosa", "flames coming out of the flue")
    await van.wait(hours=22)
    (text,) = await van.say("beth", "needs")
    assert "flames in the flue, reported 22 hours ago; fire out" in text
    assert "burning" not in text.split("\n\n")[1]


async def test_the_last_number_shows_even_where_it_is_doubted(van: Van) -> None:
    await van.client("rosa")
    await van.lights("rosa")
    await van.say("rosa", "45", after=timedelta(minutes=30))
    await van.say("rosa", "popping noises, bits flaking off")
    await van.say("rosa", "390")
    (text,) = await van.say("beth", "needs")
    assert "390 °C 1 minute ago, doubted" in text


async def test_an_oven_on_hold_promises_no_fire(van: Van) -> None:
    await van.client("rosa")
    await van.say("beth", "rosa")
    await van.say("beth", "hold")
    (card,) = await van.say("beth", "rosa")
    assert "To come" not in card
    assert "No fire before you allow them again." in card
    assert (await van.card("rosa")).next_day is None
    assert "No clients found" in (await van.say("beth", "tomorrow"))[0]


async def test_clients_are_found_by_need_state_day_and_place(van: Van) -> None:
    await van.client("rosa", place="53.8,-1.5,Europe/London,Leeds")
    await van.client("ruben")
    await van.client("carl", wet_work="2026-04-28", place="53.8,-1.5,Europe/London,Leeds")
    await van.say("rosa", "there is an open crack, 3 mm wide")
    assert [one.split(" ")[1] for one in _lines((await van.say("beth", "crack"))[0])] == ["Rosa"]
    found = (await van.say("beth", "in Leeds"))[0]
    assert sorted(one.split(" ")[1] for one in _lines(found)) == ["Carl", "Rosa"]
    assert "In Leeds: 2." in found
    found = (await van.say("beth", "cracks in Leeds"))[0]
    assert [one.split(" ")[1] for one in _lines(found)] == ["Rosa"]
    found = (await van.say("beth", "tomorrow"))[0]
    assert [one.split(" ")[1] for one in _lines(found)] == ["Ruben"]
    assert "One client found: on hold" not in (await van.say("beth", "who is on hold"))[0]
    assert len(_lines(van.last("beth").text)) == 1


async def test_a_need_that_is_not_the_most_pressing_is_found_too(van: Van) -> None:
    await van.client("rosa")
    await van.say("rosa", "there is an open crack, 3 mm wide")
    await van.say("rosa", "i feel dizzy and have a headache")
    assert len(_lines((await van.say("beth", "crack"))[0])) == 1


async def test_a_client_called_as_a_need_is_still_found_by_name(van: Van) -> None:
    await van.client("frost")
    assert (await van.say("beth", "frost"))[0].startswith("Frost ·")
