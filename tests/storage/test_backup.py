"""A backup holds everything, and is put back as a whole or not at all."""

import zipfile
from datetime import date
from pathlib import Path

import pytest

from storage.address import sqlite_url
from storage.backup import ABOUT, back_up, read_about, restore
from storage.faults import BackupFault
from storage.store import open_store
from tests.contract.samples import MINUTE, NOON, OVEN, entry, row, with_button
from tests.postgres import new_database
from tests.storage.furniture import furnish


async def check(url: str) -> None:
    store = await open_store(url)
    async with store.write() as unit:
        assert await unit.ovens.get("dome") == OVEN
        assert [j.entry for j in await unit.ovens.journal("dome")] == [entry(0), entry(1)]
        assert await unit.ovens.belief("dome") == (2, bytes(range(256)))
        assert (await unit.promises.of("dome"))[0].day == date(2026, 5, 20)
        assert await unit.alarms.next_due() == NOON + MINUTE
        assert await unit.inbox.waiting("replay") == (row(),)
        assert await unit.outbox.get("l1") == with_button("l1", "k1")
        assert await unit.outbox.pressed("k1") is not None
        # And it goes on: counters stand behind what was put back.
        assert await unit.ovens.append("dome", 2, [entry(2)]) == 3
        assert await unit.inbox.store(row("2"))
        await unit.outbox.post(with_button("l2", "k2"))
        await unit.commit()
    await store.close()


@pytest.mark.parametrize("source", ["sqlite", "postgres"])
@pytest.mark.parametrize("target", ["sqlite", "postgres"])
async def test_either_database_is_put_back_from_either(
    source: str, target: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    async def url(kind: str, name: str) -> str:
        if kind == "sqlite":
            return sqlite_url(tmp_path / f"{name}.sqlite")
        return await new_database(request.getfixturevalue("postgres"), name)

    old, new = await url(source, "old_house"), await url(target, "new_house")
    await furnish(old)
    about = await back_up(old, tmp_path / "kept.zip", NOON)
    assert about == read_about(tmp_path / "kept.zip")
    assert (about.rows["ovens"], about.rows["journal"], about.made_at) == (2, 2, NOON)
    await restore(new, tmp_path / "kept.zip")
    await check(new)


async def test_nothing_is_overwritten(tmp_path: Path) -> None:
    url, kept = sqlite_url(tmp_path / "house.sqlite"), tmp_path / "kept.zip"
    await furnish(url)
    await back_up(url, kept, NOON)
    before = kept.read_bytes()
    with pytest.raises(BackupFault, match="exists already"):
        await back_up(url, kept, NOON)
    assert kept.read_bytes() == before
    with pytest.raises(BackupFault, match="holds something already"):
        await restore(url, kept)
    await check(url)


async def test_a_backup_that_is_not_whole_changes_nothing(tmp_path: Path) -> None:
    url, kept, torn = (
        sqlite_url(tmp_path / "house.sqlite"),
        tmp_path / "kept.zip",
        tmp_path / "torn.zip",
    )
    await furnish(url)
    await back_up(url, kept, NOON)
    with zipfile.ZipFile(kept) as whole, zipfile.ZipFile(torn, "w") as part:
        for name in whole.namelist():
            told = whole.read(name)
            part.writestr(name, b"" if name == "alarms.jsonl" else told)
    new = sqlite_url(tmp_path / "new.sqlite")
    with pytest.raises(BackupFault, match="not whole"):
        await restore(new, torn)
    await restore(new, kept)
    await check(new)


@pytest.mark.parametrize("content", [b"", b"no zip at all", b"PK\x03\x04 cut short"])
async def test_what_is_no_backup_is_told_so(content: bytes, tmp_path: Path) -> None:
    (tmp_path / "odd.zip").write_bytes(content)
    with pytest.raises(BackupFault, match="no backup of stokewatch"):
        await restore(sqlite_url(tmp_path / "new.sqlite"), tmp_path / "odd.zip")
    assert not (tmp_path / "new.sqlite").exists()


async def test_a_backup_of_a_newer_shape_is_left_to_the_newer_program(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "new.zip", "w") as archive:
        archive.writestr(
            ABOUT, '{"shape": 2, "revision": "0009", "made_at": "2030-01-01T00:00Z", "rows": {}}'
        )
    with pytest.raises(BackupFault, match="newer stokewatch"):
        await restore(sqlite_url(tmp_path / "house.sqlite"), tmp_path / "new.zip")


async def test_without_a_database_there_is_nothing_to_back_up(tmp_path: Path) -> None:
    with pytest.raises(BackupFault, match="no database"):
        await back_up(sqlite_url(tmp_path / "none.sqlite"), tmp_path / "kept.zip", NOON)
    assert not (tmp_path / "kept.zip").exists()
