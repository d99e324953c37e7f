"""Invitations open one door, once, for a while, and only until they are taken back."""

from datetime import timedelta

import pytest

from bot.conversation.people.sweeping import BLOTTED
from scheduling.choice import About, SetUpAnswer
from scheduling.ports import OutboxState, digest_of
from tests.bot.conversation.desk import CODES, Desk

NOTHING = ["nothing_here"]


async def test_a_builders_client_begins_an_oven_of_theirs(desk: Desk) -> None:
    team = await desk.founded("bea", "Alder Ovens")
    code = await desk.invitation("bea", "/invite Alder House")
    assert await desk.say("ana", f"/start {code}") == ["welcome", "set_up_question units"]
    oven = await desk.oven("ana")
    assert (oven.name, oven.builder, oven.state) == ("Alder House", team, "set_up")
    assert (await desk.record("ana")).builder == team
    assert await desk.told("bea") == ["invitation_used"]


async def test_an_invitation_may_be_typed_without_the_command(desk: Desk) -> None:
    await desk.founded("bea")
    code = await desk.invitation("bea", "/invite")
    assert (await desk.say("ana", code))[0] == "welcome"


async def test_an_invitation_is_good_once(desk: Desk) -> None:
    await desk.founded("bea")
    code = await desk.invitation("bea", "/invite")
    await desk.say("ana", f"/start {code}")
    assert await desk.say("eve", f"/start {code}") == NOTHING
    # Whoever came by it and taps the link again goes on where they were.
    assert await desk.say("ana", f"/start {code}") == ["set_up_question units"]


@pytest.mark.parametrize(("command", "days"), [("/invite", 30), ("/team Bo", 2)])
async def test_an_invitation_expires(desk: Desk, command: str, days: int) -> None:
    await desk.founded("bea")
    code = await desk.invitation("bea", command)
    desk.clock.move_to(desk.clock.now() + timedelta(days=days))
    assert await desk.say("ana", f"/start {code}") == NOTHING


async def test_an_invitation_taken_back_opens_nothing(desk: Desk) -> None:
    await desk.founded("bea")
    code = await desk.invitation("bea", "/invite")
    assert await desk.press_label("bea", "Take it back") == ["invitation_revoked"]
    assert await desk.say("ana", f"/start {code}") == NOTHING
    assert await desk.press_label("bea", "Take it back") == NOTHING


async def test_open_invitations_are_listed_and_each_can_be_taken_back(desk: Desk) -> None:
    await desk.founded("bea")
    first = await desk.invitation("bea", "/invite Ana")
    second = await desk.invitation("bea", "/invite Ben")
    assert await desk.say("bea", "/invitations") == ["invitations_shown"]
    assert await desk.press_label("bea", "1. Ana") == ["make_up_shown"]
    assert await desk.press_label("bea", "Take the invitation back") == ["invitation_revoked"]
    assert await desk.say("ana", f"/start {first}") == NOTHING
    assert (await desk.say("ben", f"/start {second}"))[0] == "welcome"


async def test_anothers_invitation_is_neither_seen_nor_taken_back(desk: Desk) -> None:
    await desk.founded("bea")
    await desk.founded("eve")
    code = await desk.invitation("bea", "/invite Ana")
    key = desk.listener.key_of("bea", "Take it back")
    await desk.say("eve", "/invitations")
    assert await desk.press("eve", key) == NOTHING
    assert (await desk.say("ana", f"/start {code}"))[0] == "welcome"


