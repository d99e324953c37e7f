"""``stokewatch aside``: what could not be worked on."""

import asyncio
from datetime import UTC, datetime
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bot.__main__ import app_for
from scheduling.ports import InboxRow
from storage.store import open_store

app, RUNNER = app_for(["aside"]), CliRunner()
NINE = datetime(2026, 5, 13, 9, tzinfo=UTC)
STEERS = "\x1b[2Jtop 152\u202e"


async def _furnish(url: str) -> None:
    store = await open_store(url)
    async with store.write() as unit:
        for key in ("1", "2"):
            await unit.inbox.store(InboxRow("telegram", key, "7", STEERS, NINE))
        await unit.inbox.failed("telegram", "2", f"ValueError('{STEERS}')", set_aside=True)
        await unit.commit()
    await store.close()


@pytest.fixture
def url(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    told = f"sqlite+aiosqlite:///{tmp_path}/house.sqlite"
    monkeypatch.setenv("STOKEWATCH_DATABASE_URL", told)
    monkeypatch.chdir(tmp_path)
    return told


def test_a_new_house_has_set_nothing_aside(url: str) -> None:
    told = RUNNER.invoke(app, ["aside"])
    assert told.exit_code == 0
    assert told.output == "Nothing was set aside.\n"


def test_it_is_listed_with_its_cause_and_its_words_only_when_asked_for(url: str) -> None:
    asyncio.run(_furnish(url))
    told = RUNNER.invoke(app, ["aside"]).output.splitlines()
    assert told[0] == "2026-05-13 09:00:00 UTC  telegram 2"
    assert "ValueError" in told[1]
    assert told[2] == "1 shown."
    assert "top 152" in RUNNER.invoke(app, ["aside", "--text"]).output.splitlines()[2]


def test_other_peoples_words_steer_no_terminal(url: str) -> None:
    asyncio.run(_furnish(url))
    told = RUNNER.invoke(app, ["aside", "--text"]).output
    assert told.replace("\n", "").isprintable()
    assert told.isascii()
