"""What a unit of work and all that is in it promise, whatever the store."""

import asyncio
from datetime import date, timedelta, timezone

import pytest

from scheduling.alarm import Alarm, AlarmName
from scheduling.ports import Conflict, DueAlarm, OpenedOven, Pages, PromisedDay, Store
from storage.faults import RuleBroken
from tests.contract.samples import ANA, BEN, CLO, MINUTE, NOON, OTHER, OVEN, entry, row, settle_in


async def test_what_is_not_committed_is_gone(store: Store) -> None:
    async with store.write() as unit:
        await unit.people.put(ANA)
    async with store.read() as unit:
        assert await unit.people.get("ana") is None


async def test_a_unit_that_fails_leaves_nothing_behind(store: Store) -> None:
    await settle_in(store)

    async def fail() -> None:
        async with store.write() as unit:
            await unit.ovens.append("dome", 0, [entry()])
            await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        await fail()
    async with store.read() as unit:
        assert await unit.ovens.journal("dome") == ()
        assert await unit.alarms.next_due() is None


async def test_a_cancelled_unit_gives_everything_back(store: Store) -> None:
    await settle_in(store)
    inside = asyncio.Event()

    async def linger() -> None:
        async with store.write() as unit:
            await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON))
            inside.set()
            await asyncio.Event().wait()

    task = asyncio.create_task(linger())
    await inside.wait()
    task.cancel()
    with pytest.raises(asyncio.CancelledError):
        await task
    async with store.write() as unit:
        assert await unit.alarms.next_due() is None
        await unit.commit()


async def test_what_a_unit_wrote_it_reads_before_the_commit(store: Store) -> None:
    await settle_in(store)
    async with store.write() as unit:
        await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON))
        assert await unit.alarms.of("dome") == {AlarmName.NUDGE: NOON}


async def test_people_are_found_by_id_by_address_and_by_team(store: Store) -> None:
    await settle_in(store)
    async with store.read() as unit:
        assert await unit.people.get("ana") == ANA
        assert await unit.people.at("replay", "ben") == BEN
        assert await unit.people.at("telegram", "ben") is None
        assert await unit.people.team("hearths") == (CLO,)


async def test_a_person_is_replaced_by_id(store: Store) -> None:
    await settle_in(store)
    blocked = ANA.model_copy(update={"blocked": True, "quiet_from": None})
    async with store.write() as unit:
        await unit.people.put(blocked)
        await unit.commit()
    async with store.read() as unit:
        assert await unit.people.get("ana") == blocked


async def test_two_people_are_not_reached_in_one_chat(store: Store) -> None:
    await settle_in(store)
    with pytest.raises(RuleBroken):
        async with store.write() as unit:
            await unit.people.put(BEN.model_copy(update={"id": "imp"}))
    async with store.read() as unit:
        assert await unit.people.get("imp") is None


async def test_ovens_are_found_by_whose_they_are(store: Store) -> None:
    await settle_in(store)
    async with store.read() as unit:
        assert await unit.ovens.get("dome") == OVEN
        assert await unit.ovens.of_person("ben") == (OTHER, OVEN)
        assert await unit.ovens.of_person("ana") == (OVEN,)
        assert await unit.ovens.of_person("clo") == ()
        assert await unit.ovens.of_builder("hearths") == (OVEN,)


async def test_ovens_are_found_by_how_they_stand(store: Store) -> None:
    await settle_in(store)
    async with store.write() as unit:
        await unit.ovens.put(OVEN.model_copy(update={"state": "curing"}))
        await unit.commit()
    async with store.read() as unit:
        found = await unit.ovens.in_states(("curing", "lit"))
        assert [card.id for card in found] == [OVEN.id]
        assert await unit.ovens.in_states(()) == ()


async def test_a_card_is_replaced_and_its_journal_stays(store: Store) -> None:
    await settle_in(store)
    changed = OVEN.model_copy(update={"owners": ("ben",), "needs": "silent", "needs_since": NOON})
    async with store.write() as unit:
        await unit.ovens.append("dome", 0, [entry()])
        await unit.ovens.put(changed)
        await unit.commit()
    async with store.read() as unit:
        assert await unit.ovens.get("dome") == changed
        assert len(await unit.ovens.journal("dome")) == 1
        assert await unit.ovens.of_person("ana") == ()


