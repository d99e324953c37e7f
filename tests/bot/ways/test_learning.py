"""What a builder's finished ovens teach: in /ways, on the card, and in whoever begins next."""

from datetime import UTC, datetime

import pytest

from bot.ways.editing import edited, is_edit
from bot.ways.reading import read_ways
from bot.ways.shape import OwnWays
from bot.ways.writing import written
from scheduling.choice import Agreeing, Keep
from scheduling.journal import Finished, Learnt, Model, Taught
from scheduling.oven.lesson import Told
from scheduling.record.lesson import lessons_for
from tests.bot.conversation.desk import Desk
from tests.bot.conversation.office.van import Van
from tests.bot.conversation.plain_voice import NamingVoice
from tests.scheduling.road import Road

AT = datetime(2026, 5, 1, 8, tzinfo=UTC)


def taught(fires: int = 7) -> Taught:
    """What an ordinary oven of the road taught."""
    makeup = Road().begin().record.makeup
    assert makeup is not None
    told = (Told(quantity="taken_up", mean=0.2, sd=0.1),)
    return Taught(at=AT, model=Model.of(makeup), told=told, fires=fires, promised=6, days=9)


async def finished(desk: Desk, *who: str) -> None:
    """Clients of Bea's who have taught something."""
    for number, name in enumerate(who):
        await desk.client(name, "bea")
        await desk.write_down(name, taught(6 + number))


async def learnt_by(desk: Desk, who: str) -> tuple[int, ...]:
    """From how many ovens a new client's oven learns."""
    await desk.client(who, "bea")
    return tuple(one.ovens for one in (await desk.record(who)).all_of(Learnt))


async def test_whoever_begins_after_five_have_finished_learns_from_them() -> None:
    desk = Desk(voice=NamingVoice())
    await desk.founded("bea")
    await finished(desk, "ana", "ben", "clo", "dov")
    assert await learnt_by(desk, "eve") == ()
    await finished(desk, "fay")
    assert await learnt_by(desk, "gil") == (5,)


@pytest.mark.parametrize(("keeps", "left"), [(Keep.NAMELESS, 1), (Keep.NOTHING, 0)])
async def test_what_was_taught_stays_with_the_figures_and_goes_with_the_rest(
    keeps: Keep, left: int
) -> None:
    desk = Desk(voice=NamingVoice())
    team = await desk.founded("bea")
    await desk.client("ana", "bea")
    await desk.write_down("ana", taught(), Finished(at=desk.clock.now()))
    ana, oven = await desk.person("ana"), await desk.oven("ana")
    assert ana is not None
    await desk.press("ana", await desk.button(ana.id, oven.id, Agreeing(keeps=keeps)))
    assert (await desk.oven("ana")).builder is None
    async with desk.store.read() as unit:
        assert len(await unit.ovens.taught(team)) == left


async def test_nobody_learns_from_another_builders_ovens() -> None:
    desk = Desk(voice=NamingVoice())
    await desk.founded("bea")
    await finished(desk, "ana", "ben", "clo", "dov", "fay")
    await desk.founded("elm")
    await desk.client("gil", "elm")
    assert (await desk.record("gil")).all_of(Learnt) == ()


async def test_a_builder_who_says_no_has_nothing_learnt_until_they_say_yes() -> None:
    desk = Desk(voice=NamingVoice())
    await desk.founded("bea")
    await finished(desk, "ana", "ben", "clo", "dov", "fay")
    await desk.say("bea", "learn = no")
    assert await learnt_by(desk, "gil") == ()
    await desk.say("bea", "learn = yes")
    assert await learnt_by(desk, "hal") == (5,)


async def test_saying_no_takes_it_from_the_running_clients_too_where_it_is_applied() -> None:
    desk = Desk(voice=NamingVoice())
    await desk.founded("bea")
    await finished(desk, "ana", "ben", "clo", "dov", "fay")
    assert await learnt_by(desk, "gil") == (5,)
    await desk.say("bea", "learn = no")
    await desk.press_label("bea", "Apply to them too")
    assert [one.ovens for one in (await desk.record("gil")).all_of(Learnt)] == [5, 0]


def test_yes_and_no_are_read_and_written() -> None:
    off = edited(OwnWays(), "learn = no")
    assert not off.learn
    assert edited(off, "learn = on").learn
    assert edited(off, "learn = none").learn
    assert is_edit("learn = off")
    assert read_ways(written(off)) == off
    assert read_ways(written(OwnWays())) == OwnWays()


async def journal(van: Van, name: str, *entries: Taught | Learnt) -> None:
    oven = f"oven-{name}"
    async with van.engine.standing_still(oven), van.store.write() as unit:
        written_so_far = await unit.ovens.journal(oven)
        await unit.ovens.append(oven, len(written_so_far), entries)
        await unit.commit()


async def test_the_ways_tell_with_counts_what_is_learnt_and_what_is_not_yet() -> None:
    van = Van()
    await van.team("bo")
    for number, name in enumerate(("ivy", "max", "nell")):
        await van.client(name)
        await journal(van, name, taught(6 + number))
    (text,) = await van.say("bo", "/ways")
    assert "Cast dome, dense, 90 cm: 3 done in 6 to 8 fires; the next learns from 5 on" in text
    for name in ("ola", "pip"):
        await van.client(name)
        await journal(van, name, taught(7))
    (text,) = await van.say("bo", "/ways")
    assert "90 cm: 5 done in 6 to 8 fires; the next learns from them" in text
    assert "“learn = no” stops it" in text
    (refused,) = await van.say("bo", "learn = maybe")
    assert "learn is yes or no" in refused


async def test_the_card_tells_from_how_many_it_has_learnt() -> None:
    van = Van()
    await van.team("bo")
    await van.client("ivy")
    (learnt,) = lessons_for([taught(7)] * 7, AT)
    await journal(van, "ivy", learnt)
    told = await van.say("bo", "ivy")
    assert "Learnt from 7 finished ovens of this model: nine of ten take" in told[0]
