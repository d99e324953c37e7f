"""Two neighbours, one by a builder's invitation: the same oven, and the same plan for it."""

from datetime import timedelta

from tests.bot.conversation.desk import CODES, SMALL_SET_UP, Desk

ANSWERS = ("C", "Alderby", "brick", "85 cm", *SMALL_SET_UP[4:])


async def test_an_invitation_changes_neither_the_wall_nor_the_plan(desk: Desk) -> None:
    await desk.founded("bea", "Alder Ovens")
    await desk.say("bea", "/ways")
    await desk.say("bea", "greeting = Welcome to your oven")
    code = await desk.invitation("bea", "/invite Alder House")
    for who, start in (("ana", f"/start {code}"), ("ben", f"/start {CODES.owner}")):
        await desk.say(who, start)
        for answer in ANSWERS:
            await desk.say(who, answer)
        desk.clock.move_to(desk.clock.now() + timedelta(minutes=20))
    invited, alone = await desk.record("ana"), await desk.record("ben")
    assert (invited.builder is not None, alone.builder) == (True, None)
    assert invited.makeup is not None
    assert alone.makeup is not None
    assert invited.makeup.model_copy(update={"name": alone.makeup.name}) == alone.makeup
    assert len(alone.promise) > 5
    assert [one.plateau_c for one in invited.promise] == [one.plateau_c for one in alone.promise]
    assert [one.day for one in invited.promise] == [one.day for one in alone.promise]
