"""Tables that are brought up to date keep every row, or stay as they were."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from sqlalchemy import Connection, create_engine, text

from storage import tables
from storage.address import sqlite_url
from storage.faults import Damaged
from storage.migrating import migrate, migrate_file, upgrade
from storage.store import make_engine
from tests.postgres import new_database
from tests.storage.furniture import furnish
from tests.storage.revisions import GROWS, NEXT, ORPHANS, REBUILDS, our_revisions_and

COUNTED = [table.name for table in tables.metadata.sorted_tables]


def counts(path: Path) -> dict[str, int]:
    with closing(sqlite3.connect(path)) as plain:
        return {
            name: plain.execute(f'select count(*) from "{name}"').fetchone()[0] for name in COUNTED
        }


def revision(path: Path) -> str:
    with closing(sqlite3.connect(path)) as plain:
        return str(plain.execute("select version_num from alembic_version").fetchone()[0])


@pytest.fixture
async def house(tmp_path: Path) -> Path:
    path = tmp_path / "house.sqlite"
    await furnish(sqlite_url(path))
    return path


async def test_children_outlive_the_rebuilding_of_their_table(house: Path, tmp_path: Path) -> None:
    before = counts(house)
    assert all(before[name] for name in ("alarms", "journal", "tenders", "beliefs", "buttons"))
    migrate_file(house, scripts=our_revisions_and(REBUILDS, tmp_path))
    assert revision(house) == NEXT
    assert counts(house) == before
    with closing(sqlite3.connect(house)) as plain:
        assert plain.execute("pragma foreign_key_check").fetchall() == []
        assert plain.execute("select distinct colour from ovens").fetchall() == [("plain",)]
        # Keys still point at the tables of these names, and indexes came along.
        parents = {row[2] for row in plain.execute("pragma foreign_key_list(alarms)")}
        assert parents == {"ovens"}
        indexes = {row[1] for row in plain.execute("pragma index_list(outbox)")}
        assert {"ix_outbox_open", "ix_outbox_thread"} <= indexes


async def test_with_foreign_keys_on_the_children_would_be_gone(house: Path, tmp_path: Path) -> None:
    """The trap itself: why migrating has a connection of its own."""
    engine = create_engine(f"sqlite:///{house}")
    with engine.connect() as connection:
        connection.connection.driver_connection.isolation_level = None  # type: ignore[union-attr]
        connection.exec_driver_sql("pragma foreign_keys = on")
        connection.exec_driver_sql("begin immediate")
        scripts = our_revisions_and(
            REBUILDS + 'op.execute("pragma defer_foreign_keys = on")', tmp_path
        )
        connection.exec_driver_sql("delete from journal")
        upgrade(connection, scripts=scripts)
        connection.exec_driver_sql("commit")
    engine.dispose()
    assert counts(house)["alarms"] == 0


async def test_a_file_is_set_by_before_its_tables_change(house: Path, tmp_path: Path) -> None:
    before, old = counts(house), revision(house)
    migrate_file(house, scripts=our_revisions_and(REBUILDS, tmp_path))
    kept = house.with_name(f"{house.name}.before-{old}")
    assert revision(kept) == old
    assert counts(kept) == before


async def test_nothing_is_set_by_when_nothing_changes(house: Path) -> None:
    migrate_file(house)
    assert [path.name for path in house.parent.glob("*.before-*")] == []


async def test_rows_left_without_their_parent_undo_it_all(house: Path, tmp_path: Path) -> None:
    before, old = counts(house), revision(house)
    with pytest.raises(Damaged, match="nothing was changed"):
        migrate_file(house, scripts=our_revisions_and(ORPHANS, tmp_path))
    assert (revision(house), counts(house)) == (old, before)


async def test_a_revision_that_fails_half_way_undoes_it_all(house: Path, tmp_path: Path) -> None:
    before, old = counts(house), revision(house)
    with pytest.raises(ZeroDivisionError):
        migrate_file(house, scripts=our_revisions_and(REBUILDS + "1 / 0", tmp_path))
    assert (revision(house), counts(house)) == (old, before)


@pytest.mark.parametrize("kind", ["sqlite", "postgres"])
async def test_the_revisions_make_the_tables_that_we_speak_of(
    kind: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    url = sqlite_url(tmp_path / "house.sqlite")
    if kind == "postgres":
        url = await new_database(request.getfixturevalue("postgres"), "compared")
    await migrate(url)
    engine = make_engine(url)

    def differences(connection: Connection) -> object:
        return compare_metadata(MigrationContext.configure(connection), tables.metadata)

    async with engine.connect() as connection:
        assert await connection.run_sync(differences) == []
    await engine.dispose()


async def test_who_was_of_a_team_before_teams_had_names_has_founded_it(tmp_path: Path) -> None:
    path = tmp_path / "house.sqlite"
    migrate_file(path, to="0001")
    person = "insert into people values (?, 'replay', ?, ?, 'C', 'UTC', ?, 0, null, null, 0)"
    with closing(sqlite3.connect(path)) as plain:
        for who, team in (("dov", "hearths"), ("clo", "hearths"), ("ana", None)):
            plain.execute(person, (who, who, who.title(), team))
        plain.commit()
    migrate_file(path)
    with closing(sqlite3.connect(path)) as plain:
        found = plain.execute("select id, name, founder, founded_at from builders").fetchall()
    assert found == [("hearths", "Clo", "clo", None)]


async def test_letters_of_which_nobody_knew_are_marked_and_repeats_become_tries(
    tmp_path: Path,
) -> None:
    path = tmp_path / "house.sqlite"
    migrate_file(path, to="0004")
    person = (
        "insert into people values"
        " ('ana', 'replay', 'ana', 'Ana', 'C', 'UTC', null, 0, null, null, 0)"
    )
    letter = (
        "insert into outbox (id, person, parcel, urgency, rank, created_at, not_before, state,"
        " attempts, repeat_of, why, button_keys, tried_at) values"
        " (?, 'ana', '{}', 'fire', 1, '2026-05-13', '2026-05-13', ?, 1, ?, '', '{}', ?)"
    )
    tried = "2026-05-13 12:00:00.000000"
    with closing(sqlite3.connect(path)) as plain:
        plain.execute(person)
        for row in (
            ("known", "sent", None, tried),
            ("lost", "unknown", None, tried),
            ("again", "todo", "lost", None),
            ("new", "todo", None, None),
        ):
            plain.execute(letter, row)
        plain.execute("insert into buttons values ('k1', 'known', 'Done')")
        plain.commit()
    migrate_file(path)
    with closing(sqlite3.connect(path)) as plain:
        found = plain.execute("select id, state, doubts, first_tried_at from outbox order by seq")
        assert found.fetchall() == [
            ("known", "sent", 0, tried),
            ("lost", "unknown", 1, tried),
            ("again", "todo", 1, None),
            ("new", "todo", 0, None),
        ]
        assert plain.execute("select letter from buttons").fetchall() == [("known",)]
        (made,) = plain.execute("select sql from sqlite_master where name = 'ix_outbox_open'")
        assert "state in ('todo', 'sending')" in made[0], "or letters would be searched one by one"


async def test_a_server_is_brought_up_to_date_likewise(tmp_path: Path, postgres: str) -> None:
    url = await new_database(postgres, "moved_on")
    await furnish(url)
    await migrate(url, scripts=our_revisions_and(GROWS, tmp_path))
    engine = make_engine(url)
    async with engine.connect() as connection:
        colours = await connection.execute(text("select count(*), min(colour) from ovens"))
        assert tuple(colours.one()) == (2, "plain")
        assert (await connection.execute(text("select count(*) from alarms"))).scalar_one() == 1
    await engine.dispose()
