"""What is kept of builders, their ways, invitations and erasures, whatever the store."""

import asyncio
from datetime import timedelta
from typing import Any

import pytest

from scheduling.ports import Conflict, Erasure, Invitation, Opens, Store, TeamEntry, Way, digest_of
from storage.faults import RuleBroken, StorageFault
from tests.contract.samples import CLO, HEARTHS, MINUTE, NOON, settle_in

DAY = timedelta(days=1)


def invitation(invitation_id: str = "i1", **other: Any) -> Invitation:
    plain: dict[str, Any] = {
        "id": invitation_id,
        "digest": digest_of(f"code of {invitation_id}"),
        "opens": Opens.OVEN,
        "made_by": "clo",
        "made_at": NOON,
        "expires_at": NOON + DAY,
        "builder": "hearths",
        "name": "Ána",
    }
    return Invitation.model_validate(plain | other)


def way(version: int, builder: str = "hearths") -> Way:
    body = f'{{"greeting": "Grüß dich {version}"}}'
    return Way(builder=builder, version=version, made_at=NOON, made_by="clo", body=body)


def team_entry(what: str = "let_in", person: str = "ben", minute: int = 0) -> TeamEntry:
    told = {"builder": "hearths", "at": NOON + minute * MINUTE, "what": what}
    return TeamEntry.model_validate(told | {"person": person, "by": "clo"})


@pytest.fixture(autouse=True)
async def _people(store: Store) -> None:
    await settle_in(store)


async def keep(store: Store, *invitations: Invitation) -> None:
    async with store.write() as unit:
        for one in invitations:
            await unit.invitations.put(one)
        await unit.commit()


async def test_a_builder_comes_back_and_is_replaced_by_id(store: Store) -> None:
    renamed = HEARTHS.model_copy(update={"name": "Hearths", "founder": None})
    async with store.write() as unit:
        assert await unit.builders.get("hearths") == HEARTHS
        assert await unit.builders.get("nobody") is None
        await unit.builders.put(renamed)
        await unit.commit()
    async with store.read() as unit:
        assert await unit.builders.get("hearths") == renamed


async def test_ways_are_kept_version_after_version(store: Store) -> None:
    async with store.write() as unit:
        assert await unit.ways.latest("hearths") is None
        assert await unit.ways.all("hearths") == ()
        await unit.ways.put(way(1))
        await unit.ways.put(way(2))
        await unit.commit()
    async with store.read() as unit:
        assert await unit.ways.latest("hearths") == way(2)
        assert await unit.ways.all("hearths") == (way(1), way(2))
        assert await unit.ways.latest("others") is None


async def test_a_version_of_ways_is_rewritten_in_its_place_and_no_other(store: Store) -> None:
    async with store.write() as unit:
        await unit.ways.put(way(1))
        await unit.ways.put(way(2))
        bare = way(1).model_copy(update={"made_by": "somebody", "body": "{}"})
        await unit.ways.rewrite(bare)
        await unit.ways.rewrite(way(7))
        await unit.commit()
    async with store.read() as unit:
        assert await unit.ways.all("hearths") == (bare, way(2))


@pytest.mark.parametrize("version", [0, 1, 3])
async def test_a_version_out_of_turn_is_a_conflict(store: Store, version: int) -> None:
    async with store.write() as unit:
        await unit.ways.put(way(1))
        await unit.commit()
    with pytest.raises(Conflict):
        async with store.write() as unit:
            await unit.ways.put(way(version))


async def test_of_two_who_write_a_version_at_once_one_is_told(store: Store) -> None:
    async def write() -> bool:
        try:
            async with store.write() as unit:
                await unit.ways.put(way(1))
                await unit.commit()
        except (Conflict, StorageFault):
            return False
        return True

    assert sorted(await asyncio.gather(write(), write())) == [False, True]


async def test_ways_of_a_builder_who_is_not_there_are_refused(store: Store) -> None:
    with pytest.raises(RuleBroken):
        async with store.write() as unit:
            await unit.ways.put(way(1, "nobody"))


async def test_an_invitation_is_found_by_its_id_and_by_its_codes_digest(store: Store) -> None:
    made = invitation(letter="l1")
    await keep(store, made)
    async with store.read() as unit:
        assert await unit.invitations.get("i1") == made
        assert await unit.invitations.by_digest(digest_of("code of i1")) == made
        assert await unit.invitations.by_digest(digest_of("another")) is None
        assert await unit.invitations.get("i2") is None


async def test_two_invitations_never_share_a_code(store: Store) -> None:
    await keep(store, invitation())
    with pytest.raises(RuleBroken):
        await keep(store, invitation("i2", digest=digest_of("code of i1")))


@pytest.mark.parametrize("wrong", [{"builder": "nobody"}, {"oven": "nowhere"}])
async def test_an_invitation_to_what_is_not_there_is_refused(
    store: Store, wrong: dict[str, str]
) -> None:
    with pytest.raises(RuleBroken):
        await keep(store, invitation(**wrong))


async def test_an_invitation_is_used_once(store: Store) -> None:
    await keep(store, invitation())
    async with store.write() as unit:
        assert await unit.invitations.use("i1", "ana", NOON + MINUTE)
        assert not await unit.invitations.use("i1", "ben", NOON + MINUTE)
        assert not await unit.invitations.revoke("i1", "clo", NOON + MINUTE)
        assert not await unit.invitations.use("i2", "ben", NOON)
        await unit.commit()
    async with store.read() as unit:
        used = await unit.invitations.get("i1")
    assert used is not None
    assert (used.used_by, used.used_at, used.revoked_at) == ("ana", NOON + MINUTE, None)


