"""An owner with nobody on the builder's side: all of it works, and nothing speaks of a builder."""

import pytest

from bot.wording.voice import Voice
from scheduling.choice import CommandName
from scheduling.journal import CrackSeen, FireLit, Measured
from scheduling.remark import CrackSize
from tests.bot.conversation.desk import CODES, Desk

BUILDERS_OWN = {CommandName.ROSTER, CommandName.TEAM, CommandName.WAYS, CommandName.STATISTICS}


@pytest.fixture
async def desk() -> Desk:
    desk = Desk(channel="telegram", voice=Voice())
    await desk.say("ana", f"/start {CODES.owner}")
    await desk.say("ana", "C")
    return desk


@pytest.mark.parametrize("name", sorted(set(CommandName) - BUILDERS_OWN))
async def test_every_command_is_answered_and_names_no_builder(
    desk: Desk, name: CommandName
) -> None:
    told = await desk.say("ana", f"/{name}")
    assert told
    assert not any("builder" in one.lower() for one in told), told


async def test_a_trouble_is_looked_at_by_the_owner(desk: Desk) -> None:
    now = desk.clock.now()
    await desk.write_down(
        "ana",
        FireLit(at=now, aim=None),
        Measured(at=now, top_c=150.0),
        CrackSeen(at=now, size=CrackSize.OPEN),
    )
    for words in ("what now", "popping and flaking", "can i light it?"):
        told = await desk.say("ana", words)
        assert told
        assert not any("your builder" in one.lower() for one in told), told


async def test_nobody_is_asked_to_wait_for_a_builder_to_leave_or_be_erased(desk: Desk) -> None:
    await desk.say("ana", "/leave")
    (told,) = await desk.press_label("ana", "Leave and erase its record")
    assert told == "You have left, and the record of the oven is erased."
