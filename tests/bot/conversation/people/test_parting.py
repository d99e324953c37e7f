"""An oven moves on, its people leave, and a builder keeps what was agreed and no more."""

from datetime import timedelta

import pytest

from scheduling.choice import About, Agreeing, Keep
from scheduling.journal import (
    Agreed,
    Answered,
    Entry,
    Finished,
    FireLit,
    Joined,
    Left,
    Noted,
    Opened,
)
from scheduling.ports import OvenCard
from scheduling.record import Record
from tests.bot.conversation.desk import CODES, EVENING, Desk

NOTHING = ["nothing_here"]
WORDS = "the neighbour in Quillberrow complained"


async def note(desk: Desk, who: str) -> None:
    """Something is written down in their own words."""
    person, now = await desk.person(who), desk.clock.now()
    assert person is not None
    where = "52.1234,-1.4321,Europe/London,Quillberrow"
    await desk.write_down(
        who,
        Answered(at=now, by=person.id, about=About.PLACE, value=where),
        Noted(at=now, by=person.id, text=WORDS, photo="telegram:x", key="t:1"),
    )


async def ended(desk: Desk, who: str) -> None:
    """Their break-in is done."""
    await desk.write_down(who, Finished(at=desk.clock.now()))


async def kept_by(desk: Desk, team: str) -> tuple[OvenCard, ...]:
    async with desk.store.read() as unit:
        return await unit.ovens.of_builder(team)


async def journal_of(desk: Desk, oven_id: str) -> tuple[Entry, ...]:
    async with desk.store.read() as unit:
        return tuple(one.entry for one in await unit.ovens.journal(oven_id))


async def invited_by_another(desk: Desk) -> tuple[str, str]:
    """Ana is Bea's client, and Elm invites her; returns the teams."""
    bea, elm = await desk.founded("bea", "Alder"), await desk.founded("elm", "Elm")
    await desk.client("ana", "bea")
    await note(desk, "ana")
    await desk.told("bea")
    code = await desk.invitation("elm", "/invite")
    assert await desk.say("ana", f"/start {code}") == ["move_asked"]
    return bea, elm


# ---------------------------------------------------------------- changing builder


async def test_nothing_moves_before_the_owner_says_so(desk: Desk) -> None:
    bea, elm = await invited_by_another(desk)
    assert (await desk.oven("ana")).builder == bea
    assert await kept_by(desk, elm) == ()
    assert await desk.press_label("ana", "No, leave all as it is") == ["move_left"]
    assert (await desk.oven("ana")).builder == bea


async def test_an_oven_moves_with_its_record_and_all_are_told(desk: Desk) -> None:
    bea, elm = await invited_by_another(desk)
    before = await journal_of(desk, (await desk.oven("ana")).id)
    assert await desk.press_label("ana", "Yes, they may") == ["looked_after_told"]
    oven = await desk.oven("ana")
    assert oven.builder == elm
    assert (await journal_of(desk, oven.id))[: len(before)] == before
    assert await desk.told("bea") == ["oven_gone"]
    assert await desk.told("elm") == ["looked_after_told"]
    # Nothing was agreed, so nothing stays.
    assert await kept_by(desk, bea) == ()
    # It was used up by that.
    assert await desk.press_label("ana", "Yes, they may") == NOTHING


async def test_it_may_be_for_another_oven(desk: Desk) -> None:
    bea, elm = await invited_by_another(desk)
    assert (await desk.press_label("ana", "It is for another oven"))[0] == "welcome"
    ana = await desk.person("ana")
    assert ana is not None
    async with desk.store.read() as unit:
        builders = {card.builder for card in await unit.ovens.of_person(ana.id)}
    assert builders == {bea, elm}


@pytest.mark.parametrize("keeps", [Keep.NAMED, Keep.NAMELESS])
async def test_the_builder_left_behind_keeps_what_was_agreed(desk: Desk, keeps: Keep) -> None:
    bea, _ = await invited_by_another(desk)
    ana, oven = await desk.person("ana"), await desk.oven("ana")
    assert ana is not None
    agree = await desk.button(ana.id, oven.id, Agreeing(keeps=keeps))
    assert await desk.press("ana", agree) == ["keep_noted"]
    await desk.press_label("ana", "Yes, they may")
    (copy,) = await kept_by(desk, bea)
    assert copy.id != oven.id
    assert (copy.owners, copy.state) == ((), "left")
    record = Record.folded(await journal_of(desk, copy.id), copy.id)
    assert record.card(copy, desk.clock.now()) == copy
    told = "\n".join(one.model_dump_json() for one in record.entries) + copy.model_dump_json()
    named = keeps is Keep.NAMED
    for trace in (WORDS, "Quillberrow", "52.12", "telegram:x", ana.id, "ana’s oven"):
        assert (trace in told) is named, trace
    assert "t:1" not in told  # a key names a chat
    assert record.zone == "Europe/London"


