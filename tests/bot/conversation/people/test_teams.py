"""A builder's team: who is of it, and what becomes of its clients."""

from scheduling.choice import Admitting, PuttingOut
from scheduling.journal import CaseTaken
from scheduling.ports import InHand
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


async def log_of(desk: Desk, team: str) -> list[tuple[str, str, str]]:
    """What was done, to whom and by whom, by their names."""
    async with desk.store.read() as unit:
        log = await unit.builders.log(team)
        names = await unit.people.several([one for e in log for one in (e.person, e.by)])
    return [(one.what, names[one.person].name, names[one.by].name) for one in log]


async def test_who_opens_a_team_code_waits_for_the_teams_yes(desk: Desk) -> None:
    team = await desk.founded("bea")
    await desk.client("ana", "bea")
    await desk.told("bea")
    code = await desk.invitation("bea", "/team Bo")
    assert await desk.say("bo", f"/start {code}") == ["join_asked"]
    assert await desk.told("bea") == ["member_asks"]
    bo = await desk.person("bo")
    assert bo is not None
    assert bo.builder is None
    assert await desk.say("bo", "ana") == NOTHING
    assert await desk.press_label("bea", "Let them in") == ["member_told"]
    assert await desk.told("bo") == ["team_shown", "introduction_asked own_name"]
    bo = await desk.person("bo")
    assert bo is not None
    assert bo.builder == team
    assert await log_of(desk, team) == [
        ("founded", "bea", "bea"), ("asked", "bo", "bo"), ("let_in", "bo", "bea"),
    ]  # fmt: skip


async def test_who_is_not_wanted_stays_outside_and_the_code_is_used_up(desk: Desk) -> None:
    team = await desk.founded("bea")
    code = await desk.invitation("bea", "/team Bo")
    await desk.say("eve", f"/start {code}")
    await desk.told("bea")
    assert await desk.press_label("bea", "No") == ["member_told"]
    assert await desk.told("eve") == ["join_refused"]
    eve = await desk.person("eve")
    assert eve is not None
    assert eve.builder is None
    assert await desk.say("eve", f"/start {code}") == NOTHING
    # Nobody waits any more: an old button lets nobody in.
    assert await desk.press_label("bea", "Let them in") == NOTHING
    assert (await log_of(desk, team))[-1] == ("refused", "eve", "bea")


async def test_the_first_answer_of_a_team_counts(desk: Desk) -> None:
    await desk.founded("bea")
    await desk.member("bo", "bea")
    code = await desk.invitation("bea", "/team Cy")
    await desk.say("cy", f"/start {code}")
    await desk.told("bo")
    await desk.told("bea")
    assert await desk.press_label("bo", "Let them in") == ["member_told"]
    assert await desk.press_label("bea", "No") == ["member_told", *NOTHING]
    cy = await desk.person("cy")
    assert cy is not None
    assert cy.builder is not None


async def test_a_stranger_lets_nobody_in(desk: Desk) -> None:
    await desk.founded("bea")
    await desk.founded("eve")
    code = await desk.invitation("bea", "/team Bo")
    await desk.say("bo", f"/start {code}")
    eve, bo = await desk.person("eve"), await desk.person("bo")
    assert eve is not None
    assert bo is not None
    key = await desk.button(eve.id, None, Admitting(person=bo.id))
    assert await desk.press("eve", key) == NOTHING
    bo = await desk.person("bo")
    assert bo is not None
    assert bo.builder is None


async def test_a_member_is_put_out_and_all_are_told(desk: Desk) -> None:
    team = await desk.founded("bea")
    await desk.member("bo", "bea")
    await desk.member("cy", "bea")
    await desk.client("ana", "bea")
    for who in ("bo", "cy"):
        await desk.told(who)
    assert (await desk.say("bea", "/team"))[-1] == "team_shown"
    assert await desk.press_label("bea", "Put bo out") == ["put_out_asked"]
    bo = await desk.person("bo")
    assert bo is not None
    assert bo.builder == team
    assert await desk.press_label("bea", "Yes, put them out") == ["member_told"]
    assert await desk.told("bo") == ["left_told team"]
    assert await desk.told("cy") == ["member_told"]
    assert await desk.say("bo", "ana") == NOTHING
    assert (await log_of(desk, team))[-1] == ("put_out", "bo", "bea")


async def test_who_is_put_out_gives_back_what_they_had_taken(desk: Desk) -> None:
    await desk.founded("bea")
    bo = await desk.member("bo", "bea")
    oven = await desk.client("ana", "bea")
    await desk.write_down("ana", CaseTaken(at=desk.clock.now(), by=bo.id, name="bo"))
    async with desk.store.write() as unit:
        card = await unit.ovens.get(oven.id)
        assert card is not None
        await unit.ovens.put(card.model_copy(update={"taken_by": bo.id}))
        await unit.hands.put(InHand(person=bo.id, oven=oven.id, talking=True))
        await unit.commit()
    await desk.say("bea", "/team")
    await desk.press_label("bea", "Put bo out")
    await desk.press_label("bea", "Yes, put them out")
    assert (await desk.record("ana")).case is None
    assert (await desk.oven("ana")).taken_by is None
    async with desk.store.read() as unit:
        assert (await unit.hands.of(bo.id)).oven is None


async def test_nobody_puts_out_another_team_s_member_or_themselves(desk: Desk) -> None:
    await desk.founded("bea")
    bo = await desk.member("bo", "bea")
    await desk.founded("eve")
    for who in ("eve", "bo"):
        person = await desk.person(who)
        assert person is not None
        await desk.told(who)
        key = await desk.button(person.id, None, PuttingOut(person=bo.id, yes=True))
        assert await desk.press(who, key) == NOTHING
    again = await desk.person("bo")
    assert again is not None
    assert again.builder == bo.builder


async def test_nobody_is_of_two_teams_and_the_invitation_stays_good(desk: Desk) -> None:
    await desk.founded("bea")
    await desk.founded("eve")
    code = await desk.invitation("bea", "/team Eve")
    assert await desk.say("eve", f"/start {code}") == ["other_team"]
    await desk.say("eve", "/leave team")
    assert await desk.press_label("eve", "Leave the team") == ["left_told team"]
    assert await desk.say("eve", f"/start {code}") == ["join_asked"]


async def test_a_member_who_leaves_sees_nothing_any_more(desk: Desk) -> None:
    await desk.founded("bea")
    await desk.member("bo", "bea")
    await desk.told("bo")
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
