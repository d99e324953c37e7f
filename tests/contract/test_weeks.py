"""A builder's week, their calendar's address and what they fill in, whatever the store."""

from datetime import date, timedelta

import pytest

from scheduling.choice import About
from scheduling.ports import (
    Asking,
    CalendarAddress,
    InHand,
    Invitation,
    Opens,
    PromisedDay,
    Store,
    digest_of,
)
from storage.faults import RuleBroken
from tests.contract.samples import HEARTHS, MINUTE, NOON, settle_in

GIVEN = ((About.CONSTRUCTION, "cast-dense"), (About.PLACE, "53.8,-1.55,Europe/London,Leeds"))


def address(person: str = "clo", code: str = "first", letter: str | None = None) -> CalendarAddress:
    return CalendarAddress(
        person=person, builder="hearths", digest=digest_of(code), made_at=NOON, letter=letter
    )


@pytest.fixture(autouse=True)
async def _people(store: Store) -> None:
    await settle_in(store)


async def invite(store: Store) -> None:
    made = Invitation(
        id="i1",
        digest=digest_of("code"),
        opens=Opens.OVEN,
        made_by="clo",
        made_at=NOON,
        expires_at=NOON + timedelta(days=1),
        builder="hearths",
        name="Ana",
        given=GIVEN,
        model="Garden 80",
    )
    async with store.write() as unit:
        await unit.invitations.put(made)
        await unit.commit()


async def test_an_invitation_keeps_what_is_filled_in_until_it_is_used(store: Store) -> None:
    await invite(store)
    async with store.write() as unit:
        found = await unit.invitations.get("i1")
        assert found is not None
        assert (found.given, found.model) == (GIVEN, "Garden 80")
        assert await unit.invitations.use("i1", "ana", NOON + MINUTE)
        used = await unit.invitations.get("i1")
    assert used is not None
    assert used.given == ()


async def test_an_invitation_taken_back_forgets_what_was_filled_in(store: Store) -> None:
    await invite(store)
    async with store.write() as unit:
        assert await unit.invitations.revoke("i1", "clo", NOON + MINUTE)
        gone = await unit.invitations.get("i1")
    assert gone is not None
    assert gone.given == ()


async def test_a_question_in_hand_comes_back_as_it_was_put(store: Store) -> None:
    asking = Asking(what="make_up", at=NOON, about=About.SIZE, oven="dome")
    async with store.write() as unit:
        await unit.hands.put(InHand(person="clo", asking=asking))
        await unit.commit()
    async with store.read() as unit:
        assert (await unit.hands.of("clo")).asking == asking
        assert (await unit.hands.of("ana")).asking is None


async def test_a_question_about_an_oven_goes_with_the_oven(store: Store) -> None:
    asking = Asking(what="make_up", at=NOON, about=About.SIZE, oven="dome", along=GIVEN)
    async with store.write() as unit:
        await unit.hands.put(InHand(person="clo", asking=asking))
        await unit.hands.put(InHand(person="ana", oven="barrel", asking=None))
        await unit.hands.put_down("dome")
        assert (await unit.hands.of("clo")).asking is None
        assert (await unit.hands.of("ana")).oven == "barrel"


async def test_a_week_is_of_one_builders_ovens_in_the_order_of_its_fires(store: Store) -> None:
    def day(number: int, on: int, hour: int | None = None) -> PromisedDay:
        start = None if hour is None else NOON.replace(day=on, hour=hour)
        return PromisedDay(
            firing=number, day=date(2026, 5, on), told_at=NOON, start=start, session_h=6.5,
            plateau_c=150.0, hold_h=2.0, warm_up=number == 1,
        )  # fmt: skip

    async with store.write() as unit:
        dome = await unit.ovens.get("dome")
        assert dome is not None
        await unit.ovens.put(dome.model_copy(update={"id": "annexe", "owners": ()}))
        await unit.promises.replace("dome", [day(1, 14, 9), day(2, 16, 9), day(3, 25, 9)])
        await unit.promises.replace("annexe", [day(1, 14, 8), day(2, 16)])
        await unit.promises.replace("barrel", [day(1, 15, 9)])
        await unit.commit()
    async with store.read() as unit:
        week = await unit.promises.of_builder("hearths", date(2026, 5, 14), date(2026, 5, 20))
        one = await unit.promises.of_builder("hearths", date(2026, 5, 14), date(2026, 5, 20), 1)
        assert one == week[:1]
        assert await unit.promises.of_builder("others", date(2026, 5, 14), date(2026, 5, 20)) == ()
    assert [(oven, one.firing, one.day.day) for oven, one in week] == [
        ("annexe", 1, 14), ("dome", 1, 14), ("annexe", 2, 16), ("dome", 2, 16),
    ]  # fmt: skip
    assert week[1][1] == day(1, 14, 9)


async def test_a_calendars_address_is_found_by_its_codes_digest(store: Store) -> None:
    async with store.write() as unit:
        await unit.calendars.put(address(letter="l1"))
        await unit.commit()
    async with store.read() as unit:
        assert await unit.calendars.by_digest(digest_of("first")) == address(letter="l1")
        assert await unit.calendars.by_digest(digest_of("second")) is None
        assert await unit.calendars.of("clo") == address(letter="l1")
        assert await unit.calendars.of("ana") is None
        assert await unit.calendars.with_letters() == (address(letter="l1"),)


async def test_a_new_address_takes_the_place_of_the_one_before(store: Store) -> None:
    async with store.write() as unit:
        await unit.calendars.put(address(letter="l1"))
        await unit.calendars.put(address(code="second"))
        await unit.commit()
    async with store.read() as unit:
        assert await unit.calendars.by_digest(digest_of("first")) is None
        assert await unit.calendars.by_digest(digest_of("second")) is not None
        assert await unit.calendars.with_letters() == ()


async def test_an_address_is_revoked_once(store: Store) -> None:
    async with store.write() as unit:
        await unit.calendars.put(address())
        assert await unit.calendars.revoke("clo")
        assert not await unit.calendars.revoke("clo")
        await unit.commit()
    async with store.read() as unit:
        assert await unit.calendars.by_digest(digest_of("first")) is None


async def test_an_address_goes_with_its_person_and_with_its_builder(store: Store) -> None:
    async with store.write() as unit:
        await unit.calendars.put(address())
        await unit.people.forget("clo")
        assert await unit.calendars.of("clo") is None
    async with store.write() as unit:
        await unit.calendars.put(address())
        await unit.builders.forget(HEARTHS.id)
        assert await unit.calendars.of("clo") is None


async def test_an_address_of_nobody_is_refused(store: Store) -> None:
    with pytest.raises(RuleBroken):
        async with store.write() as unit:
            await unit.calendars.put(address("nobody"))
