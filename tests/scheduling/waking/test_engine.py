"""The one road: everything that follows from a happening is kept at once, and only once."""

import asyncio
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from scheduling.alarm import Alarm, AlarmName
from scheduling.happening import Came, Delivery, Happening
from scheduling.meaning import Meaning
from scheduling.outcome import BUILDER, TENDERS, Message, Outcome, Urgency
from scheduling.ports import OutboxState, OvenCard, Parcel, Person
from scheduling.waking.engine import NoSuchOvenError
from tests.contract.samples import ANA, MINUTE, NOON, entry, row
from tests.crash.mortal import MortalStore, Step
from tests.scheduling.waking.house import SAID, PlainVoice, Rooms, Tally

BACK = Delivery("ana", True)


async def texts(rooms: Rooms) -> list[str]:
    async with rooms.store.write() as unit:
        letters = await unit.outbox.claim(NOON + timedelta(days=2), NOON, 99)
    return sorted(one.parcel.text for one in letters)


async def test_entries_letters_alarms_and_card_are_kept_together(rooms: Rooms) -> None:
    rooms.book.then = lambda *_: Outcome(
        (entry(),), (Message("ana", SAID),), (Alarm(AlarmName.NUDGE, NOON + MINUTE),)
    )
    await rooms.engine.happen("dome", BACK)
    async with rooms.store.read() as unit:
        card = await unit.ovens.get("dome")
        assert card is not None
        assert card.state == "1 entries"
        assert len(await unit.ovens.journal("dome")) == 1
        assert await unit.alarms.of("dome") == {AlarmName.NUDGE: NOON + MINUTE}
    assert await texts(rooms) == ["nothing_here ana 12:00"]
    assert await rooms.engine.next_wake_up() == NOON + MINUTE


async def test_an_update_that_comes_twice_has_one_effect(rooms: Rooms) -> None:
    rooms.book.then = lambda *_: Outcome((entry(),), (Message("ana", SAID),))
    async with rooms.store.write() as unit:
        await unit.inbox.store(row("7"))
        await unit.commit()
    assert await rooms.engine.happen("dome", BACK, inbox=("replay", "7")) is not None
    assert await rooms.engine.happen("dome", BACK, inbox=("replay", "7")) is None
    assert len((await rooms.engine.record("dome")).entries) == 1
    assert len(await texts(rooms)) == 1


async def test_groups_are_told_apart(rooms: Rooms) -> None:
    rooms.book.then = lambda *_: Outcome(
        messages=(Message(TENDERS, SAID), Message(BUILDER, SAID), Message("nobody", SAID))
    )
    await rooms.engine.happen("dome", BACK)
    assert [text.split()[1] for text in await texts(rooms)] == ["ana", "ben", "clo"]


async def test_an_oven_that_is_not_there_is_told(rooms: Rooms) -> None:
    with pytest.raises(NoSuchOvenError):
        await rooms.engine.happen("nowhere", BACK)


@pytest.mark.parametrize(
    ("urgency", "hour"),
    [(Urgency.DANGER, 22), (Urgency.FIRE, 22), (Urgency.ANSWER, 22), (Urgency.CALM, 6)],
)
async def test_only_calm_messages_wait_for_the_end_of_quiet_hours(
    rooms: Rooms, urgency: Urgency, hour: int
) -> None:
    # 22:30 in UTC is 23:30 in London in May; seven there is six in UTC.
    rooms.clock.move_to(NOON.replace(hour=22, minute=30))
    rooms.book.then = lambda *_: Outcome(messages=(Message("ana", SAID, urgency),))
    await rooms.engine.happen("dome", BACK)
    letter = await rooms.letter("id1")
    assert letter.not_before.hour == hour
    assert letter.parcel.text.endswith(f"{letter.not_before:%H:%M}")


async def test_who_blocked_us_is_not_written_to(rooms: Rooms) -> None:
    async with rooms.store.write() as unit:
        await unit.people.put(ANA.model_copy(update={"blocked": True}))
        await unit.commit()
    rooms.book.then = lambda *_: Outcome((entry(),), (Message("ana", SAID),))
    await rooms.engine.happen("dome", BACK)
    assert (await rooms.letter("id1")).state is OutboxState.CANCELLED


