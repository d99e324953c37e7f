"""A process is killed while the tables change, or while a backup is written."""

import asyncio
import sqlite3
from contextlib import closing
from pathlib import Path

from storage.address import sqlite_url
from storage.backup import back_up, read_about
from storage.migrating import migrate_file
from tests.contract.samples import NOON
from tests.crash.processes import is_killed
from tests.crash.victim import back_up_and_die, bring_up_to_date
from tests.storage.revisions import KILLS, NEXT, REBUILDS, our_revisions_and
from tests.storage.test_migrating import counts, revision


def test_killed_while_the_tables_change(house_file: Path, tmp_path: Path) -> None:
    before, old = counts(house_file), revision(house_file)
    kills = our_revisions_and(KILLS, tmp_path / "kills")
    assert is_killed(bring_up_to_date, house_file, kills)
    with closing(sqlite3.connect(house_file)) as plain:
        assert plain.execute("pragma integrity_check").fetchone() == ("ok",)
    assert (revision(house_file), counts(house_file)) == (old, before)
    kept = house_file.with_name(f"{house_file.name}.before-{old}")
    assert (revision(kept), counts(kept)) == (old, before)

    migrate_file(house_file, scripts=our_revisions_and(REBUILDS, tmp_path / "whole"))
    assert (revision(house_file), counts(house_file)) == (NEXT, before)


def test_killed_while_the_first_tables_are_made(tmp_path: Path) -> None:
    path = tmp_path / "house.sqlite"
    assert is_killed(bring_up_to_date, path, our_revisions_and(KILLS, tmp_path / "kills"))
    migrate_file(path)
    assert set(counts(path).values()) == {0}


def test_killed_while_a_backup_is_written(house_file: Path, tmp_path: Path) -> None:
    to = tmp_path / "kept.zip"
    assert is_killed(back_up_and_die, house_file, to)
    assert not to.exists()
    asyncio.run(back_up(sqlite_url(house_file), to, NOON))
    assert read_about(to).rows["ovens"] == 2
    assert sorted(path.name for path in tmp_path.glob("*kept*")) == ["kept.zip"]
