"""What an outbox promises, whatever the store."""

import asyncio
from datetime import timedelta
from typing import Any

import pytest

from scheduling.choice import Command, CommandName
from scheduling.outcome import FIRE_THREAD, Urgency
from scheduling.pacing import Pacing
from scheduling.ports import EVERYBODY, Letter, OutboxState, Pressed, Store
from storage.faults import RuleBroken
from tests.contract.samples import ANA, MINUTE, NOON, SECOND, letter, settle_in, with_button

S = OutboxState


async def post(store: Store, *letters: Letter) -> None:
    async with store.write() as unit:
        for one in letters:
            await unit.outbox.post(one)
        await unit.commit()


async def claim(
    store: Store, after: timedelta = 0 * SECOND, limit: int = 10, pacing: Pacing | None = None
) -> list[str]:
    now = NOON + after
    async with store.write() as unit:
        letters = await unit.outbox.claim(now, now + MINUTE, limit, pacing)
        await unit.commit()
    assert all(one.state is S.SENDING for one in letters)
    return [one.id for one in letters]


async def settle(
    store: Store, letter_id: str, state: OutboxState, after: timedelta = 0 * SECOND, **how: object
) -> bool:
    async with store.write() as unit:
        done = await unit.outbox.settle(letter_id, state, NOON + after, **how)  # type: ignore[arg-type]
        await unit.commit()
    return done


async def state_of(store: Store, letter_id: str) -> OutboxState:
    async with store.read() as unit:
        found = await unit.outbox.get(letter_id)
    assert found is not None
    return found.state


@pytest.fixture(autouse=True)
async def _people(store: Store) -> None:
    await settle_in(store)


async def test_a_letter_comes_back_as_it_was_posted(store: Store) -> None:
    told = with_button("l1", "k1")
    await post(store, told)
    async with store.read() as unit:
        assert await unit.outbox.get("l1") == told
        assert await unit.outbox.get("l2") is None


async def test_a_letter_to_nobody_is_refused(store: Store) -> None:
    with pytest.raises(RuleBroken):
        await post(store, letter(person="nobody"))


async def test_danger_goes_first_then_fire_answers_and_calm(store: Store) -> None:
    async with store.write() as unit:
        for n, urgency in enumerate(reversed(Urgency)):
            await unit.people.put(ANA.model_copy(update={"id": f"p{n}", "address": f"p{n}"}))
            await unit.outbox.post(letter(urgency.value, f"p{n}", urgency=urgency))
        await unit.commit()
    assert await claim(store) == ["danger", "fire", "answer", "calm"]


async def test_one_person_is_sent_one_letter_at_a_time_oldest_first(store: Store) -> None:
    await post(store, letter("new", created_at=NOON), letter("old", created_at=NOON - MINUTE))
    await post(store, letter("other", "ben"))
    assert await claim(store) == ["old", "other"]
    assert await claim(store) == []
    await settle(store, "old", S.SENT, ref="7")
    assert await claim(store) == ["new"]


async def test_a_letter_waits_for_its_hour(store: Store) -> None:
    await post(store, letter(not_before=NOON + MINUTE))
    assert await claim(store) == []
    async with store.read() as unit:
        assert await unit.outbox.next_sendable() == NOON + MINUTE
    assert await claim(store, MINUTE) == ["l1"]


async def test_a_letter_that_waits_does_not_hold_up_the_next(store: Store) -> None:
    await post(store, letter("calm", not_before=NOON + MINUTE, created_at=NOON - MINUTE))
    await post(store, letter("now"))
    assert await claim(store) == ["now"]


async def test_what_came_too_late_expires_unsent(store: Store) -> None:
    await post(store, letter(expires=NOON + SECOND))
    assert await claim(store, SECOND) == []
    assert await state_of(store, "l1") is S.EXPIRED


async def test_a_newer_letter_of_a_thread_cancels_the_unsent_one(store: Store) -> None:
    await post(store, letter("first", replaces="nudge"), letter("ben", "ben", replaces="nudge"))
    await post(store, letter("second", replaces="nudge"), letter("apart", replaces="plan"))
    assert await state_of(store, "first") is S.CANCELLED
    assert await state_of(store, "ben") is S.TODO
    assert await claim(store) == ["ben", "second"]


