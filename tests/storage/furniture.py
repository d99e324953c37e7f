"""A database with a row in every table."""

from datetime import date

from scheduling.alarm import Alarm, AlarmName
from scheduling.choice import Ordering, OrderName
from scheduling.ports import Erasure, InHand, PromisedDay
from storage.store import open_store
from tests.contract.samples import MINUTE, NOON, entry, row, settle_in, with_button
from tests.contract.test_builders import invitation, team_entry, way


async def furnish(url: str) -> None:
    store = await open_store(url)
    await settle_in(store)
    async with store.write() as unit:
        await unit.ovens.append("dome", 0, [entry(0), entry(1)])
        await unit.ovens.keep_belief("dome", 2, bytes(range(256)))
        day = PromisedDay(firing=1, day=date(2026, 5, 20), told_at=NOON)
        await unit.promises.replace("dome", [day])
        await unit.alarms.set("dome", Alarm(AlarmName.NUDGE, NOON + MINUTE))
        await unit.inbox.store(row())
        await unit.outbox.post(with_button("l1", "k1"))
        await unit.ways.put(way(1))
        await unit.builders.note(team_entry())
        await unit.invitations.put(invitation())
        await unit.erasures.put(Erasure(person="gone", asked_at=NOON))
        hold = Ordering(name=OrderName.HOLD)
        await unit.hands.put(InHand(person="clo", oven="dome", opened_at=NOON, order=hold))
        await unit.commit()
    await store.close()