async def test_of_two_who_come_at_once_one_is_let_in(store: Store) -> None:
    await keep(store, invitation())

    async def use(who: str) -> bool:
        async with store.write() as unit:
            done = await unit.invitations.use("i1", who, NOON)
            await unit.commit()
        return done

    assert sorted(await asyncio.gather(use("ana"), use("ben"))) == [False, True]


async def test_an_invitation_expires_and_a_revoked_one_opens_nothing(store: Store) -> None:
    await keep(store, invitation(), invitation("i2"))
    async with store.write() as unit:
        assert not await unit.invitations.use("i1", "ana", NOON + DAY)
        assert await unit.invitations.revoke("i2", "clo", NOON)
        assert not await unit.invitations.revoke("i2", "clo", NOON)
        assert not await unit.invitations.use("i2", "ana", NOON)
        await unit.commit()


async def test_open_invitations_are_listed_by_builder_and_by_oven(store: Store) -> None:
    await keep(
        store,
        invitation("late", made_at=NOON + MINUTE),
        invitation("early"),
        invitation("used", used_at=NOON, used_by="ana"),
        invitation("revoked", revoked_at=NOON, revoked_by="clo"),
        invitation("old", expires_at=NOON),
        invitation("second", builder=None, oven="dome", opens=Opens.SECOND),
    )
    async with store.read() as unit:
        open_ones = await unit.invitations.open_for_builder("hearths", NOON)
        assert [one.id for one in open_ones] == ["early", "late"]
        assert [one.id for one in await unit.invitations.open_for_oven("dome", NOON)] == ["second"]
        assert await unit.invitations.open_for_oven("barrel", NOON) == ()


async def test_those_whose_code_can_still_be_read_are_known(store: Store) -> None:
    await keep(store, invitation("a", letter="l1"), invitation("b"))
    async with store.read() as unit:
        assert [one.id for one in await unit.invitations.with_letters()] == ["a"]


async def test_somebody_forgotten_is_in_no_invitation(store: Store) -> None:
    await keep(
        store,
        invitation("made", made_by="ana", revoked_at=NOON, revoked_by="ana"),
        invitation("used", used_at=NOON, used_by="ana"),
        invitation("others"),
    )
    async with store.write() as unit:
        assert await unit.invitations.forget("ana") == ("Ána",)
        made = await unit.invitations.get("made")
        assert made is not None
        assert (made.made_by, made.revoked_by) == ("", None)
        assert await unit.invitations.get("used") is None
        assert await unit.invitations.get("others") is not None


async def test_erasures_are_pending_until_done_and_kept_for_ever(store: Store) -> None:
    first = Erasure(person="ana", asked_at=NOON, kept=("dome",))
    second = Erasure(person="gone", asked_at=NOON + MINUTE)
    done = first.model_copy(update={"done_at": NOON + MINUTE})
    async with store.write() as unit:
        await unit.erasures.put(second)
        await unit.erasures.put(first)
        assert await unit.erasures.pending() == (first, second)
        await unit.erasures.put(done)
        await unit.commit()
    async with store.read() as unit:
        assert await unit.erasures.pending() == (second,)
        assert await unit.erasures.all() == (done, second)
        assert await unit.erasures.get("ana") == done
        assert await unit.erasures.get("ben") is None


async def test_a_team_s_journal_is_kept_in_order_and_outlives_its_people(store: Store) -> None:
    entries = [team_entry("asked", minute=0), team_entry("let_in", minute=1), team_entry("put_out")]
    async with store.write() as unit:
        for entry in entries:
            await unit.builders.note(entry)
        await unit.commit()
    async with store.write() as unit:
        assert list(await unit.builders.log("hearths")) == entries
        assert await unit.builders.log("another") == ()
        await unit.builders.blot_log("ben", "somebody")
        await unit.commit()
    async with store.read() as unit:
        log = await unit.builders.log("hearths")
    assert [(one.person, one.by) for one in log] == [("somebody", "clo")] * 3
    async with store.write() as unit:
        await unit.builders.blot_log("clo", "somebody")
        assert {one.by for one in await unit.builders.log("hearths")} == {"somebody"}


async def test_a_team_that_is_not_there_has_no_journal(store: Store) -> None:
    nobodys = team_entry().model_copy(update={"builder": "nobody"})
    with pytest.raises(RuleBroken):
        async with store.write() as unit:
            await unit.builders.note(nobodys)


async def test_a_team_s_journal_goes_with_the_team(store: Store) -> None:
    async with store.write() as unit:
        await unit.builders.note(team_entry())
        await unit.people.put(CLO.model_copy(update={"builder": None}))
        await unit.builders.forget("hearths")
        await unit.commit()
    async with store.read() as unit:
        assert await unit.builders.log("hearths") == ()


async def test_those_that_keep_a_number_are_known(store: Store) -> None:
    await keep(store, invitation("a", phone="+44 7700 900123"), invitation("b"))
    async with store.read() as unit:
        (one,) = await unit.invitations.with_phones()
    assert (one.id, one.phone) == ("a", "+44 7700 900123")
