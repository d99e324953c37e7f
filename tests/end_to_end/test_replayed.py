"""A conversation over the real engine and store, driven by hand."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

from bot.conversation.heard import Heard
from bot.wiring import open_chat
from tests.end_to_end.small_house import small_parts

NINE = datetime(2026, 5, 13, 9, 0, tzinfo=UTC)


def minutes(count: float) -> datetime:
    return NINE + timedelta(minutes=count)


async def told(seed: int) -> list[Heard]:
    chat = await open_chat(NINE, small_parts(), seed=seed)
    try:
        heard = await chat.say("ana", "lit", minutes(1))
        heard += await chat.pass_time(minutes(65))
        heard += await chat.press("ana", "Stoked", minutes(70))
        heard += await chat.say("ana", "out", minutes(80))
        heard += await chat.pass_time(minutes(300))
        return heard
    finally:
        await chat.close()


async def test_every_nudge_comes_at_its_own_time_until_the_fire_is_out() -> None:
    heard = await told(1)
    assert [((h.at - NINE).total_seconds() / 60, h.text) for h in heard] == [
        (1, "Noted."),
        (31, "Stoke & read."),
        (61, "Stoke & read."),
        (70, "Noted."),
    ]


async def test_the_same_lines_give_the_same_conversation() -> None:
    assert await told(7) == await told(7)


async def test_a_conversation_goes_on_where_its_database_was_left(tmp_path: Path) -> None:
    url = f"sqlite+aiosqlite:///{tmp_path / 'ovens.sqlite'}"
    first = await open_chat(NINE, small_parts(), database_url=url, seed=1)
    await first.say("ana", "lit", minutes(1))
    await first.close()
    second = await open_chat(minutes(20), small_parts(), database_url=url, seed=2)
    (nudge,) = await second.pass_time(minutes(40))
    await second.close()
    assert (nudge.at, nudge.to) == (minutes(31), "ana")


async def test_the_builder_is_known_beforehand() -> None:
    chat = await open_chat(NINE, small_parts(), builder="ben")
    async with chat.store.read() as unit:
        ben = await unit.people.at("replay", "ben")
    await chat.close()
    assert ben is not None
    assert ben.builder is not None
