"""What becomes of a letter, for each thing that a carrier can say of it."""

import asyncio
from collections.abc import Awaitable, Callable, Sequence
from datetime import datetime, timedelta

import pytest

from scheduling.happening import Delivery
from scheduling.outcome import FIRE_THREAD, Urgency
from scheduling.patience import PATIENCE
from scheduling.ports import EVERYBODY, Letter, OutboxState, UnitOfWork
from scheduling.waking import dispatcher
from scheduling.waking.carrying import Blocked, CarrierError, Fate, Load, NotSent, Refused, Unknown
from scheduling.waking.dispatcher import AT_ONCE, LEASE, Dispatcher
from scheduling.waking.settling import Settling
from tests.contract.samples import ANA, MINUTE, NOON, SECOND, letter, with_button
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


async def busy(rooms: Rooms) -> bool:
    return bool(rooms.dispatcher._under_way)


async def until_not(holds: Callable[[], Awaitable[bool]]) -> None:
    async with asyncio.timeout(10):
        while await holds():  # noqa: ASYNC110 - what is waited for is a task of the dispatcher
            await asyncio.sleep(0)


async def test_a_letter_is_sent_and_its_reference_kept(rooms: Rooms) -> None:
    await post(rooms, letter())
    assert await rooms.dispatcher.deliver() == 1
    sent = await rooms.letter("l1")
    assert (sent.state, sent.ref, sent.sent_at) == (S.SENT, "ref l1", NOON)


async def test_a_slot_is_edited_in_place(rooms: Rooms) -> None:
    await post(rooms, letter("a", slot="status"), letter("b", slot="status"))
    await rooms.dispatcher.deliver()
    assert rooms.carrier.shown == [("a", None), ("b", "ref a")]


@pytest.mark.parametrize("fate", [NotSent("no connection"), Unknown("502")], ids=repr)
@pytest.mark.parametrize("urgency", list(Urgency))
async def test_what_did_not_arrive_is_tried_ever_later_until_it_does(
    rooms: Rooms, urgency: Urgency, fate: CarrierError
) -> None:
    await post(rooms, letter(urgency=urgency))
    waits = []
    for _ in range(9):
        rooms.carrier.fates = [fate]
        await rooms.dispatcher.deliver()
        waiting = await rooms.letter("l1")
        waits.append((waiting.not_before - rooms.clock.now()).total_seconds())
        rooms.clock.move_to(waiting.not_before)
    assert waits == sorted(waits)
    assert waits[0] <= 8.0
    assert waits[-1] >= 10.0
    assert await rooms.dispatcher.deliver() == 1
    assert rooms.carrier.shown == [("l1", None)]
    assert (await rooms.letter("l1")).doubts == (9 if isinstance(fate, Unknown) else 0)


async def test_danger_waits_least_and_calm_words_longest(rooms: Rooms) -> None:
    firsts, longests = [], []
    for kind in Urgency:
        patience = PATIENCE[kind]
        firsts += [(patience.not_sent.wait(1), patience.in_doubt.wait(1))]
        longests += [(patience.not_sent.wait(99), patience.in_doubt.wait(99))]
    assert firsts == sorted(firsts)
    assert longests == sorted(longests)
    assert longests[0][0] <= 10 * SECOND
    assert all(doubtful >= sure for sure, doubtful in firsts + longests)


async def test_half_a_minute_of_failing_costs_a_danger_ten_seconds_at_most(rooms: Rooms) -> None:
    await post(rooms, letter(urgency=Urgency.DANGER))
    while rooms.clock.now() - NOON < 30 * SECOND:
        rooms.carrier.fates = [NotSent("502")]
        await rooms.dispatcher.deliver()
        rooms.clock.move_to((await rooms.letter("l1")).not_before)
    assert rooms.clock.now() - NOON <= 40 * SECOND


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


