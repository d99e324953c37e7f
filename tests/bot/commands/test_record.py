"""``stokewatch record``: files for whoever runs the installation."""

import asyncio
import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
from pypdf import PdfReader
from typer.testing import CliRunner, Result

from bot.__main__ import app_for
from scheduling.journal import CrackSeen
from scheduling.ports import OvenCard, Person
from scheduling.remark import CrackSize
from storage.store import open_store
from tests.bot.papers.five_fires import NAMES, OWNER, journal, photo
from tests.botapi.server import TOKEN, BotApi

app, RUNNER = app_for(["record"]), CliRunner()
NOW = datetime(2026, 6, 7, 9, tzinfo=UTC)


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    url = f"sqlite+aiosqlite:///{tmp_path}/house.sqlite"
    monkeypatch.setenv("STOKEWATCH_DATABASE_URL", url)
    monkeypatch.chdir(tmp_path)
    asyncio.run(_furnish(url))
    return tmp_path


async def _furnish(url: str) -> None:
    store = await open_store(url)
    async with store.write() as unit:
        owner = Person(id=OWNER, channel="replay", address="zoe", name=NAMES[OWNER])
        await unit.people.put(owner)
        for key, name in (("o1", "Garden oven"), ("o2", "Twin"), ("o3", "Twin")):
            await unit.ovens.put(OvenCard(id=key, name=name, owners=(OWNER,), state="done"))
        await unit.ovens.append("o1", 0, journal())
        await unit.commit()
    await store.close()


def run(*arguments: str) -> Result:
    return RUNNER.invoke(app, ["record", *arguments])


def test_without_an_oven_they_are_listed(kept: Path) -> None:
    told = run()
    assert told.exit_code == 0
    assert told.output.splitlines() == ["o1  Garden oven, done", "o2  Twin, done", "o3  Twin, done"]


def test_a_record_is_written_as_paper_table_and_data(kept: Path) -> None:
    told = run("garden oven", "--out", "papers", "--pdf", "--csv", "--json")
    assert told.exit_code == 0, told.output
    names = [Path(line).name for line in told.output.splitlines()]
    assert names == [f"record-garden-oven-of-zoë.{kind}" for kind in ("pdf", "csv", "json")]
    pdf, csv, data = (kept / line for line in told.output.splitlines())
    assert pdf.read_bytes().startswith(b"%PDF")
    assert "crown_c" in csv.read_text("utf-8-sig")
    assert json.loads(data.read_text("utf-8"))["journal_entries"] == len(journal())


def test_a_name_that_two_ovens_have_asks_for_the_id(kept: Path) -> None:
    told = run("Twin")
    assert told.exit_code == 2
    assert "o2" in told.output
    assert "o3" in told.output


def test_an_oven_that_is_not_there_or_has_no_journal_is_refused(kept: Path) -> None:
    assert "There is no oven 'nowhere'" in run("nowhere").output
    assert "no journal yet" in run("o2").output


async def test_photos_come_from_telegram_where_there_is_a_token(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    url = f"sqlite+aiosqlite:///{tmp_path}/house.sqlite"
    await _furnish(url)
    seen = CrackSeen(at=NOW, by=OWNER, size=CrackSize.HAIRLINE, photo="telegram:f1")
    store = await open_store(url)
    async with store.write() as unit:
        await unit.ovens.append("o1", len(journal()), (seen,))
        await unit.commit()
    await store.close()
    async with BotApi() as api:
        api.files["f1"] = photo()
        monkeypatch.setenv("STOKEWATCH_DATABASE_URL", url)
        monkeypatch.setenv("STOKEWATCH_TOKEN", TOKEN)
        monkeypatch.setenv("STOKEWATCH_TELEGRAM_URL", api.url)
        monkeypatch.chdir(tmp_path)
        told = await asyncio.to_thread(run, "o1")
    assert told.exit_code == 0, told.output
    pages = PdfReader(tmp_path / told.output.strip()).pages
    assert sum(len(page.images) for page in pages) == 1
