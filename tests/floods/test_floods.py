"""Floods in small, against a bot in a process of its own: nobody is lost, and an owner comes
through. How fast is told by ``python -m tests.floods``."""

import json
from pathlib import Path

import pytest

from tests.floods.flood import (
    OTHER,
    OWNER,
    POISON,
    POISONER,
    STRANGERS_FROM,
    Flooded,
    Size,
    flooded,
    odd_update,
)

SMALL = Size.small()

pytestmark = pytest.mark.timeout(180)


def waiting(bot: Flooded) -> int:
    return bot.place.count("select count(*) from inbox where state = 'waiting'")


async def test_an_owner_comes_through_every_flood_and_all_of_it_is_worked_on(
    tmp_path: Path,
) -> None:
    """The owner writes last and is answered while most of the flood still waits."""
    async with flooded(tmp_path, wholly=False) as bot:
        strangers = range(STRANGERS_FROM, STRANGERS_FROM + SMALL.strangers)
        for chat in strangers:
            await bot.api.say(chat, "hello")
        for _ in range(SMALL.at_once):
            await bot.api.say(POISONER, POISON)
        for number in range(SMALL.odd):
            await bot.api.hand_in(odd_update(number))
        await bot.ask()
        assert waiting(bot) > SMALL.strangers // 2, "the owner waited for strangers"

        await bot.dated_far_back(SMALL)
        for number in range(SMALL.of_one_chat):
            await bot.api.say(OTHER, f"top {number}?")
        await bot.ask()
        behind = bot.place.count(
            f"select count(*) from inbox where state = 'waiting' and chat = '{OTHER}'"
        )
        assert behind > SMALL.of_one_chat // 2, "the owner waited for another chat"

        await bot.drained()
        # Every message of somebody known has been worked on, in the order in which it came.
        assert bot.place.count(
            "select count(*) from inbox where state = 'set_aside'"
            f" and chat in ('{OWNER}', '{OTHER}')"
        ) == 0  # fmt: skip
        said = bot.place.column(
            f"select body from inbox where chat = '{OTHER}' and state = 'done' order by seq"
        )
        texts = [json.loads(body)["message"]["text"] for body in said]
        asked = [text for text in texts if text.endswith("?")]
        assert asked == [f"top {number}?" for number in range(SMALL.of_one_chat)]
        answered = bot.place.count(
            "select count(distinct p.address) from outbox o join people p on p.id = o.person"
            f" where cast(p.address as integer) >= {STRANGERS_FROM}"
        )
        assert answered >= SMALL.strangers, "a stranger was dropped"