async def test_a_second_person_joins_the_oven_once(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    code = await desk.invitation("ana", "/second Ben")
    assert await desk.say("ben", f"/start {code}") == ["person_joined"]
    assert len((await desk.oven("ana")).owners) == 2
    assert await desk.say("eve", f"/start {code}") == NOTHING
    assert (await desk.oven("ben")).id == (await desk.oven("ana")).id


async def test_who_asks_for_a_second_person_in_the_set_up_gets_an_invitation(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    ana, oven = await desk.person("ana"), await desk.oven("ana")
    assert ana is not None
    wish = await desk.button(ana.id, oven.id, SetUpAnswer(about=About.SECOND, value="invite"))
    assert "second_person_asked" in await desk.press("ana", wish)
    (made,) = await desk.press_label("ana", "Make an invitation")
    code = made.removeprefix("invitation_made ")
    assert await desk.say("ben", f"/start {code}") == ["person_joined"]


async def test_nobody_uses_up_what_is_theirs_to_pass_on(desk: Desk) -> None:
    await desk.founded("bea")
    for command in ("/invite Ana", "/team Bo"):
        code = await desk.invitation("bea", command)
        assert await desk.say("bea", f"/start {code}") == ["invitation_yours"]
    await desk.say("ana", f"/start {CODES.owner}")
    code = await desk.invitation("ana", "/second")
    assert await desk.say("ana", f"/start {code}") == ["invitation_yours"]
    assert await desk.say("ben", f"/start {code}") == ["person_joined"]


@pytest.mark.parametrize("command", ["/invite Ana", "/second Ana", "/team Ana", "/team"])
async def test_who_has_nothing_to_invite_to_gets_the_one_answer(desk: Desk, command: str) -> None:
    assert await desk.say("eve", command) == NOTHING


async def test_a_code_is_kept_nowhere_once_it_has_been_shown(desk: Desk) -> None:
    await desk.founded("bea")
    code = await desk.invitation("bea", "/invite Ana")
    async with desk.store.read() as unit:
        made = await unit.invitations.by_digest(digest_of(code))
        assert made is not None
        assert code not in made.model_dump_json()
        assert made.letter is not None
        assert code in str(await unit.outbox.get(made.letter))
    desk.clock.move_to(desk.clock.now() + timedelta(minutes=2))
    assert await desk.sweeping.look() == 1
    async with desk.store.read() as unit:
        letter = await unit.outbox.get(made.letter)
        assert letter is not None
        assert letter.state is OutboxState.SENT
        assert code not in str(letter)
        assert letter.parcel.text == BLOTTED
    assert await desk.sweeping.next_due() is None
    # It can still be taken back where it was shown.
    assert await desk.press_label("bea", "Take it back") == ["invitation_revoked"]


async def test_a_code_that_has_not_been_sent_yet_is_not_blotted_out(desk: Desk) -> None:
    await desk.founded("bea")
    await desk.take_in(desk.commanded(desk.incoming("bea", text="/invite Ana")))
    desk.clock.move_to(desk.clock.now() + timedelta(minutes=2))
    assert await desk.sweeping.look() == 0
    assert any("invitation_made" in one for one in await desk.told("bea"))


@pytest.mark.parametrize("text", ["/invite Ana", "/team Bo", "/team name Elm", "/invitations"])
async def test_a_row_that_comes_twice_has_one_effect(desk: Desk, text: str) -> None:
    team = await desk.founded("bea")
    incoming = desk.commanded(desk.incoming("bea", text=text))
    assert len(await desk.receive(incoming)) == 1
    async with desk.store.read() as unit:
        before = await unit.invitations.open_for_builder(team, desk.clock.now())
    await desk.reception.receive(incoming)
    assert await desk.told("bea") == []
    async with desk.store.read() as unit:
        assert await unit.invitations.open_for_builder(team, desk.clock.now()) == before


async def test_a_client_who_comes_twice_by_one_row_has_one_oven(desk: Desk) -> None:
    await desk.founded("bea")
    code = await desk.invitation("bea", "/invite Ana")
    incoming = desk.commanded(desk.incoming("ana", text=f"/start {code}"))
    assert (await desk.receive(incoming))[0] == "welcome"
    await desk.reception.receive(incoming)
    assert await desk.told("ana") == []
    assert (await desk.oven("ana")).name == "Ana"
