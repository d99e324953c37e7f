"""A builder sees to their own ways and figures, by chat over the real house."""

from collections.abc import AsyncIterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bot.conversation.chat import Chat
from bot.parts import shipped
from bot.ways.applying import ways_in
from bot.ways.reading import read_ways
from bot.wiring import open_chat
from scheduling.journal import LimitsSet, Worded
from scheduling.record import Record
from tests.bot.ways.files import FULL

NOW = datetime(2026, 5, 20, 9, tzinfo=UTC)
HARDER = "[limits]\nfinal_c = 450\n"


@pytest.fixture
async def chat(tmp_path: Path) -> AsyncIterator[Chat]:
    opened = await open_chat(NOW, shipped(), builder="beth", out=tmp_path)
    yield opened
    await opened.close()


async def send(chat: Chat, content: str, who: str = "beth") -> str:
    heard = await chat.file(who, content.encode(), chat.now)
    return "\n".join(one.text for one in heard if one.to == who)


async def say(chat: Chat, words: str, who: str = "beth") -> str:
    heard = await chat.say(who, words, chat.now)
    return "\n".join(one.text for one in heard if one.to == who)


async def record_of(chat: Chat, who: str) -> Record:
    async with chat.store.read() as unit:
        person = await unit.people.at("replay", who)
        assert person is not None
        (card,) = await unit.ovens.of_person(person.id)
        entries = tuple(one.entry for one in await unit.ovens.journal(card.id))
    return Record(entries, card.id, members=0)


async def test_a_file_is_kept_as_a_version_and_comes_back_the_same(
    chat: Chat, tmp_path: Path
) -> None:
    assert "Version 1 is kept" in await send(chat, FULL)
    heard = await chat.say("beth", "/ways", chat.now)
    assert "version 1" in heard[0].text
    assert "28 days" in heard[0].text
    (name,) = heard[0].attachments
    exported = (tmp_path / name).read_text("utf-8")
    assert read_ways(exported) == read_ways(FULL)
    assert "Nothing is changed" in await send(chat, exported)


async def test_a_line_in_the_chat_makes_the_next_version(chat: Chat) -> None:
    await send(chat, FULL)
    told = await say(chat, "cure_floor_d = 35")
    assert "Version 2 is kept" in told
    assert "cure_floor_d" in told
    assert "Version 3" in await say(chat, "/ways final_c = none")


async def test_a_file_can_be_pasted_as_a_message(chat: Chat) -> None:
    assert "Version 1 is kept" in await say(chat, "[limits]\ncure_floor_d = 28")


async def test_a_file_with_a_fault_changes_nothing(chat: Chat) -> None:
    told = await send(chat, "[limits]\nclimb_low_k_h = 9000\n")
    assert "Nothing of it is kept" in told
    assert "Line 2" in told
    assert "no ways of your own" in await say(chat, "/ways")


async def test_what_is_no_text_is_refused(chat: Chat) -> None:
    heard = await chat.file("beth", b"\xff\xfe\x00\x81", chat.now)
    assert "Nothing of it is kept" in heard[0].text


async def test_less_gentle_limits_are_kept_only_with_a_word_and_a_reason(chat: Chat) -> None:
    assert "less_gentle.final_c = 450" in await send(chat, HARDER)
    twice = HARDER + HARDER.replace("limits", "less_gentle")
    assert "reason" in await send(chat, twice)
    assert "Version 1 is kept" in await send(chat, f'reason = "steel flue"\n{twice}')
    await say(chat, "/start", "robin")
    limits = (await record_of(chat, "robin")).last_of(LimitsSet)
    assert limits is not None
    assert limits.confirmed
    assert "steel flue" in limits.why


async def test_new_clients_begin_with_them(chat: Chat) -> None:
    await send(chat, FULL)
    told = await say(chat, "/start", "robin")
    assert "Please light nothing until I say so." in told
    assert "Welcome from all of us at the yard." in told
    record = await record_of(chat, "robin")
    assert record.last_of(Worded) is not None
    assert "our-mix" in record.own_constructions


async def test_running_clients_have_them_only_by_choice(chat: Chat) -> None:
    await say(chat, "/start", "robin")
    assert "one running client" in await send(chat, FULL)
    assert (await record_of(chat, "robin")).last_of(LimitsSet) is None
    heard = await chat.press("beth", "Apply to them too", chat.now)
    assert any("now holds for one running client" in one.text for one in heard)
    limits = (await record_of(chat, "robin")).last_of(LimitsSet)
    assert limits is not None
    assert limits.by == "builder-beth"
    heard = await chat.press("beth", "Apply to them too", chat.now + timedelta(minutes=1))
    assert any("Nobody else has it changed" in one.text for one in heard)


async def test_a_button_of_an_older_version_does_nothing(chat: Chat) -> None:
    await say(chat, "/start", "robin")
    await send(chat, FULL)
    old = await chat.press("beth", "Apply to them too", chat.now)
    assert any("version" in one.text.lower() for one in old)
    await say(chat, "final_c = 370")
    async with chat.store.read() as unit:
        latest = await unit.ways.latest("team-beth")
    assert latest is not None
    assert latest.version == 2
    limits = (await record_of(chat, "robin")).last_of(LimitsSet)
    assert limits is not None
    assert limits.final_c == 380.0  # version 2 waits to be applied


async def test_only_new_clients_leaves_the_running_ones_alone(chat: Chat) -> None:
    await say(chat, "/start", "robin")
    await send(chat, FULL)
    heard = await chat.press("beth", "Only new clients", chat.now)
    assert any("stays with new clients" in one.text for one in heard)
    assert (await record_of(chat, "robin")).last_of(LimitsSet) is None


async def test_an_owner_has_no_ways_to_set(chat: Chat) -> None:
    await say(chat, "/start", "robin")
    for words in ("/ways", "/ways final_c = 300", "final_c = 300", "/statistics"):
        told = await say(chat, words, "robin")
        assert "ersion" not in told
        assert "to count" not in told
    await send(chat, FULL, "robin")
    async with chat.store.read() as unit:
        assert await unit.ways.latest("team-beth") is None


async def test_a_builder_asks_what_their_ovens_add_up_to(chat: Chat) -> None:
    await say(chat, "/start", "robin")
    told = await say(chat, "/statistics")
    assert (
        told == "One oven, none done. No fire has been told of yet, so there is nothing to count."
    )


async def test_address_and_logo_head_the_papers_and_touch_no_oven(chat: Chat) -> None:
    told = await say(chat, 'address = ["3 Kiln Lane", "Little Hollow"]')
    assert "Every record has this head from now on." in told
    heard = await chat.photo("beth", chat.now, "Our logo")
    assert "Version 2 is kept." in "".join(one.text for one in heard if one.to == "beth")
    async with chat.store.read() as unit:
        way = await unit.ways.latest("team-beth")
    paper = ways_in(way).paper
    assert paper.address == ("3 Kiln Lane", "Little Hollow")
    assert paper.logo.startswith("replay:")
    assert "at the head of every record: address and logo" in await say(chat, "/ways")


async def test_a_picture_with_other_words_is_no_logo(chat: Chat) -> None:
    await chat.photo("beth", chat.now, "the logo fell off the lorry")
    async with chat.store.read() as unit:
        assert await unit.ways.latest("team-beth") is None
