"""Somebody of a team is forgotten: the team's ways stay, and do not name them."""

from datetime import UTC, datetime

from bot.conversation.people.forgetting import forget
from bot.ways.applying import taken_by, ways_in
from bot.ways.reading import read_ways
from scheduling.blotting import blotted_json
from scheduling.journal import Worded
from scheduling.journal.forgetting import SOMEBODY, Forgotten, without
from scheduling.ports import Builder, Person, Way
from storage.memory import MemoryStore

NOW = datetime(2026, 6, 1, 9, tzinfo=UTC)
FILE = """\
[limits]
cure_floor_d = 28
[words]
greeting = "I am Beth Alder, and I built this oven."
cautions = ["Ring beth alder before you cut the sheet."]
"""


def person(key: str, name: str) -> Person:
    return Person(id=key, channel="replay", address=f"chat-{key}", name=name, builder="b")


def way() -> Way:
    body = read_ways(FILE).model_dump_json(exclude_none=True)
    return Way(builder="b", version=1, made_at=NOW, made_by="p1", body=body)


async def test_what_they_made_stays_without_their_name() -> None:
    store, beth = MemoryStore(), person("p1", "Beth Alder")
    async with store.write() as unit:
        await unit.builders.put(Builder(id="b", name="Ovens of the yard"))
        await unit.people.put(beth)
        await unit.people.put(person("p2", "Ole"))
        await unit.ways.put(way())
        await unit.commit()
    async with store.write() as unit:
        await forget(unit, beth, NOW)
        (kept,) = await unit.ways.all("b")
    assert kept.made_by == SOMEBODY
    assert "alder" not in kept.body.lower()
    ways = ways_in(kept)
    assert ways.limits.cure_floor_d == 28
    assert ways.words.cautions == ("Ring – before you cut the sheet.",)


def test_words_that_an_oven_took_over_are_without_their_name_once_nobody_goes_by_them() -> None:
    words = taken_by(way(), "p1", NOW).worded
    assert words is not None
    (bare,) = without([words], Forgotten(frozenset({"p1"}), ("Beth Alder",), wholly=True))
    assert isinstance(bare, Worded)
    assert (bare.by, bare.why) == (SOMEBODY, "")
    assert bare.greeting == "I am –, and I built this oven."
    assert bare.cautions == ("Ring – before you cut the sheet.",)


def test_a_caution_stays_whole_while_somebody_goes_by_it() -> None:
    words = taken_by(way(), "p1", NOW).worded
    assert words is not None
    (kept,) = without([words], Forgotten(frozenset({"p1"}), ("Beth Alder",)))
    assert isinstance(kept, Worded)
    assert kept.by == SOMEBODY
    assert kept.cautions == words.cautions


def test_keys_and_figures_of_json_stay_as_they_are() -> None:
    assert blotted_json('{"beth": "beth 3", "n": [3, true, null]}', ["beth"]) == (
        '{"beth": "– 3", "n": [3, true, null]}'
    )
    assert blotted_json('{"a":1}', ["beth"]) == '{"a":1}'