async def test_of_several_letters_of_a_thread_posted_at_once_the_last_is_sent(
    store: Store,
) -> None:
    await post(store, letter("first", replaces="nudge"))
    async with store.write() as unit:
        await unit.outbox.post_each(
            [
                letter("second", replaces="nudge"),
                letter("ben", "ben", replaces="nudge"),
                letter("apart"),
                with_button("third", "k1"),
                letter("fourth", replaces="nudge"),
            ]
        )
        await unit.outbox.post_each([])
        await unit.commit()
    cancelled = [await state_of(store, one) for one in ("first", "second")]
    assert cancelled == [S.CANCELLED, S.CANCELLED]
    assert await claim(store) == ["ben", "apart"]
    async with store.read() as unit:
        assert (await unit.outbox.pressed("k1")) is not None


async def test_several_letters_are_settled_as_sent_but_for_those_given_back(store: Store) -> None:
    await post(store, letter("a"), letter("b", "ben"), letter("c", "clo"))
    await claim(store)
    await settle(store, "b", S.UNKNOWN, in_doubt=True)
    await settle(store, "c", S.FAILED)
    async with store.write() as unit:
        await unit.outbox.sent({"a": "7", "b": "8", "c": "9", "nothing": "1"}, NOON + SECOND)
        await unit.outbox.sent({}, NOON)
        await unit.commit()
    async with store.read() as unit:
        letters = [await unit.outbox.get(one) for one in "abc"]
    found = [(one.state, one.ref, one.sent_at) for one in letters if one is not None]
    sent_at = NOON + SECOND
    assert found == [(S.SENT, "7", sent_at), (S.SENT, "8", sent_at), (S.FAILED, None, None)]


async def test_what_is_on_its_way_is_not_cancelled_by_a_newer_one(store: Store) -> None:
    await post(store, letter("first", replaces="nudge"))
    await claim(store)
    await post(store, letter("second", replaces="nudge"))
    assert await state_of(store, "first") is S.SENDING
    async with store.read() as unit:
        first = await unit.outbox.get("first")
        second = await unit.outbox.get("second")
        assert first is not None
        assert second is not None
        assert await unit.outbox.superseded(first)
        assert not await unit.outbox.superseded(second)


async def test_only_what_was_claimed_can_be_settled_and_only_once(store: Store) -> None:
    await post(store, letter())
    assert not await settle(store, "l1", S.SENT, ref="7")
    await claim(store)
    assert await settle(store, "l1", S.SENT, SECOND, ref="7")
    assert not await settle(store, "l1", S.FAILED)
    assert not await settle(store, "l1", S.SENT, ref="8")
    async with store.read() as unit:
        sent = await unit.outbox.get("l1")
    assert sent is not None
    assert (sent.state, sent.ref, sent.sent_at) == (S.SENT, "7", NOON + SECOND)


async def test_a_letter_given_back_is_tried_again_at_its_time(store: Store) -> None:
    await post(store, letter())
    await claim(store)
    await settle(store, "l1", S.TODO, not_before=NOON + MINUTE, why="no connection")
    assert await claim(store) == []
    assert await claim(store, MINUTE) == ["l1"]
    async with store.read() as unit:
        again = await unit.outbox.get("l1")
    assert again is not None
    assert again.attempts == 2


async def test_a_lease_that_runs_out_is_seen_and_not_sent_again(store: Store) -> None:
    await post(store, letter())
    await claim(store)
    async with store.read() as unit:
        assert await unit.outbox.lapsed(NOON + MINUTE - SECOND) == ()
        assert [one.id for one in await unit.outbox.lapsed(NOON + MINUTE)] == ["l1"]
        assert await unit.outbox.next_sendable() == NOON + MINUTE
    assert await claim(store, 2 * MINUTE) == []


@pytest.mark.parametrize("state", [S.UNKNOWN, S.TODO, S.CANCELLED, S.EXPIRED])
async def test_a_letter_in_doubt_may_turn_out_to_be_sent(store: Store, state: OutboxState) -> None:
    await post(store, letter())
    await claim(store)
    await settle(store, "l1", state, in_doubt=True, not_before=NOON + MINUTE)
    assert not await settle(store, "l1", S.TODO)
    assert await settle(store, "l1", S.SENT, ref="7")
    assert not await settle(store, "l1", S.SENT, ref="8")
    assert await claim(store, MINUTE) == []


async def test_each_try_in_doubt_is_counted_and_the_first_try_remembered(store: Store) -> None:
    await post(store, letter())
    for minute in range(3):
        await claim(store, minute * MINUTE)
        await settle(store, "l1", S.TODO, in_doubt=minute > 0)
    async with store.read() as unit:
        tried = await unit.outbox.get("l1")
    assert tried is not None
    assert (tried.attempts, tried.doubts, tried.first_tried_at) == (3, 2, NOON)