async def test_late_alarms_of_one_oven_end_in_one_letter(rooms: Rooms) -> None:
    names = (AlarmName.NUDGE, AlarmName.REPEAT, AlarmName.SILENCE)
    async with rooms.store.write() as unit:
        for n, name in enumerate(names):
            await unit.alarms.set("dome", Alarm(name, NOON - (60 - n) * MINUTE))
        await unit.commit()
    rooms.book.then = lambda *_: Outcome(messages=(Message("ana", SAID, replaces="nudge"),))
    assert await rooms.engine.run_due() == 3
    seen = [(h.name, h.due) for h, _ in rooms.book.seen if isinstance(h, Came)]
    assert seen == [(name, NOON - (60 - n) * MINUTE) for n, name in enumerate(names)]
    states = [(await rooms.letter(f"id{n}")).state for n in (1, 2, 3)]
    assert states == [OutboxState.CANCELLED, OutboxState.CANCELLED, OutboxState.TODO]
    assert await rooms.engine.run_due() == 0


async def test_an_alarm_that_an_earlier_one_dropped_does_not_come(rooms: Rooms) -> None:
    async with rooms.store.write() as unit:
        await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON - MINUTE))
        await unit.alarms.set("dome", Alarm(AlarmName.REPEAT, NOON))
        await unit.commit()

    def then(record: Tally, happening: Happening, now: datetime) -> Outcome:
        assert isinstance(happening, Came)
        if happening.name is AlarmName.NUDGE:
            return Outcome((entry(),), drop_alarms=(AlarmName.REPEAT,))
        return Outcome((entry(),), (Message("ana", SAID),))

    rooms.book.then = then
    await rooms.engine.run_due()
    assert await texts(rooms) == []


async def test_one_oven_that_fails_does_not_stop_the_others(rooms: Rooms) -> None:
    async with rooms.store.write() as unit:
        await unit.alarms.set("barrel", Alarm(AlarmName.NUDGE, NOON))
        await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON))
        await unit.commit()
    calls: list[Happening] = []

    def then(record: Tally, happening: Happening, now: datetime) -> Outcome:
        calls.append(happening)
        if len(calls) == 1:
            raise ZeroDivisionError
        return Outcome((entry(),))

    rooms.book.then = then
    await rooms.engine.run_due()
    assert (await rooms.engine.record("dome")).entries == (entry(),)
    assert await rooms.engine.next_wake_up() == NOON + MINUTE
    rooms.clock.move_to(NOON + MINUTE)
    await rooms.engine.run_due()
    assert (await rooms.engine.record("barrel")).entries == (entry(),)


async def nudges(rooms: Rooms, *ovens: str) -> None:
    async with rooms.store.write() as unit:
        for oven in ovens:
            await unit.alarms.set(oven, Alarm(AlarmName.NUDGE, NOON))
        await unit.commit()


async def journals(rooms: Rooms, *ovens: str) -> list[int]:
    return [len((await rooms.engine.record(oven)).entries) for oven in ovens]


async def test_alarms_of_different_ovens_that_are_due_at_once_walk_together(rooms: Rooms) -> None:
    await nudges(rooms, "barrel", "dome")
    rooms.book.then = lambda *_: Outcome((entry(),), (Message(TENDERS, SAID, replaces="nudge"),))
    commits: list[Step] = []
    rooms.engine._store = MortalStore(rooms.store, commits.append)
    assert await rooms.engine.run_some() == 2
    assert commits == [Step.BEFORE_COMMIT, Step.AFTER_COMMIT]
    # The one nudge to Ben took the place of the other, as if they had come one by one.
    assert [text.split()[1] for text in await texts(rooms)] == ["ana", "ben"]


async def test_one_oven_whose_letter_cannot_be_written_does_not_stop_the_others(
    rooms: Rooms,
) -> None:
    await nudges(rooms, "barrel", "dome")

    def then(record: Tally, happening: Happening, now: datetime) -> Outcome:
        return Outcome((entry(),), (Message(TENDERS, SAID),))

    class Stumbling(PlainVoice):
        def render(self, meaning: Meaning, reader: Person, zone: str, now: datetime) -> Parcel:
            if reader.id == "ana":
                raise ZeroDivisionError
            return super().render(meaning, reader, zone, now)

    rooms.book.then = then
    rooms.engine._poster._voice = Stumbling()
    await rooms.engine.run_due()
    assert await journals(rooms, "barrel", "dome") == [1, 0]
    assert await rooms.engine.next_wake_up() == NOON + MINUTE


