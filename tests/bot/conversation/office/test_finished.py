"""A break-in is done: the builder is told, with the paper, and keeps what its owner agreed to."""

import pytest

from scheduling.alarm import Alarm
from scheduling.choice import Keep
from scheduling.ports import OvenCard
from scheduling.record import Record
from tests.bot.conversation.office.van import TEAM, Van
from tests.scheduling.advance.test_soot import looking

PAPER = "oven-record.pdf"


@pytest.fixture
async def van() -> Van:
    """Ana’s last fire burns, and she is asked whether the soot is gone."""
    road = looking()
    van = Van(start=road.now)
    await van.team("beth", "jo", quiet_from=None, quiet_until=None)
    await van.person(
        "ana", phone="+44 7700 900123", zone="Europe/London", quiet_from=None, quiet_until=None
    )
    card = OvenCard(id="oven-ana", name="Ana’s dome", builder=TEAM, owners=("ana",))
    entries = [
        one.model_copy(update={"builder": TEAM, "name": "Ana’s dome"})
        if one.kind == "opened"
        else one
        for one in road.record.entries
    ]
    async with van.store.write() as unit:
        await unit.ovens.put(card)
        await unit.ovens.append(card.id, 0, entries)
        for name, due in road.alarms.items():
            await unit.alarms.set(card.id, Alarm(name, due))
        await unit.commit()
    await van.say("ana", "the soot is gone")
    await van.wait(hours=2)
    await van.say("ana", "door is on")
    assert (await van.record("ana")).finished
    return van


async def copies(van: Van) -> tuple[OvenCard, ...]:
    async with van.store.read() as unit:
        cards = await unit.ovens.of_builder(TEAM)
    return tuple(card for card in cards if card.id != "oven-ana")


async def test_the_whole_team_is_told_with_figures_paper_and_number(van: Van) -> None:
    for who in ("beth", "jo"):
        (told,) = [one for one in van.heard if one.to == who and "break-in is done" in one.text]
        assert told.text.startswith("Ana’s dome (Kew): the break-in is done.")
        assert "Five fires in" in told.text
        assert "the bare wall was seen" in told.text
        assert "I am asking them" in told.text
        assert "+44 7700 900123" in told.text
        assert told.attachments == (PAPER,)


async def test_who_may_keep_all_goes_on_seeing_the_oven(van: Van) -> None:
    await van.press("ana", "All, with my name")
    told = van.last("beth").text
    assert told.startswith("Ana’s dome: its owner lets you keep the whole record")
    assert (await van.say("beth", "ana"))[0].startswith("Ana’s dome")
    await van.wait(hours=24 * 40)
    assert (await van.card("ana")).builder == TEAM


async def test_who_may_keep_the_figures_is_given_them_as_a_paper_of_their_own(van: Van) -> None:
    await van.press("ana", "Figures without me")
    kept = next(one for one in reversed(van.heard) if one.to == "beth" and one.attachments)
    assert kept.text.startswith("Yours to keep: the figures, without their name")
    assert "Please delete any paper with more in it" in kept.text
    assert kept.attachments == (PAPER,)
    (copy,) = await copies(van)
    assert (copy.name, copy.place, copy.owners) == ("", "", ())
    async with van.store.read() as unit:
        journal = await unit.ovens.journal(copy.id)
    record = Record.folded([one.entry for one in journal], copy.id)
    assert record.agreed is Keep.NAMELESS
    assert len(record.ended_sessions) == 5
    # It opens, and stays, whatever becomes of the oven itself.
    await van.press("beth", "Open the card")
    assert "left by its owner" in van.last("beth").text
    await van.say("ana", "/erase")
    await van.press("ana", "Erase me for good")
    assert await copies(van) == (copy,)


async def test_who_may_keep_nothing_is_told_to_delete_the_paper(van: Van) -> None:
    await van.press("ana", "Nothing")
    assert await copies(van) == ()
    assert "If I have sent you a paper of it, please delete that." in van.last("beth").text
    assert (await van.say("beth", "ana"))[0].startswith("No clients yet.")


async def test_unsaid_for_a_month_is_nothing(van: Van) -> None:
    await van.wait(hours=24 * 31)
    assert await copies(van) == ()
    assert "please delete that" in " ".join(van.told("beth"))
    assert (await van.card("ana")).builder is None