async def test_a_danger_waits_for_no_letter_but_another_danger(store: Store) -> None:
    await post(store, letter("hangs"))
    await claim(store)
    await post(store, letter("calm"), *(letter(d, urgency=Urgency.DANGER) for d in "ab"))
    async with store.read() as unit:
        assert await unit.outbox.next_sendable(["hangs"]) == NOON
    assert await claim(store) == ["a"]
    assert await claim(store) == []
    await settle(store, "a", S.SENT, ref="1")
    assert await claim(store) == ["b"]


async def test_only_dangers_may_be_asked_for(store: Store) -> None:
    await post(store, letter("a"), letter("b", "ben", urgency=Urgency.DANGER))
    async with store.write() as unit:
        claimed = await unit.outbox.claim(NOON, NOON + MINUTE, 10, danger_only=True)
    assert [one.id for one in claimed] == ["b"]


async def test_a_danger_takes_the_place_of_what_was_to_be_done_at_its_fire(store: Store) -> None:
    fire: dict[str, Any] = {"urgency": Urgency.FIRE, "replaces": FIRE_THREAD}
    others = letter("barrel", oven="barrel"), letter("bens", "ben", **fire), letter("apart")
    await post(store, letter("wood", **fire), *others)
    danger, second = (letter(one, urgency=Urgency.DANGER) for one in ("danger", "second"))
    await post(store, danger, second)
    async with store.read() as unit:
        wood = await unit.outbox.get("wood")
        assert wood is not None
        assert await unit.outbox.superseded(wood)
        assert not any([await unit.outbox.superseded(one) for one in (*others, danger)])
    assert (await state_of(store, "wood")) is S.CANCELLED
    assert {await state_of(store, one.id) for one in (*others, danger, second)} == {S.TODO}


async def test_a_danger_at_one_oven_leaves_the_fire_of_another_alone(store: Store) -> None:
    barrel = letter("barrel", oven="barrel", urgency=Urgency.FIRE, replaces=FIRE_THREAD)
    await post(store, barrel, letter("danger", urgency=Urgency.DANGER))
    assert await state_of(store, "barrel") is S.TODO
    async with store.read() as unit:
        assert not await unit.outbox.superseded(barrel)


async def test_of_letters_posted_at_once_a_danger_takes_the_place_of_those_before_it(
    store: Store,
) -> None:
    fire: dict[str, Any] = {"urgency": Urgency.FIRE, "replaces": FIRE_THREAD}
    async with store.write() as unit:
        danger = letter("danger", urgency=Urgency.DANGER)
        await unit.outbox.post_each([letter("wood", **fire), danger, letter("then", **fire)])
        await unit.commit()
    assert await state_of(store, "wood") is S.CANCELLED
    assert await state_of(store, "then") is S.TODO


async def test_a_renewed_lease_runs_out_later(store: Store) -> None:
    await post(store, letter("a"), letter("b", "ben"))
    await claim(store)
    async with store.write() as unit:
        await unit.outbox.renew(["a"], NOON + 2 * MINUTE)
        await unit.commit()
    async with store.read() as unit:
        assert [one.id for one in await unit.outbox.lapsed(NOON + MINUTE)] == ["b"]
        assert await unit.outbox.next_sendable() == NOON + MINUTE
        assert await unit.outbox.next_sendable(["b"]) == NOON + 2 * MINUTE
        assert await unit.outbox.next_sendable(["a", "b"]) is None


async def test_only_what_was_tried_is_hastened(store: Store) -> None:
    await post(store, letter("tried"), letter("quiet", "ben", not_before=NOON + MINUTE))
    await post(store, letter("other", "clo"))
    await claim(store)
    for one in ("tried", "other"):
        await settle(store, one, S.TODO, not_before=NOON + MINUTE)
    async with store.write() as unit:
        await unit.outbox.hasten(NOON, "clo")
        await unit.commit()
    assert await claim(store) == ["other"]
    async with store.write() as unit:
        await unit.outbox.hasten(NOON)
        await unit.commit()
    assert await claim(store) == ["tried"]


async def test_a_press_tells_whether_its_letter_was_in_doubt(store: Store) -> None:
    await post(store, with_button("l1", "k1"))
    await claim(store)
    await settle(store, "l1", S.TODO, in_doubt=True)
    for in_doubt in (True, False):
        if not in_doubt:
            await settle(store, "l1", S.SENT)
        async with store.read() as unit:
            pressed = await unit.outbox.pressed("k1")
        assert pressed is not None
        assert pressed.in_doubt is in_doubt