async def test_what_may_be_there_already_says_so_and_has_the_same_button(rooms: Rooms) -> None:
    fire = with_button("l1", "k1")
    await post(
        rooms,
        letter("l0", urgency=Urgency.FIRE, parcel=fire.parcel, button_keys=fire.button_keys),
    )
    rooms.carrier.fates = [Unknown("cut")]
    await rooms.dispatcher.deliver()
    rooms.clock.move_to(NOON + MINUTE)
    await rooms.dispatcher.deliver()
    again = await rooms.letter("l0")
    assert (again.state, again.doubts) == (S.SENT, 1)
    assert rooms.carrier.texts == [f"again {fire.parcel.text}"]
    assert again.button_keys == {"Done": "k1"}


async def test_what_surely_did_not_leave_is_said_as_it_was(rooms: Rooms) -> None:
    await post(rooms, letter())
    rooms.carrier.fates = [NotSent("no connection")]
    await rooms.dispatcher.deliver()
    rooms.clock.move_to(NOON + MINUTE)
    await rooms.dispatcher.deliver()
    assert rooms.carrier.texts == ["letter l1"]


@pytest.mark.parametrize("fate", [NotSent("no connection"), Unknown("cut")], ids=repr)
async def test_a_nudge_that_failed_is_not_tried_again_over_a_newer_one(
    rooms: Rooms, fate: CarrierError
) -> None:
    await post(rooms, letter("old", urgency=Urgency.FIRE, replaces="nudge"))

    async def meanwhile() -> None:
        await post(rooms, letter("new", urgency=Urgency.FIRE, replaces="nudge"))

    rooms.carrier.meanwhile = meanwhile
    rooms.carrier.fates = [fate]
    await rooms.dispatcher.deliver()
    assert (await rooms.letter("old")).state is S.CANCELLED
    rooms.clock.move_to(NOON + MINUTE)
    await rooms.dispatcher.deliver()
    assert [one for one, _ in rooms.carrier.shown] == ["new"]


async def test_nobody_is_handed_an_older_word_to_put_wood_on_after_a_danger(rooms: Rooms) -> None:
    wood = letter("wood", urgency=Urgency.FIRE, replaces=FIRE_THREAD)
    danger = letter("danger", urgency=Urgency.DANGER, created_at=NOON + MINUTE)
    await post(rooms, wood)

    async def meanwhile() -> None:
        await post(rooms, danger)

    rooms.carrier.meanwhile = meanwhile
    rooms.carrier.fates = [Unknown("cut")]
    await rooms.dispatcher.deliver()
    rooms.clock.move_to(NOON + MINUTE)
    await rooms.dispatcher.deliver()
    assert [one for one, _ in rooms.carrier.shown] == ["danger"]
    assert (await rooms.letter("wood")).state is S.CANCELLED


async def test_a_danger_overtakes_a_send_that_hangs(rooms: Rooms) -> None:
    await post(rooms, letter("hangs"))
    hanging = asyncio.Event()
    rooms.carrier.hangs = {"hangs": hanging}
    await rooms.dispatcher.set_out()
    await post(rooms, letter("calm"), letter("danger", urgency=Urgency.DANGER))
    assert await rooms.dispatcher.set_out() == 1

    async def unsaid() -> bool:
        return not rooms.carrier.shown

    await until_not(unsaid)
    hanging.set()
    await rooms.dispatcher.deliver()
    assert [one for one, _ in rooms.carrier.shown] == ["danger", "hangs", "calm"]


async def test_sends_that_hang_leave_room_for_a_danger(rooms: Rooms) -> None:
    async with rooms.store.write() as unit:
        for n in range(AT_ONCE + 3):
            await unit.people.put(ANA.model_copy(update={"id": f"p{n}", "address": f"p{n}"}))
            await unit.outbox.post(letter(f"l{n}", f"p{n}"))
        await unit.commit()
    hanging = asyncio.Event()
    rooms.carrier.hangs = {f"l{n}": hanging for n in range(AT_ONCE)}
    assert await rooms.dispatcher.set_out() == AT_ONCE
    await post(rooms, letter("danger", urgency=Urgency.DANGER))
    assert await rooms.dispatcher.set_out() == 1
    hanging.set()
    assert await rooms.dispatcher.deliver() == 3


