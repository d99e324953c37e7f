"""A builder's team: who is of it, and what becomes of its clients."""

from tests.bot.conversation.desk import CODES, Desk

NOTHING = ["nothing_here"]


async def test_the_builders_first_run_code_founds_a_team(desk: Desk) -> None:
    told = await desk.say("bea", f"/start {CODES.builder}")
    assert told == ["team_shown", "introduction_asked team_name"]
    bea = await desk.person("bea")
    assert bea is not None
    async with desk.store.read() as unit:
        builder = await unit.builders.get(bea.builder or "")
    assert builder is not None
    assert (builder.name, builder.founder) == ("bea", bea.id)


async def test_an_installation_serves_several_builders(desk: Desk) -> None:
    teams = {await desk.founded("bea"), await desk.founded("eve")}
    assert len(teams) == 2


async def test_coming_again_with_the_code_shows_the_team(desk: Desk) -> None:
    team = await desk.founded("bea")
    assert await desk.founded("bea") == team


async def test_clients_hear_the_name_that_the_team_goes_by(desk: Desk) -> None:
    await desk.founded("bea")
    assert await desk.say("bea", "/team name  Alder   Ovens ") == ["team_renamed"]
    bea = await desk.person("bea")
    assert bea is not None
    async with desk.store.read() as unit:
        builder = await unit.builders.get(bea.builder or "")
    assert builder is not None
    assert builder.name == "Alder Ovens"


async def test_a_member_comes_by_an_invitation_and_sees_the_clients(desk: Desk) -> None:
    team = await desk.founded("bea")
    await desk.client("ana", "bea")
    await desk.told("bea")
    code = await desk.invitation("bea", "/team Bo")
    assert (await desk.say("bo", f"/start {code}"))[0] == "team_shown"
    assert await desk.told("bea") == ["invitation_used"]
    bo = await desk.person("bo")
    assert bo is not None
    assert bo.builder == team


async def test_nobody_is_of_two_teams_and_the_invitation_stays_good(desk: Desk) -> None:
    await desk.founded("bea")
    await desk.founded("eve")
    code = await desk.invitation("bea", "/team Eve")
    assert await desk.say("eve", f"/start {code}") == ["other_team"]
    await desk.say("eve", "/leave team")
    assert await desk.press_label("eve", "Leave the team") == ["left_told team"]
    assert (await desk.say("eve", f"/start {code}"))[0] == "team_shown"


async def test_a_member_who_leaves_sees_nothing_any_more(desk: Desk) -> None:
    await desk.founded("bea")
    code = await desk.invitation("bea", "/team Bo")
    await desk.say("bo", f"/start {code}")
    await desk.told("bea")
    await desk.say("bo", "/leave")
    assert await desk.press_label("bo", "Leave the team") == ["left_told team"]
    assert await desk.told("bea") == ["member_told"]
    assert await desk.say("bo", "/team") == NOTHING
    assert await desk.press_label("bo", "Leave the team") == NOTHING


async def test_clients_are_told_when_the_last_of_a_team_leaves(desk: Desk) -> None:
    await desk.founded("bea")
    await desk.client("ana", "bea")
    await desk.say("bea", "/leave")
    await desk.press_label("bea", "Leave the team")
    assert await desk.told("ana") == ["looked_after_told"]
    assert (await desk.oven("ana")).builder is None
    assert (await desk.record("ana")).builder is None


async def test_one_may_stay_after_all(desk: Desk) -> None:
    team = await desk.founded("bea")
    await desk.say("bea", "/leave")
    assert await desk.press_label("bea", "Stay") == ["all_stays"]
    bea = await desk.person("bea")
    assert bea is not None
    assert bea.builder == team
