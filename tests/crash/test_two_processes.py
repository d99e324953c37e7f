"""Two processes send from one database: every letter goes out, and none from both."""

from pathlib import Path

import pytest

from scheduling.ports import OutboxState, Person
from storage.address import sqlite_url
from storage.migrating import migrate
from storage.store import SqlStore, make_engine
from tests.contract.samples import letter
from tests.crash.processes import end, start
from tests.crash.victim import deliver_all
from tests.postgres import new_database

PEOPLE, EACH = 25, 4


async def fill(url: str) -> list[str]:
    await migrate(url)
    store = SqlStore(make_engine(url))
    ids = []
    async with store.write() as unit:
        for number in range(PEOPLE):
            person = Person(id=f"p{number}", channel="replay", address=f"{number}", name="")
            await unit.people.put(person)
            for index in range(EACH):
                ids.append(f"{number}-{index}")
                await unit.outbox.post(letter(ids[-1], person.id, oven=None))
        await unit.commit()
    await store.close()
    return ids


async def states(url: str, ids: list[str]) -> set[OutboxState]:
    store = SqlStore(make_engine(url))
    async with store.read() as unit:
        found = [await unit.outbox.get(one) for one in ids]
    await store.close()
    return {one.state for one in found if one is not None}


@pytest.mark.parametrize("kind", ["sqlite", "postgres"])
async def test_two_processes_never_both_send_a_letter(
    kind: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    url = sqlite_url(tmp_path / "house.sqlite")
    if kind == "postgres":
        url = await new_database(request.getfixturevalue("postgres"), "two_senders")
    ids = await fill(url)
    logs = [tmp_path / "one", tmp_path / "other"]
    senders = [start(deliver_all, url, log) for log in logs]
    assert [end(sender) for sender in senders] == [0, 0]
    sent = [log.read_text().split() for log in logs]
    assert sorted(sent[0] + sent[1]) == sorted(ids)
    assert all(sent), "one of them had nothing to do, so nothing was tried"
    assert await states(url, ids) == {OutboxState.SENT}