async def test_what_takes_long_to_advance_is_written_alone(
    rooms: Rooms, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("scheduling.waking.engine.TOGETHER", -MINUTE)
    await nudges(rooms, "barrel", "dome")
    rooms.book.then = lambda *_: Outcome((entry(),))
    assert await rooms.engine.run_some() == 1
    assert await journals(rooms, "barrel", "dome") == [1, 0]
    assert await rooms.engine.run_due() == 1
    assert await journals(rooms, "barrel", "dome") == [1, 1]


async def test_an_oven_that_was_written_to_meanwhile_comes_again_and_the_others_do_not(
    rooms: Rooms,
) -> None:
    await nudges(rooms, "barrel", "dome")
    other = Rooms(rooms.store, "other")
    other.book.then = lambda *_: Outcome((entry(),))
    rooms.book.then = lambda *_: Outcome((entry(),), (Message(TENDERS, SAID),))
    await rooms.engine.record("dome")
    write = rooms.engine._write

    async def late(turns: Any, now: datetime) -> Any:
        if not other.book.seen:
            await other.engine.happen("dome", BACK)
        return await write(turns, now)

    rooms.engine._write = late  # type: ignore[method-assign]
    assert await rooms.engine.run_due() == 2
    assert await journals(rooms, "barrel", "dome") == [1, 2]
    assert [text.split()[1] for text in await texts(rooms)] == ["ana", "ben"]


async def test_two_engines_on_one_store_lose_nothing_and_double_nothing(rooms: Rooms) -> None:
    other = Rooms(rooms.store, "other")
    for one in (rooms, other):
        one.book.then = lambda record, *_: Outcome((entry(len(record.entries)),))
    await asyncio.gather(
        *(one.engine.happen("dome", BACK) for _ in range(10) for one in (rooms, other))
    )
    record = await rooms.engine.record("dome")
    assert record.entries == tuple(entry(n) for n in range(20))


async def test_two_engines_never_act_on_one_alarm_twice(rooms: Rooms) -> None:
    other = Rooms(rooms.store, "other")
    async with rooms.store.write() as unit:
        await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON))
        await unit.commit()
    for one in (rooms, other):
        one.book.then = lambda *_: Outcome(messages=(Message("ana", SAID),))
    await asyncio.gather(rooms.engine.run_due(), other.engine.run_due())
    async with rooms.store.write() as unit:
        first = await unit.outbox.claim(NOON, NOON, 9)
        await unit.outbox.settle(first[0].id, OutboxState.SENT, NOON, ref="1")
        assert await unit.outbox.claim(NOON, NOON, 9) == ()


async def test_the_night_the_clocks_go_back_has_its_hour_in_utc(rooms: Rooms) -> None:
    # London, 25 October 2026: 02:00 summer time becomes 01:00. Seven is then seven in UTC.
    rooms.clock.move_to(datetime(2026, 10, 24, 22, 30, tzinfo=UTC))
    rooms.book.then = lambda *_: Outcome(messages=(Message("ana", SAID, Urgency.CALM),))
    await rooms.engine.happen("dome", BACK)
    assert (await rooms.letter("id1")).not_before == datetime(2026, 10, 25, 7, tzinfo=UTC)


async def test_many_ovens_are_walked_some_at_a_time_and_a_fault_of_one_is_no_others(
    rooms: Rooms,
) -> None:
    names = [f"o{number:03}" for number in range(120)]
    async with rooms.store.write() as unit:
        for name in names:
            await unit.ovens.put(OvenCard(id=name, name=name, owners=("ana",)))
        await unit.commit()

    def then(record: Tally, happening: Happening, now: datetime) -> Outcome:
        if happening is not BACK:
            raise ValueError("a fault")
        return Outcome((entry(),))

    rooms.book.then = then
    each: dict[str, Happening] = dict.fromkeys([*names, "nowhere"], BACK)
    fates = await rooms.engine.happen_each(each | {"o007": Delivery("ben", True)})
    assert set(fates) == {*names, "nowhere"}
    assert isinstance(fates["o007"], ValueError)
    assert isinstance(fates["nowhere"], NoSuchOvenError)
    done = [name for name in names if isinstance(fates[name], Outcome)]
    assert len(done) == 119
    for name in done:
        assert len((await rooms.engine.record(name)).entries) == 1