async def test_an_owner_alone_may_take_a_builder_in(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    elm = await desk.founded("elm")
    code = await desk.invitation("elm", "/invite")
    assert await desk.say("ana", f"/start {code}") == ["move_asked"]
    assert await desk.press_label("ana", "Yes, they may") == ["looked_after_told"]
    assert (await desk.oven("ana")).builder == elm


# ---------------------------------------------------------------- after the end


async def test_after_the_end_all_may_stay_as_it_is(desk: Desk) -> None:
    team = await desk.founded("bea")
    oven = await desk.client("ana", "bea")
    await ended(desk, "ana")
    ana = await desk.person("ana")
    assert ana is not None
    named = await desk.button(ana.id, oven.id, Agreeing(keeps=Keep.NAMED))
    assert await desk.press("ana", named) == ["keep_noted"]
    assert (await desk.oven("ana")).builder == team


@pytest.mark.parametrize(("keeps", "copies"), [(Keep.NAMELESS, 1), (Keep.NOTHING, 0)])
async def test_after_the_end_they_part_at_once(desk: Desk, keeps: Keep, copies: int) -> None:
    team = await desk.founded("bea")
    oven = await desk.client("ana", "bea")
    await ended(desk, "ana")
    ana = await desk.person("ana")
    assert ana is not None
    choice = await desk.button(ana.id, oven.id, Agreeing(keeps=keeps))
    assert await desk.press("ana", choice) == ["keep_noted", "looked_after_told"]
    assert (await desk.oven("ana")).builder is None
    assert len(await kept_by(desk, team)) == copies
    assert "oven_gone" in await desk.told("bea")


# ---------------------------------------------------------------- leaving


async def test_a_second_person_leaves_and_the_other_is_told(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    code = await desk.invitation("ana", "/second Ben")
    await desk.say("ben", f"/start {code}")
    await desk.told("ana")
    await desk.say("ben", "/leave")
    assert await desk.press_label("ben", "Leave") == ["left_told oven"]
    assert await desk.told("ana") == ["person_joined"]
    assert len((await desk.oven("ana")).owners) == 1
    assert await desk.say("ben", "what now") == NOTHING


async def test_an_owner_alone_who_leaves_takes_the_record_along(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    oven = await desk.oven("ana")
    await desk.say("ana", "/leave")
    told = await desk.press_label("ana", "Leave and erase its record")
    assert told == ["left_told oven"]
    async with desk.store.read() as unit:
        assert await unit.ovens.get(oven.id) is None
        assert await unit.ovens.journal(oven.id) == ()


@pytest.mark.parametrize(
    ("label", "left"),
    [("All, with my name", True), ("Figures without me", True), ("Nothing", False)],
)
async def test_the_last_to_leave_says_what_the_builder_keeps(
    desk: Desk, label: str, left: bool
) -> None:
    team = await desk.founded("bea")
    await desk.client("ana", "bea")
    await note(desk, "ana")
    await desk.told("bea")
    ana, oven = await desk.person("ana"), await desk.oven("ana")
    assert ana is not None
    await desk.say("ana", "/leave")
    assert await desk.press_label("ana", label) == ["left_told oven"]
    assert await desk.told("bea") == ["oven_gone"]
    cards = await kept_by(desk, team)
    assert bool(cards) is left
    told = "".join(one.model_dump_json() for one in await journal_of(desk, oven.id))
    assert (WORDS in told) is (label == "All, with my name")
    for card in cards:
        assert (card.owners, card.state) == ((), "left")
    assert await desk.say("ana", "/leave") == NOTHING


async def test_nothing_is_asked_of_an_oven_that_everybody_has_left(desk: Desk) -> None:
    await desk.founded("bea")
    await desk.client("ana", "bea")
    oven = await desk.oven("ana")
    await desk.say("ana", "/leave")
    await desk.press_label("ana", "All, with my name")
    desk.clock.move_to(desk.clock.now() + timedelta(days=40))
    await desk.engine.run_due()
    assert await desk.told("ana") == []
    async with desk.store.read() as unit:
        assert await unit.alarms.of(oven.id) == {}


async def test_the_last_at_a_lit_fire_cannot_leave_it(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    await desk.write_down("ana", FireLit(at=desk.clock.now(), aim=None))
    await desk.say("ana", "/leave")
    assert await desk.press_label("ana", "Leave and erase its record") == ["still_burning"]
    assert (await desk.oven("ana")).owners


def test_a_journal_left_by_all_is_left() -> None:
    at = "2026-05-20T17:00:00+00:00"
    entries: tuple[Entry, ...] = (
        Opened.model_validate({"at": at}),
        Joined.model_validate({"at": at, "person": "p"}),
        Agreed.model_validate({"at": at, "keeps": "named"}),
        Left.model_validate({"at": at, "person": "p"}),
    )
    record = Record.folded(entries, "o")
    assert record.is_left
    assert record.card(OvenCard(id="o", name="n", owners=("p",)), EVENING).owners == ()