async def test_a_letter_that_died_with_its_sender_is_tried_at_once_by_the_next(
    rooms: Rooms,
) -> None:
    await post(rooms, letter(urgency=Urgency.CALM))
    async with rooms.store.write() as unit:
        await unit.outbox.claim(NOON, NOON + MINUTE, 1)
        await unit.commit()
    shared = Dispatcher(rooms.store, rooms.clock, {"replay": rooms.carrier})
    alone = Dispatcher(rooms.store, rooms.clock, {"replay": rooms.carrier}, alone=True)
    assert await shared.begin() == 0
    assert await alone.begin() == 1
    assert await alone.begin() == 0
    await alone.deliver()
    sent = await rooms.letter("l1")
    assert (sent.state, sent.doubts) == (S.SENT, 1)


async def test_another_s_letter_is_taken_over_when_its_lease_ran_out(rooms: Rooms) -> None:
    await post(rooms, letter())
    async with rooms.store.write() as unit:
        await unit.outbox.claim(NOON, NOON + MINUTE, 1)
        await unit.commit()
    assert await rooms.dispatcher.deliver() == 0
    rooms.clock.move_to(NOON + MINUTE)
    assert await rooms.dispatcher.deliver() == 1
    assert rooms.carrier.shown == [("l1", None)]


async def test_a_send_that_outlasts_its_lease_is_not_taken_for_dead(rooms: Rooms) -> None:
    await post(rooms, letter())
    hanging = asyncio.Event()
    rooms.carrier.hangs = {"l1": hanging}
    await rooms.dispatcher.set_out()
    rooms.clock.move_to(NOON + 10 * MINUTE)
    assert await rooms.dispatcher.set_out() == 0
    hanging.set()
    await rooms.dispatcher.deliver()
    assert (await rooms.letter("l1")).doubts == 0