async def test_a_journal_counts_from_one_without_gaps(store: Store) -> None:
    await settle_in(store)
    async with store.write() as unit:
        assert await unit.ovens.append("dome", 0, [entry(0), entry(1)]) == 2
        assert await unit.ovens.append("dome", 2, [entry(2)]) == 3
        await unit.commit()
    async with store.read() as unit:
        assert [j.seq for j in await unit.ovens.journal("dome")] == [1, 2, 3]
        assert [j.entry for j in await unit.ovens.journal("dome", 2)] == [entry(2)]
        assert await unit.ovens.journal("barrel") == ()


@pytest.mark.parametrize("new", [0, 1])
async def test_who_read_an_older_journal_is_told_of_the_conflict(store: Store, new: int) -> None:
    await settle_in(store)
    async with store.write() as unit:
        await unit.ovens.append("dome", 0, [entry()])
        await unit.commit()
    with pytest.raises(Conflict):
        async with store.write() as unit:
            await unit.ovens.append("dome", 0, [entry()] * new)


async def test_of_two_who_append_at_once_one_is_told(store: Store) -> None:
    await settle_in(store)

    async def append() -> bool:
        try:
            async with store.write() as unit:
                await unit.ovens.append("dome", 0, [entry()])
                await unit.commit()
        except Conflict:
            return False
        return True

    assert sorted(await asyncio.gather(*(append() for _ in range(5)))) == [False] * 4 + [True]


async def test_nothing_is_appended_to_an_oven_that_is_not_there(store: Store) -> None:
    with pytest.raises(Conflict):
        async with store.write() as unit:
            await unit.ovens.append("nowhere", 0, [entry()])


async def test_one_belief_an_oven_is_kept(store: Store) -> None:
    await settle_in(store)
    async with store.write() as unit:
        assert await unit.ovens.belief("dome") is None
        await unit.ovens.keep_belief("dome", 1, b"\x00old")
        await unit.ovens.keep_belief("dome", 2, b"\xff\x00new")
        await unit.commit()
    async with store.read() as unit:
        assert await unit.ovens.belief("dome") == (2, b"\xff\x00new")


async def test_promised_days_are_replaced_as_a_whole(store: Store) -> None:
    await settle_in(store)
    days = [PromisedDay(firing=n, day=date(2026, 5, 20 - n), told_at=NOON) for n in (1, 2)]
    async with store.write() as unit:
        await unit.promises.replace("dome", days)
        assert await unit.promises.of("dome") == tuple(days)
        await unit.promises.replace("dome", days[1:])
        await unit.commit()
    async with store.read() as unit:
        assert await unit.promises.of("dome") == tuple(days[1:])


async def test_an_alarm_of_one_name_is_moved(store: Store) -> None:
    await settle_in(store)
    async with store.write() as unit:
        await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON))
        await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON + MINUTE))
        await unit.commit()
    async with store.read() as unit:
        assert await unit.alarms.of("dome") == {AlarmName.NUDGE: NOON + MINUTE}
        assert await unit.alarms.due(NOON) == ()


async def test_due_alarms_come_earliest_first_ties_by_oven_and_name(store: Store) -> None:
    await settle_in(store)
    async with store.write() as unit:
        await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON))
        await unit.alarms.set("dome", Alarm(AlarmName.DAYS, NOON))
        await unit.alarms.set("barrel", Alarm(AlarmName.SILENCE, NOON))
        await unit.alarms.set("barrel", Alarm(AlarmName.IDLE, NOON - MINUTE))
        await unit.alarms.set("barrel", Alarm(AlarmName.EMBERS, NOON + MINUTE))
        await unit.commit()
    async with store.read() as unit:
        due = [(d.oven, d.alarm.name) for d in await unit.alarms.due(NOON)]
        assert due == [
            ("barrel", AlarmName.IDLE),
            ("barrel", AlarmName.SILENCE),
            ("dome", AlarmName.DAYS),
            ("dome", AlarmName.NUDGE),
        ]
        assert len(await unit.alarms.due(NOON, 1)) == 1
        assert await unit.alarms.next_due() == NOON - MINUTE