async def test_cancelling_for_somebody_spares_what_is_on_its_way(store: Store) -> None:
    await post(store, letter("a"))
    await claim(store)
    await post(store, letter("b"), letter("c"), letter("d", "ben"))
    async with store.write() as unit:
        assert await unit.outbox.cancel_for("ana", "blocked") == 2
        await unit.commit()
    states = [await state_of(store, one) for one in "abcd"]
    assert states == [S.SENDING, S.CANCELLED, S.CANCELLED, S.TODO]


@pytest.mark.parametrize(("who", "left"), [("ana", ["b"]), (EVERYBODY, [])])
async def test_a_pause_holds_one_person_or_everybody(
    store: Store, who: str, left: list[str]
) -> None:
    await post(store, letter("a"), letter("b", "ben"))
    async with store.write() as unit:
        await unit.outbox.pause(who, NOON + MINUTE)
        assert await unit.outbox.paused(NOON) == {who: NOON + MINUTE}
        assert await unit.outbox.paused(NOON + MINUTE) == {}
        await unit.commit()
    assert await claim(store) == left
    assert "a" in await claim(store, MINUTE)


async def test_a_chat_gets_one_letter_a_second(store: Store) -> None:
    await post(store, letter("a"), letter("b"))
    pacing = Pacing()
    assert await claim(store, pacing=pacing) == ["a"]
    await settle(store, "a", S.SENT, ref="1")
    assert await claim(store, 0.5 * SECOND, pacing=pacing) == []
    assert await claim(store, SECOND, pacing=pacing) == ["b"]


async def test_all_together_get_no_more_than_the_channel_allows(store: Store) -> None:
    async with store.write() as unit:
        for n in range(5):
            await unit.people.put(ANA.model_copy(update={"id": f"p{n}", "address": f"p{n}"}))
            await unit.outbox.post(letter(f"l{n}", f"p{n}"))
        await unit.commit()
    pacing = Pacing(all_per_second=3)
    assert len(await claim(store, pacing=pacing)) == 3
    assert await claim(store, 0.9 * SECOND, pacing=pacing) == []
    assert len(await claim(store, SECOND, pacing=pacing)) == 2


async def test_a_group_gets_so_many_letters_a_minute(store: Store) -> None:
    async with store.write() as unit:
        await unit.people.put(ANA.model_copy(update={"group": True}))
        await unit.commit()
    await post(store, *(letter(f"l{n}") for n in range(3)))
    pacing = Pacing(group_per_minute=2)
    for n in range(2):
        assert await claim(store, n * SECOND, pacing=pacing) == [f"l{n}"]
        await settle(store, f"l{n}", S.SENT, ref="1")
    assert await claim(store, 30 * SECOND, pacing=pacing) == []
    assert await claim(store, 60 * SECOND, pacing=pacing) == ["l2"]


async def test_the_newest_letter_of_a_slot_is_the_one_to_edit(store: Store) -> None:
    await post(store, letter("a", slot="status"), letter("b", slot="status"), letter("c"))
    for n, one in enumerate("abc"):
        assert await claim(store, n * SECOND) == [one]
        await settle(store, one, S.SENT, n * SECOND, ref=one)
    async with store.read() as unit:
        slot = await unit.outbox.sent_in_slot("ana", "status")
        last = await unit.outbox.last_sent("ana")
        assert slot is not None
        assert last is not None
        assert (slot.id, last.id) == ("b", "c")
        assert await unit.outbox.sent_in_slot("ana", "other") is None
        assert await unit.outbox.last_sent("ben") is None


async def test_a_button_key_leads_to_its_choice(store: Store) -> None:
    await post(store, with_button("l1", "k1"))
    async with store.read() as unit:
        pressed = Pressed("dome", "ana", "l1", Command(name=CommandName.NOW))
        assert await unit.outbox.pressed("k1") == pressed
        assert await unit.outbox.pressed("k2") is None


async def test_nothing_to_send_has_no_next_time(store: Store) -> None:
    async with store.read() as unit:
        assert await unit.outbox.next_sendable() is None


async def test_several_who_claim_at_once_never_take_the_same_letter(store: Store) -> None:
    async with store.write() as unit:
        for n in range(20):
            await unit.people.put(ANA.model_copy(update={"id": f"p{n}", "address": f"p{n}"}))
            await unit.outbox.post(letter(f"a{n}", f"p{n}"))
            await unit.outbox.post(letter(f"b{n}", f"p{n}"))
        await unit.commit()
    batches = await asyncio.gather(*(claim(store, limit=3) for _ in range(8)))
    claimed = [one for batch in batches for one in batch]
    assert sorted(claimed) == sorted(f"a{n}" for n in range(20))
