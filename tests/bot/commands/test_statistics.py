"""``stokewatch statistics``: a table, or data."""

import asyncio
import json
from datetime import timedelta
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bot.__main__ import app_for
from bot.papers.tallying import Tallying
from scheduling.journal import CrackSeen
from scheduling.ports import Builder, OvenCard, Store
from scheduling.remark import CrackSize
from storage.memory import MemoryStore
from storage.store import open_store
from tests.bot.papers.five_fires import journal

app, RUNNER = app_for(["statistics"]), CliRunner()


async def _furnish(store: Store) -> None:
    async with store.write() as unit:
        for team in ("north", "south"):
            await unit.builders.put(Builder(id=team, name=team))
        for key, team_of in (("o1", "north"), ("o2", "south"), ("o3", None)):
            await unit.ovens.put(OvenCard(id=key, name=key, builder=team_of, state="done"))
            await unit.ovens.append(key, 0, journal())
        await unit.commit()


async def _furnish_at(url: str) -> None:
    store = await open_store(url)
    await _furnish(store)
    await store.close()


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    url = f"sqlite+aiosqlite:///{tmp_path}/house.sqlite"
    monkeypatch.setenv("STOKEWATCH_DATABASE_URL", url)
    monkeypatch.chdir(tmp_path)
    asyncio.run(_furnish_at(url))


@pytest.mark.usefixtures("kept")
def test_the_table_says_what_is_too_few_to_tell() -> None:
    told = RUNNER.invoke(app, ["statistics"])
    assert told.exit_code == 0, told.output
    lines = {line[:40].strip(): line[40:] for line in told.output.splitlines()}
    assert lines["Ovens"] == "3, 3 done"
    assert lines["Fires to finish"] == "5 in three ovens, too few to tell"
    assert lines["Cracks, 50 to under 100 °C an hour"] == "6 of 15, too few to tell, 3 of them open"
    assert "Wilson" in told.output


@pytest.mark.usefixtures("kept")
def test_data_carries_counts_intervals_and_whether_they_tell() -> None:
    told = json.loads(RUNNER.invoke(app, ["statistics", "--json"]).output)
    assert (told["ovens"], told["fires"]) == (3, 15)
    cracked = told["bands"][1]["cracked"]
    assert (cracked["count"], cracked["of"], cracked["tells"]) == (6, 15, False)
    assert 0.19 < cracked["low"] < 0.4 < cracked["high"] < 0.65


async def test_a_builder_counts_only_their_own_ovens() -> None:
    store = MemoryStore()
    await _furnish(store)
    tallying = Tallying(store)
    assert (await tallying.of("north")).ovens == 1
    assert (await tallying.of("nobody")).ovens == 0


async def test_a_copy_that_a_builder_kept_is_counted_for_them_alone() -> None:
    store = MemoryStore()
    await _furnish(store)
    async with store.write() as unit:
        await unit.ovens.put(OvenCard(id="copy", name="", builder="north", state="left"))
        await unit.ovens.append("copy", 0, journal())
        await unit.commit()
    tallying = Tallying(store)
    assert (await tallying.of()).ovens == 3
    assert (await tallying.of("north")).ovens == 2


async def test_an_oven_is_counted_anew_once_its_journal_has_grown() -> None:
    store = MemoryStore()
    await _furnish(store)
    tallying = Tallying(store)
    before = await tallying.of("north")
    assert await tallying.of("north") == before
    async with store.write() as unit:
        crack = CrackSeen(
            at=journal()[-1].at + timedelta(days=9), by="p-owner", size=CrackSize.OPEN
        )
        await unit.ovens.append("o1", len(journal()), (crack,))
        await unit.commit()
    assert (await tallying.of("north")).between == before.between + 1
