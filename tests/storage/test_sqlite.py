"""What SQLite is taught, and what is said when the disk does not let it write."""

import asyncio
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import text

from scheduling.ports import Conflict
from storage.address import sqlite_url
from storage.faults import CannotOpen, DiskFull, NewerSchema, NotOurs, ReadOnly
from storage.store import SqlStore, make_engine, open_store
from tests.contract.samples import entry, letter, settle_in


async def test_the_first_run_makes_the_file_and_its_folder(tmp_path: Path) -> None:
    path = tmp_path / "new" / "folder" / "house.sqlite"
    store = await open_store(sqlite_url(path))
    await settle_in(store)
    await store.close()
    assert path.exists()


@pytest.mark.parametrize("form", ["sqlite:///{}", "sqlite+aiosqlite:///{}"])
async def test_either_form_of_the_url_is_taken(form: str, tmp_path: Path) -> None:
    store = await open_store(form.format(tmp_path / "house.sqlite"))
    await store.close()
    assert (tmp_path / "house.sqlite").exists()


@pytest.mark.parametrize("url", ["mysql://host/name", "house.sqlite", "sqlite://", ""])
async def test_another_kind_of_address_is_answered_with_what_to_write(url: str) -> None:
    with pytest.raises(CannotOpen):
        await open_store(url)


async def test_every_connection_is_durable_and_minds_its_keys(tmp_path: Path) -> None:
    await (await open_store(sqlite_url(tmp_path / "house.sqlite"))).close()
    engine = make_engine(sqlite_url(tmp_path / "house.sqlite"))
    wanted = {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "busy_timeout": 15_000}
    async with engine.connect() as connection:
        for name, value in wanted.items():
            found = await connection.execute(text(f"pragma {name}"))
            assert found.scalar_one() == value, name
    await engine.dispose()


async def test_two_hundred_who_read_and_then_write_at_once_all_succeed(tmp_path: Path) -> None:
    url = sqlite_url(tmp_path / "house.sqlite")
    # Two stores stand for two processes: they share nothing but the file.
    stores = [await open_store(url), await open_store(url)]
    await settle_in(stores[0])

    async def one_more(store: SqlStore) -> int:
        async with store.write() as unit:
            seq = len(await unit.ovens.journal("dome"))
            await asyncio.sleep(0)
            last = await unit.ovens.append("dome", seq, [entry()])
            await unit.commit()
        return last

    last = await asyncio.gather(*(one_more(stores[n % 2]) for n in range(200)))
    assert sorted(last) == list(range(1, 201))
    for store in stores:
        assert store.connections_in_use() == 0
        await store.close()


async def test_a_reader_sees_one_moment_while_a_writer_goes_on(tmp_path: Path) -> None:
    store = await open_store(sqlite_url(tmp_path / "house.sqlite"))
    await settle_in(store)
    async with store.read() as reader:
        assert await reader.ovens.journal("dome") == ()
        async with store.write() as writer:
            await writer.ovens.append("dome", 0, [entry()])
            await writer.commit()
        assert await reader.ovens.journal("dome") == ()
    await store.close()


async def test_a_full_disk_is_told_and_leaves_the_store_whole(tmp_path: Path) -> None:
    path = tmp_path / "house.sqlite"
    await (await open_store(sqlite_url(path))).close()
    engine = make_engine(sqlite_url(path), pool_size=1, max_overflow=0)
    store = SqlStore(engine)
    await settle_in(store)
    async with engine.connect() as connection:
        pages = (await connection.execute(text("pragma page_count"))).scalar_one()
        await connection.execute(text(f"pragma max_page_count = {pages + 2}"))
    with pytest.raises(DiskFull, match="free some room"):
        await _write_much(store)
    async with store.read() as unit:
        assert await unit.outbox.next_sendable() is None
    async with engine.connect() as connection:
        await connection.execute(text("pragma max_page_count = 100000"))
    await _write_much(store)
    await store.close()
    with closing(sqlite3.connect(path)) as plain:
        assert plain.execute("pragma integrity_check").fetchone() == ("ok",)


async def _write_much(store: SqlStore) -> None:
    async with store.write() as unit:
        for n in range(300):
            await unit.outbox.post(letter(f"l{n}", why="x" * 500))
        await unit.commit()


async def test_a_file_that_takes_no_writing_is_told(tmp_path: Path) -> None:
    path = tmp_path / "house.sqlite"
    await (await open_store(sqlite_url(path))).close()
    # The file's own permission would not stop a test that runs as root.
    engine = make_engine(sqlite_url(path), pool_size=1, max_overflow=0)
    async with engine.connect() as connection:
        await connection.execute(text("pragma query_only = on"))
    store = SqlStore(engine)
    with pytest.raises(ReadOnly, match="write permission"):
        await settle_in(store)
    await store.close()


async def test_a_file_of_another_kind_is_told(tmp_path: Path) -> None:
    (tmp_path / "house.sqlite").write_bytes(b"this is a letter, not a database" * 100)
    with pytest.raises(NotOurs):
        await open_store(sqlite_url(tmp_path / "house.sqlite"))


async def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file")
    with pytest.raises(CannotOpen, match="cannot be made"):
        await open_store(sqlite_url(tmp_path / "taken" / "house.sqlite"))


async def test_a_database_of_a_newer_program_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "house.sqlite"
    await (await open_store(sqlite_url(path))).close()
    with closing(sqlite3.connect(path)) as plain, plain:
        plain.execute("update alembic_version set version_num = '9999'")
    with pytest.raises(NewerSchema, match="newer stokewatch"):
        await open_store(sqlite_url(path))


async def test_a_conflict_stays_a_conflict_through_the_unit(tmp_path: Path) -> None:
    store = await open_store(sqlite_url(tmp_path / "house.sqlite"))
    with pytest.raises(Conflict):
        async with store.write() as unit:
            await unit.ovens.append("nowhere", 0, [])
    await store.close()
