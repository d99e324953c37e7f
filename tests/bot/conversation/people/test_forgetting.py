"""What stays when somebody is erased: what others have a part in, without them."""

from datetime import timedelta

from bot.conversation.people.erasing import farewell_of
from scheduling.choice import Agreeing, Keep
from scheduling.journal import FireLit, Left, Measured, Noted
from scheduling.journal.forgetting import SOMEBODY
from tests.bot.conversation.desk import CODES, Desk

WORDS = "my knee is stiff, says Quentin"


async def erased(desk: Desk, who: str) -> list[str]:
    await desk.say(who, "/erase")
    told = await desk.press_label(who, "Erase me for good")
    desk.clock.move_to(desk.clock.now() + timedelta(minutes=2))
    await desk.sweeping.look()
    return told


async def told_of(desk: Desk, who: str, text: str) -> None:
    person, now = await desk.person(who), desk.clock.now()
    assert person is not None
    await desk.write_down(
        who,
        Noted(at=now, by=person.id, text=text, photo="telegram:x", key=f"telegram:{who}/7"),
        Measured(at=now, by=person.id, top_c=152.0),
    )


async def everything(desk: Desk) -> str:
    return repr(desk.store._tables)  # type: ignore[attr-defined]


async def test_a_shared_oven_stays_with_the_other_and_its_figures_too(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    code = await desk.invitation("ana", "/second")
    await desk.say("quentin", f"/start {code}")
    await told_of(desk, "quentin", WORDS)
    await told_of(desk, "ana", "Quentin lit it, I only looked")
    quentin = await desk.person("quentin")
    assert quentin is not None
    await desk.told("ana")
    assert await erased(desk, "quentin") == ["erased"]
    assert await desk.told("ana") == ["person_joined"]
    ana = await desk.person("ana")
    assert ana is not None
    assert (await desk.oven("ana")).owners == (ana.id,)
    record = await desk.record("ana")
    assert record.tenders == (ana.id,)
    readings = record.all_of(Measured)
    assert [(one.by, one.top_c) for one in readings] == [(SOMEBODY, 152.0), (ana.id, 152.0)]
    theirs, hers = record.all_of(Noted)
    assert (theirs.text, theirs.photo, theirs.key) == ("", None, None)
    assert hers.text == "– lit it, I only looked"
    kept = await everything(desk)
    assert "quentin" not in kept.lower()
    assert f"by='{quentin.id}'" not in kept


async def test_a_builder_keeps_figures_alone_as_was_agreed(desk: Desk) -> None:
    team = await desk.founded("bea")
    oven = await desk.client("quentin", "bea")
    await told_of(desk, "quentin", WORDS)
    quentin = await desk.person("quentin")
    assert quentin is not None
    named = await desk.button(quentin.id, oven.id, Agreeing(keeps=Keep.NAMED))
    await desk.press("quentin", named)
    await erased(desk, "quentin")
    async with desk.store.read() as unit:
        (card,) = await unit.ovens.of_builder(team)
        entries = [one.entry for one in await unit.ovens.journal(card.id)]
    assert (card.id, card.name, card.owners, card.state) == (oven.id, "", (), "left")
    assert [one.top_c for one in entries if isinstance(one, Measured)] == [152.0]
    assert isinstance(entries[-1], Left)
    assert "quentin" not in (await everything(desk)).lower()
    assert "oven_gone" in await desk.told("bea")


async def test_what_was_kept_before_loses_its_owner_later(desk: Desk) -> None:
    team = await desk.founded("bea")
    oven = await desk.client("quentin", "bea")
    await told_of(desk, "quentin", WORDS)
    await desk.say("quentin", "/leave")
    await desk.press_label("quentin", "All, with my name")
    assert "knee" in await everything(desk)
    await desk.told("bea")  # the oven by its name
    await erased(desk, "quentin")
    kept = await everything(desk)
    assert "knee" not in kept
    assert "quentin" not in kept.lower()
    async with desk.store.read() as unit:
        assert [card.id for card in await unit.ovens.of_builder(team)] == [oven.id]


async def test_the_name_that_a_builder_invited_them_by_goes_too(desk: Desk) -> None:
    await desk.founded("bea")
    code = await desk.invitation("bea", "/invite Quincey Alder")
    await desk.say("quentin", f"/start {code}")
    await desk.say("quentin", "/leave")
    await desk.press_label("quentin", "Figures without me")
    await desk.told("bea")
    await erased(desk, "quentin")
    assert "quincey" not in (await everything(desk)).lower()


async def test_a_team_member_is_gone_from_the_letters_of_the_others(desk: Desk) -> None:
    team = await desk.founded("bea")
    await desk.client("ana", "bea")
    quentin = await desk.member("quentin", "bea")
    await erased(desk, "quentin")
    assert "quentin" not in (await everything(desk)).lower()
    async with desk.store.read() as unit:
        log = await unit.builders.log(team)
    assert quentin.id not in {one for entry in log for one in (entry.person, entry.by)}
    assert "let_in" in {entry.what for entry in log}
    assert (await desk.oven("ana")).builder == team
    assert await desk.told("ana") == []


async def test_a_phone_number_is_gone_from_people_letters_and_all_that_was_typed(
    desk: Desk,
) -> None:
    await desk.founded("bea")
    bea = await desk.person("bea")
    assert bea is not None
    async with desk.store.write() as unit:
        await unit.people.put(bea.model_copy(update={"zone": "Europe/London"}))
        await unit.commit()
    code = await desk.invitation("bea", "/invite Quincey 07700 900123")
    await desk.say("quentin", f"/start {code}")
    await desk.say("quentin", "my phone is +44 7700 900456")
    await desk.say("bea", "quincey")
    await desk.say("bea", "phone 07700 900789")
    await erased(desk, "quentin")
    kept = await everything(desk)
    for number in ("900123", "900456", "900789"):
        assert number not in kept
    assert "quincey" not in kept.lower()


async def test_who_leaves_an_oven_takes_their_number_along(desk: Desk) -> None:
    await desk.founded("bea")
    await desk.client("quentin", "bea")
    await desk.say("quentin", "my phone is +44 7700 900456")
    await desk.say("bea", "quentin")
    await desk.say("quentin", "/leave")
    await desk.press_label("quentin", "Figures without me")
    async with desk.store.read() as unit:
        bea = await unit.people.at("telegram", "bea")
        assert bea is not None
        (copy,) = await unit.ovens.of_builder(bea.builder or "")
        journal = await unit.ovens.journal(copy.id)
    told = copy.model_dump_json() + "".join(one.model_dump_json() for one in journal)
    assert "900456" not in told


async def test_asking_is_not_doing(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    assert await desk.say("ana", "/erase") == ["erase_asked"]
    assert await desk.press_label("ana", "Keep everything") == ["all_stays"]
    assert (await desk.oven("ana")).name == "ana"


async def test_an_old_question_is_asked_again(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    await desk.say("ana", "/erase")
    desk.clock.move_to(desk.clock.now() + timedelta(days=2))
    assert await desk.press_label("ana", "Erase me for good") == ["erase_asked"]
    assert await desk.person("ana") is not None


async def test_a_lit_fire_is_not_left_to_nobody(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    await desk.write_down("ana", FireLit(at=desk.clock.now(), aim=None))
    assert await erased(desk, "ana") == ["still_burning"]
    assert await desk.person("ana") is not None


async def test_the_farewell_is_sent_before_it_is_forgotten_too(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    ana = await desk.person("ana")
    assert ana is not None
    await desk.say("ana", "/erase")
    key = desk.listener.key_of("ana", "Erase me for good")
    await desk.take_in(desk.incoming("ana", press=key))
    desk.clock.move_to(desk.clock.now() + timedelta(hours=3))
    assert await desk.sweeping.look() == 0
    assert await desk.told("ana") == ["erased"]
    desk.clock.move_to(desk.clock.now() + timedelta(minutes=2))
    assert await desk.sweeping.look() == 1
    async with desk.store.read() as unit:
        assert await unit.people.get(ana.id) is None
        assert await unit.outbox.get(farewell_of(ana.id)) is None


async def test_a_farewell_that_cannot_be_sent_is_not_waited_for_long(desk: Desk) -> None:
    await desk.say("ana", f"/start {CODES.owner}")
    await desk.say("ana", "/erase")
    key = desk.listener.key_of("ana", "Erase me for good")
    await desk.take_in(desk.incoming("ana", press=key))
    desk.clock.move_to(desk.clock.now() + timedelta(days=1))
    assert await desk.sweeping.look() == 1
    assert await desk.person("ana") is None
