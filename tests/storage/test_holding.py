"""One process on one SQLite file, and none on a file that is not ours."""

import os
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from storage.address import sqlite_url
from storage.faults import InUse, NotOurs
from storage.holding import held_alone
from storage.migrating import migrate_file
from storage.owner import Owner, whose


def test_a_second_one_is_refused_with_a_sentence_and_may_run_once_the_first_has_gone(
    tmp_path: Path,
) -> None:
    url = sqlite_url(tmp_path / "house.sqlite")
    with held_alone(url) as alone:
        assert alone
        said = rf"process {os.getpid()}\) runs on .*Stop that one first"
        with pytest.raises(InUse, match=said), held_alone(url):
            raise AssertionError("both run")
    assert list(tmp_path.iterdir()) == []
    with held_alone(url) as alone:
        assert alone


def test_another_way_to_the_same_file_is_the_same_file(tmp_path: Path) -> None:
    (tmp_path / "link.sqlite").symlink_to(tmp_path / "house.sqlite")
    one, other = (sqlite_url(tmp_path / f"{name}.sqlite") for name in ("house", "link"))
    with held_alone(one), pytest.raises(InUse), held_alone(other):
        raise AssertionError("both run")


def test_a_lock_left_by_one_that_was_killed_holds_up_nobody(tmp_path: Path) -> None:
    (tmp_path / "house.sqlite.lock").write_text("4711\n")
    with held_alone(sqlite_url(tmp_path / "house.sqlite")) as alone:
        assert alone


def test_of_a_server_nobody_can_say_who_else_is_there() -> None:
    with held_alone("postgresql://ana@127.0.0.1/ovens") as alone:
        assert not alone


def foreign(path: Path) -> bytes:
    with closing(sqlite3.connect(path)) as plain:
        plain.execute("create table songs (title text)")
    return path.read_bytes()


def test_a_database_of_another_program_gets_no_tables(tmp_path: Path) -> None:
    path = tmp_path / "songs.sqlite"
    before = foreign(path)
    with pytest.raises(NotOurs, match="the tables songs"):
        migrate_file(path)
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


def test_a_file_that_is_no_database_is_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "letter.txt"
    path.write_text("Dear Ana, the oven is wonderful.")
    with pytest.raises(NotOurs, match="is no SQLite database"):
        migrate_file(path)
    assert path.read_text().startswith("Dear Ana")


def test_whose_a_file_is(tmp_path: Path) -> None:
    assert whose(tmp_path / "none").owner is Owner.NOBODY
    (tmp_path / "empty").touch()
    assert whose(tmp_path / "empty").owner is Owner.NOBODY
    assert whose(tmp_path).owner is Owner.UNREADABLE
    migrate_file(tmp_path / "ours")
    assert whose(tmp_path / "ours").owner is Owner.US
    foreign(tmp_path / "theirs")
    assert whose(tmp_path / "theirs").owner is Owner.ANOTHER