async def test_an_alarm_is_taken_once_and_not_after_it_moved(store: Store) -> None:
    await settle_in(store)
    seen, moved = Alarm(AlarmName.NUDGE, NOON), Alarm(AlarmName.NUDGE, NOON + MINUTE)
    async with store.write() as unit:
        await unit.alarms.set("dome", seen)
        await unit.alarms.set("dome", moved)
        assert not await unit.alarms.take("dome", seen)
        assert await unit.alarms.take("dome", moved)
        assert not await unit.alarms.take("dome", moved)
        await unit.alarms.drop("dome", AlarmName.NUDGE)


async def test_instants_come_back_as_they_were_in_utc(store: Store) -> None:
    await settle_in(store)
    east = timezone(timedelta(hours=9, minutes=30))
    due = (NOON + timedelta(microseconds=1)).astimezone(east)
    async with store.write() as unit:
        await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, due))
        await unit.commit()
    async with store.read() as unit:
        found = await unit.alarms.next_due()
        assert found == due
        assert await unit.alarms.due(NOON) == ()


async def test_what_came_in_twice_is_stored_once(store: Store) -> None:
    async with store.write() as unit:
        assert await unit.inbox.store(row("1"))
        assert not await unit.inbox.store(row("1", chat="ben"))
        await unit.commit()
    async with store.read() as unit:
        assert await unit.inbox.waiting("replay") == (row("1"),)
        assert await unit.inbox.waiting("telegram") == ()


async def test_rows_wait_in_the_order_of_their_coming(store: Store) -> None:
    async with store.write() as unit:
        for key in ("9", "10", "2"):
            await unit.inbox.store(row(key))
        await unit.commit()
    async with store.read() as unit:
        assert [r.key for r in await unit.inbox.waiting("replay")] == ["9", "10", "2"]
        assert [r.key for r in await unit.inbox.waiting("replay", 2)] == ["9", "10"]


async def test_a_row_is_done_once(store: Store) -> None:
    async with store.write() as unit:
        await unit.inbox.store(row("1"))
        assert await unit.inbox.done("replay", "1")
        assert not await unit.inbox.done("replay", "1")
        assert not await unit.inbox.done("replay", "never stored")
        await unit.inbox.failed("replay", "1", "too late", set_aside=False)
        assert await unit.inbox.waiting("replay") == ()


async def test_a_row_that_failed_waits_on_until_it_is_set_aside(store: Store) -> None:
    async with store.write() as unit:
        await unit.inbox.store(row("1"))
        await unit.inbox.failed("replay", "1", "no luck", set_aside=False)
        assert [r.attempts for r in await unit.inbox.waiting("replay")] == [1]
        await unit.inbox.failed("replay", "1", "no luck", set_aside=True)
        assert await unit.inbox.waiting("replay") == ()
        assert not await unit.inbox.done("replay", "1")


async def test_what_was_set_aside_is_listed_and_counted_and_what_is_done_stays_done(
    store: Store,
) -> None:
    async with store.write() as unit:
        for key in ("1", "2", "3"):
            await unit.inbox.store(row(key))
        assert await unit.inbox.failed("replay", "1", "no luck", set_aside=True)
        assert await unit.inbox.failed("replay", "3", "nor here", set_aside=True)
        assert await unit.inbox.done("replay", "2")
        assert not await unit.inbox.failed("replay", "2", "too late", set_aside=True)
        assert not await unit.inbox.failed("replay", "1", "twice", set_aside=True)
        await unit.commit()
    async with store.read() as unit:
        listed = [(one.row.key, one.why) for one in await unit.inbox.set_aside()]
        assert listed == [("3", "nor here"), ("1", "no luck")]
        assert await unit.inbox.count_set_aside() == 2


async def test_heads_of_what_waits_are_read_on_from_where_one_was(store: Store) -> None:
    async with store.write() as unit:
        for key, chat in (("1", "ana"), ("2", "ben"), ("3", "ana"), ("4", "ana")):
            await unit.inbox.store(row(key, chat=chat))
        await unit.inbox.done("replay", "3")
        await unit.commit()
    async with store.read() as unit:
        heads = await unit.inbox.heads("replay")
        assert [(one.key, one.chat) for one in heads] == [("1", "ana"), ("2", "ben"), ("4", "ana")]
        assert await unit.inbox.heads("replay", after=heads[0].seq, limit=1) == heads[1:2]
        assert await unit.inbox.heads("replay", after=heads[-1].seq) == ()
        assert await unit.inbox.heads("telegram") == ()
        assert await unit.inbox.get("replay", "1") == row("1")
        assert await unit.inbox.get("replay", "3") is None


