"""What becomes of a letter, for each thing that a carrier can say of it."""

from datetime import timedelta

import pytest

from scheduling.happening import Delivery
from scheduling.outcome import Urgency
from scheduling.ports import EVERYBODY, Letter, OutboxState
from scheduling.waking.dispatcher import Blocked, CarrierError, NotSent, Refused, Unknown
from tests.contract.samples import MINUTE, NOON, SECOND, letter, with_button
from tests.scheduling.waking.house import Rooms

S = OutboxState


async def post(rooms: Rooms, *letters: Letter) -> None:
    async with rooms.store.write() as unit:
        for one in letters:
            await unit.outbox.post(one)
        await unit.commit()


async def reports(rooms: Rooms) -> list[Delivery]:
    await rooms.engine.run_due()
    return [happening for happening, _ in rooms.book.seen if isinstance(happening, Delivery)]


async def test_a_letter_is_sent_and_its_reference_kept(rooms: Rooms) -> None:
    await post(rooms, letter())
    assert await rooms.dispatcher.deliver() == 1
    sent = await rooms.letter("l1")
    assert (sent.state, sent.ref, sent.sent_at) == (S.SENT, "ref l1", NOON)


async def test_a_slot_is_edited_in_place(rooms: Rooms) -> None:
    await post(rooms, letter("a", slot="status"), letter("b", slot="status"))
    await rooms.dispatcher.deliver()
    assert rooms.carrier.shown == [("a", None), ("b", "ref a")]


async def test_what_was_not_sent_is_tried_again_ever_later(rooms: Rooms) -> None:
    await post(rooms, letter())
    waits = []
    for _ in range(7):
        rooms.carrier.fates = [NotSent("no connection")]
        await rooms.dispatcher.deliver()
        waiting = await rooms.letter("l1")
        waits.append((waiting.not_before - rooms.clock.now()).total_seconds())
        rooms.clock.move_to(waiting.not_before)
    assert waits == [2, 4, 8, 16, 32, 60, 60]
    await rooms.dispatcher.deliver()
    assert rooms.carrier.shown == [("l1", None)]


async def test_a_told_wait_pauses_that_chat_for_newer_letters_too(rooms: Rooms) -> None:
    await post(rooms, letter("a"), letter("b", "ben"))
    rooms.carrier.fates = [NotSent("429", retry_after=30 * SECOND)]
    await rooms.dispatcher.deliver()
    await post(rooms, letter("danger", urgency=Urgency.DANGER))
    assert await rooms.dispatcher.deliver() == 0
    rooms.clock.move_to(NOON + 30 * SECOND)
    await rooms.dispatcher.deliver()
    assert [one for one, _ in rooms.carrier.shown] == ["b", "danger", "a"]


async def test_two_chats_told_to_wait_pause_everybody(rooms: Rooms) -> None:
    await post(rooms, letter("a"), letter("b", "ben"))
    rooms.carrier.fates = [NotSent("429", retry_after=n * SECOND) for n in (30, 40)]
    await rooms.dispatcher.deliver()
    async with rooms.store.read() as unit:
        assert (await unit.outbox.paused(NOON))[EVERYBODY] == NOON + 40 * SECOND


@pytest.mark.parametrize("urgency", list(Urgency))
async def test_an_unknown_letter_of_a_fire_is_repeated_once_and_no_other(
    rooms: Rooms, urgency: Urgency
) -> None:
    await post(rooms, letter(urgency=urgency))
    rooms.carrier.fates = [Unknown("read timed out"), Unknown("read timed out")]
    tried = await rooms.dispatcher.deliver()
    assert tried == (2 if urgency in (Urgency.DANGER, Urgency.FIRE) else 1)
    assert (await rooms.letter("l1")).state is S.UNKNOWN
    assert {d.why for d in await reports(rooms)} == {"unknown"}


async def test_a_repeat_has_the_same_button(rooms: Rooms) -> None:
    fire = with_button("l1", "k1")
    async with rooms.store.write() as unit:
        await unit.outbox.post(
            letter("l0", urgency=Urgency.FIRE, parcel=fire.parcel, button_keys=fire.button_keys)
        )
        await unit.commit()
    rooms.carrier.fates = [Unknown("cut")]
    await rooms.dispatcher.deliver()
    again = await rooms.letter("id1")
    assert (again.repeat_of, again.state) == ("l0", S.SENT)
    assert again.button_keys == {"Done": "k1"}


async def test_a_stale_unknown_nudge_is_not_repeated_over_a_newer_one(rooms: Rooms) -> None:
    await post(rooms, letter("old", urgency=Urgency.FIRE, replaces="nudge"))
    async with rooms.store.write() as unit:
        await unit.outbox.claim(NOON, NOON + MINUTE, 1)
        await unit.commit()
    await post(rooms, letter("new", urgency=Urgency.FIRE, replaces="nudge"))
    rooms.clock.move_to(NOON + MINUTE)
    assert await rooms.dispatcher.recover() == 1
    await rooms.dispatcher.deliver()
    assert [one for one, _ in rooms.carrier.shown] == ["new"]


async def test_a_letter_that_died_with_its_sender_is_unknown_and_told(rooms: Rooms) -> None:
    await post(rooms, letter(urgency=Urgency.CALM))
    async with rooms.store.write() as unit:
        await unit.outbox.claim(NOON, NOON + MINUTE, 1)
        await unit.commit()
    assert await rooms.dispatcher.recover() == 0
    rooms.clock.move_to(NOON + MINUTE)
    assert await rooms.dispatcher.recover() == 1
    assert await rooms.dispatcher.recover() == 0
    assert await rooms.dispatcher.deliver() == 0
    assert await reports(rooms) == [Delivery("ana", False, "unknown")]


async def test_who_blocked_us_loses_their_letters_and_every_oven_of_theirs_is_told(
    rooms: Rooms,
) -> None:
    await post(rooms, letter("a", "ben"), letter("b", "ben"), letter("c"))
    rooms.carrier.fates = [Blocked("403")]
    await rooms.dispatcher.deliver()
    assert [one for one, _ in rooms.carrier.shown] == ["c"]
    assert (await rooms.letter("b")).state is S.CANCELLED
    async with rooms.store.read() as unit:
        ben = await unit.people.get("ben")
    assert ben is not None
    assert ben.blocked
    assert await reports(rooms) == [Delivery("ben", False, "blocked")] * 2


async def test_a_refused_letter_is_never_tried_again(rooms: Rooms) -> None:
    await post(rooms, letter())
    rooms.carrier.fates = [Refused("400")]
    await rooms.dispatcher.deliver()
    rooms.clock.move_to(NOON + timedelta(days=1))
    assert await rooms.dispatcher.deliver() == 0
    assert (await rooms.letter("l1")).state is S.FAILED
    assert await reports(rooms) == [Delivery("ana", False, "refused")]


async def test_a_fault_of_the_carrier_leaves_the_fate_unknown(rooms: Rooms) -> None:
    await post(rooms, letter())

    class BrokenError(CarrierError, ZeroDivisionError):
        pass

    rooms.carrier.fates = [BrokenError()]
    await rooms.dispatcher.deliver()
    assert (await rooms.letter("l1")).state is S.UNKNOWN


async def test_news_of_a_letter_to_the_builder_begets_no_news(rooms: Rooms) -> None:
    await post(rooms, letter("a", "clo", urgency=Urgency.DANGER))
    rooms.carrier.fates = [Unknown("cut"), Unknown("cut")]
    await rooms.dispatcher.deliver()
    assert await reports(rooms) == []
