"""Where people can be rung: told by themselves or by their builder, shown to the builder alone."""

from datetime import timedelta

import pytest

from bot.conversation.incoming import SharedContact
from scheduling.journal import FireLit
from scheduling.ports import Person
from tests.bot.conversation.desk import CODES, Desk

PHONE = "+44 7700 900123"


async def person(desk: Desk, who: str) -> Person:
    found = await desk.person(who)
    assert found is not None
    return found


@pytest.fixture
async def office(desk: Desk) -> Desk:
    """Bea’s team, in Britain."""
    await desk.founded("bea", "Alder")
    bea = await person(desk, "bea")
    async with desk.store.write() as unit:
        await unit.people.put(bea.model_copy(update={"zone": "Europe/London"}))
        await unit.commit()
    return desk


async def invited(desk: Desk, who: str) -> None:
    code = await desk.invitation("bea", f"/invite {who.title()} 07700 900123")
    await desk.say(who, f"/start {code}")


async def test_a_number_given_with_the_invitation_is_theirs_once_they_come(office: Desk) -> None:
    await invited(office, "ana")
    ana = await person(office, "ana")
    assert ana.phone == PHONE
    async with office.store.read() as unit:
        assert await unit.invitations.with_phones() == ()
    assert (await office.oven("ana")).name == "Ana"


async def test_they_are_told_who_gave_it(office: Desk) -> None:
    code = await office.invitation("bea", "/invite Ana 07700 900123")
    assert "phone_given" in await office.say("ana", f"/start {code}")


async def test_an_invitation_with_a_number_that_nobody_can_ring_is_not_made(desk: Desk) -> None:
    await desk.founded("bea")
    assert await desk.say("bea", "/invite Ana 07700 900123") == ["phone_unclear"]
    assert await desk.say("bea", "/invitations") == ["invitations_shown"]
    async with desk.store.read() as unit:
        assert await unit.invitations.with_phones() == ()


async def test_their_own_word_comes_before_the_builders(office: Desk) -> None:
    await office.say("ana", f"/start {CODES.owner}")
    assert await office.say("ana", "my phone is +44 7700 900456") == ["phone_noted"]
    code = await office.invitation("bea", "/invite Ana 07700 900123")
    await office.say("ana", f"/start {code}")
    await office.press_label("ana", "It is for another oven")
    assert (await person(office, "ana")).phone == "+44 7700 900456"


async def test_a_builder_types_it_at_the_open_card_and_the_owner_is_told(office: Desk) -> None:
    await office.client("ana", "bea")
    await office.say("bea", "ana")
    assert await office.say("bea", "their number is 07700 900123") == ["phone_noted"]
    assert (await person(office, "ana")).phone == PHONE
    assert (await person(office, "bea")).phone == ""
    office.clock.move_to(office.clock.now() + timedelta(days=1))
    assert "phone_given" in await office.told("ana")


async def test_a_number_of_nobody_in_particular_is_kept_nowhere(office: Desk) -> None:
    await office.client("ana", "bea")
    await office.told("bea")
    assert await office.say("bea", "+44 7700 900123") == ["phone_unclear"]
    assert (await person(office, "bea")).phone == (await person(office, "ana")).phone == ""


async def test_a_shared_contact_counts_as_a_number(office: Desk) -> None:
    await office.client("ana", "bea")
    shared = SharedContact("447700900123", own=True)
    told = await office.receive(office.incoming("ana", contact=shared))
    assert told == ["phone_noted"]
    assert (await person(office, "ana")).phone == PHONE


async def test_it_is_forgotten_by_a_word(office: Desk) -> None:
    await invited(office, "ana")
    assert await office.say("ana", "Forget my number") == ["phone_noted"]
    assert (await person(office, "ana")).phone == ""


async def test_who_asks_to_be_rung_at_a_fire_is_heard_as_well(office: Desk) -> None:
    await office.client("ana", "bea")
    await office.write_down("ana", FireLit(at=office.clock.now(), aim=None))
    oven = await office.oven("ana")
    async with office.store.write() as unit:
        await unit.ovens.put(oven.model_copy(update={"state": "lit"}))
        await unit.commit()
    told = await office.say("ana", "ring me on +44 7700 900123")
    assert (await person(office, "ana")).phone == PHONE
    assert "phone_noted" not in told
    assert told


async def test_bare_figures_beside_a_fire_are_no_number(office: Desk) -> None:
    await office.client("ana", "bea")
    await office.set_up("ana")
    oven = await office.oven("ana")
    async with office.store.write() as unit:
        await unit.ovens.put(oven.model_copy(update={"state": "lit"}))
        await unit.commit()
    assert "phone_noted" not in await office.say("ana", "045 050 060")
    assert (await person(office, "ana")).phone == ""


async def test_an_owner_is_asked_for_it_once_and_not_where_it_is_known(office: Desk) -> None:
    code = await office.invitation("bea", "/invite Ana")
    await office.say("ana", f"/start {code}")
    await office.set_up("ana")
    asked = await office.record("ana")
    assert asked.makeup is not None
    await invited(office, "ben")
    heard = []
    for answer in ("C", "Alderby", "brick", "80 cm", "2 May", "sheet", "steel, no flue", "550",
                   "any day", "9-18", "just me"):  # fmt: skip
        heard += await office.say("ben", answer)
    assert "phone_asked" not in heard


async def test_a_stranger_has_no_number_here(desk: Desk) -> None:
    assert await desk.say("eve", "+44 7700 900123") == ["nothing_here"]
    assert (await person(desk, "eve")).phone == ""


async def test_who_did_not_come_is_not_kept_with_a_number(office: Desk) -> None:
    await office.invitation("bea", "/invite Ana 07700 900123")
    office.clock.move_to(office.clock.now() + timedelta(days=31))
    await office.sweeping.look()
    async with office.store.read() as unit:
        assert await unit.invitations.with_phones() == ()


async def test_an_invitation_taken_back_forgets_its_number(office: Desk) -> None:
    await office.invitation("bea", "/invite Ana 07700 900123")
    await office.press_label("bea", "Take it back")
    async with office.store.read() as unit:
        assert await unit.invitations.with_phones() == ()