async def test_a_lease_is_renewed_while_its_letter_is_being_sent(
    rooms: Rooms, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(dispatcher, "RENEW_S", 0.001)
    await post(rooms, letter())
    hanging = asyncio.Event()
    rooms.carrier.hangs = {"l1": hanging}
    await rooms.dispatcher.set_out()
    rooms.clock.move_to(NOON + LEASE)

    async def lapsed() -> bool:
        async with rooms.store.read() as unit:
            return bool(await unit.outbox.lapsed(NOON + LEASE))

    await until_not(lapsed)
    hanging.set()
    await rooms.dispatcher.deliver()


async def test_at_the_start_nothing_waits_for_what_failed_before(rooms: Rooms) -> None:
    await post(rooms, letter("a"), letter("later", "ben", not_before=NOON + MINUTE))
    rooms.carrier.fates = [NotSent("no connection")]
    await rooms.dispatcher.deliver()
    assert await rooms.dispatcher.deliver() == 0
    await rooms.dispatcher.begin()
    await rooms.dispatcher.deliver()
    assert [one for one, _ in rooms.carrier.shown] == ["a"]


async def test_what_missed_somebody_is_tried_at_once_when_they_write(rooms: Rooms) -> None:
    await post(rooms, letter("a"), letter("b", "ben"))
    rooms.carrier.fates = [NotSent("no connection"), Unknown("502")]
    await rooms.dispatcher.deliver()
    await rooms.dispatcher.heard("replay", "nobody")
    assert await rooms.dispatcher.deliver() == 0
    await rooms.dispatcher.heard("replay", "ben")
    await rooms.dispatcher.deliver()
    assert [one for one, _ in rooms.carrier.shown] == ["b"]


@pytest.mark.parametrize("urgency", list(Urgency))
async def test_a_letter_that_is_long_on_its_way_is_told_once_and_so_is_its_arrival(
    rooms: Rooms, urgency: Urgency
) -> None:
    await post(rooms, letter(urgency=urgency))
    while rooms.clock.now() - NOON < PATIENCE[urgency].overdue + 5 * MINUTE:
        rooms.carrier.fates = [NotSent("no connection")]
        await rooms.dispatcher.deliver()
        rooms.clock.move_to((await rooms.letter("l1")).not_before)
    await rooms.dispatcher.deliver()
    assert await reports(rooms) == [
        Delivery("ana", False, "late"),
        Delivery("ana", True, "arrived"),
    ]


async def test_a_short_failure_alarms_nobody(rooms: Rooms) -> None:
    await post(rooms, letter(urgency=Urgency.FIRE))
    rooms.carrier.fates = [Unknown("cut")]
    await rooms.dispatcher.deliver()
    rooms.clock.move_to(NOON + 10 * SECOND)
    await rooms.dispatcher.deliver()
    assert await reports(rooms) == []


@pytest.mark.parametrize(
    ("fate", "state", "why"),
    [(NotSent("no connection"), S.FAILED, "given_up"), (Unknown("502"), S.UNKNOWN, "unknown")],
)
async def test_after_a_day_a_letter_is_given_up_and_that_is_told(
    rooms: Rooms, fate: CarrierError, state: OutboxState, why: str
) -> None:
    await post(rooms, letter())
    await post(rooms, letter("to the builder", "clo"))
    for hours in (0, 23, 26, 60):
        rooms.clock.move_to(NOON + timedelta(hours=hours))
        rooms.carrier.fates = [fate, fate]
        await rooms.dispatcher.deliver()
    assert (await rooms.letter("l1")).state is state
    assert [d.why for d in await reports(rooms)] == ["late", why]


async def test_what_cannot_be_written_of_one_letter_holds_up_no_other(
    rooms: Rooms, monkeypatch: pytest.MonkeyPatch
) -> None:
    await post(rooms, letter("a"), letter("b", "ben"), letter("c", "clo"))
    settle = Settling.all

    async def stumble(
        self: Settling, unit: UnitOfWork, fates: Sequence[tuple[Load, Fate]], now: datetime
    ) -> None:
        if any(load.letter.id == "a" for load, _ in fates):
            raise ZeroDivisionError
        await settle(self, unit, fates, now)

    monkeypatch.setattr(Settling, "all", stumble)
    await rooms.dispatcher.set_out()
    await until_not(lambda: busy(rooms))
    assert [(await rooms.letter(one)).state for one in "abc"] == [S.SENDING, S.SENT, S.SENT]
    monkeypatch.setattr(Settling, "all", settle)
    await rooms.dispatcher.deliver()
    sent = await rooms.letter("a")
    assert (sent.state, sent.doubts) == (S.SENT, 0)


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


async def test_what_an_oven_is_to_hear_of_a_letter_is_told_at_once(rooms: Rooms) -> None:
    woken: list[int] = []
    rooms.dispatcher.when_reported(lambda: woken.append(1))
    await post(rooms, letter("a"))
    await rooms.dispatcher.deliver()
    assert woken == [], "of a letter that arrived there is nothing to tell"
    await post(rooms, letter("b"))
    rooms.carrier.fates = [Refused("400")]
    await rooms.dispatcher.deliver()
    assert woken == [1]


async def test_a_fault_of_the_carrier_leaves_the_fate_unknown(rooms: Rooms) -> None:
    await post(rooms, letter())

    class BrokenError(CarrierError, ZeroDivisionError):
        pass

    rooms.carrier.fates = [BrokenError()]
    await rooms.dispatcher.deliver()
    assert (await rooms.letter("l1")).doubts == 1


async def test_news_of_a_letter_to_the_builder_begets_no_news(rooms: Rooms) -> None:
    await post(rooms, letter("a", "clo", urgency=Urgency.DANGER))
    for minutes in (0, 1, 10):
        rooms.clock.move_to(NOON + minutes * MINUTE)
        rooms.carrier.fates = [Unknown("cut")]
        await rooms.dispatcher.deliver()
    assert await reports(rooms) == []