async def test_who_tends_an_oven_or_is_of_a_team_belongs_here(store: Store) -> None:
    await settle_in(store)
    async with store.write() as unit:
        eve = ANA.model_copy(update={"id": "eve", "address": "eve", "builder": None})
        await unit.people.put(eve)
        await unit.commit()
    async with store.read() as unit:
        people = (await unit.people.several(["ana", "ben", "eve"])).values()
        addresses = [one.address for one in people]
        belonging = await unit.people.belonging("replay", [*addresses, "nobody"])
        assert ANA.address in belonging
        assert "eve" not in belonging
        assert "nobody" not in belonging
        assert await unit.people.belonging("telegram", addresses) == frozenset()


async def test_several_ovens_are_opened_each_behind_what_is_known_of_it(store: Store) -> None:
    await settle_in(store)
    async with store.write() as unit:
        await unit.ovens.append("dome", 0, [entry(0), entry(1)])
        await unit.ovens.append("barrel", 0, [entry(2)])
        await unit.ovens.keep_belief("dome", 2, b"\x00dome")
        await unit.ovens.keep_belief("barrel", 1, b"\x00barrel")
        await unit.commit()
    async with store.read() as unit:
        opened = await unit.ovens.open({"dome": 0, "barrel": 1, "nowhere": 0})
        assert opened == {
            "dome": OpenedOven(OVEN, (entry(0), entry(1)), (2, b"\x00dome")),
            "barrel": OpenedOven(OTHER, (), None),
        }
        assert (await unit.ovens.open({"dome": 1}))["dome"].newer == (entry(1),)
        assert await unit.ovens.open({}) == {}
        assert await unit.ovens.several(["barrel", "nowhere"]) == {"barrel": OTHER}


async def test_several_journals_grow_at_once_or_none_does(store: Store) -> None:
    await settle_in(store)
    async with store.write() as unit:
        await unit.ovens.append_each(
            [Pages("dome", 0, [entry(0), entry(1)]), Pages("barrel", 0, [])]
        )
        assert await unit.ovens.ends(["dome", "barrel", "nowhere"]) == {"dome": 2, "barrel": 0}
        await unit.commit()
    grown = [Pages("barrel", 0, [entry()]), Pages("dome", 1, [entry()])]
    with pytest.raises(Conflict):
        async with store.write() as unit:
            await unit.ovens.append_each(grown)
    async with store.read() as unit:
        assert await unit.ovens.ends(["dome", "barrel"]) == {"dome": 2, "barrel": 0}
        assert await unit.ovens.journal("barrel") == ()


async def test_several_people_are_found_by_id(store: Store) -> None:
    await settle_in(store)
    async with store.read() as unit:
        assert await unit.people.several(["ben", "ana", "imp"]) == {"ana": ANA, "ben": BEN}
        assert await unit.people.several([]) == {}


async def test_of_several_alarms_those_that_stand_are_taken(store: Store) -> None:
    await settle_in(store)
    nudge, moved = Alarm(AlarmName.NUDGE, NOON), Alarm(AlarmName.NUDGE, NOON + MINUTE)
    stays = Alarm(AlarmName.DAYS, NOON)
    async with store.write() as unit:
        await unit.alarms.change([], [DueAlarm("dome", nudge), DueAlarm("dome", stays)])
        await unit.alarms.change([("dome", AlarmName.EMBERS)], [DueAlarm("barrel", moved)])
        asked = [DueAlarm("dome", nudge), DueAlarm("barrel", nudge)]
        assert await unit.alarms.take_each(asked) == {DueAlarm("dome", nudge)}
        assert await unit.alarms.take_each([]) == frozenset()
        assert await unit.alarms.of("dome") == {AlarmName.DAYS: NOON}
        await unit.alarms.change([("dome", AlarmName.DAYS)], [])
        assert await unit.alarms.of("dome") == {}
        assert await unit.alarms.of("barrel") == {AlarmName.NUDGE: NOON + MINUTE}
