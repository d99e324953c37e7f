"""The list of the erased outlives the database, and is never half written or quietly skipped."""

from pathlib import Path

import pytest

from bot.erased import NAME, ErasedList, ErasedListError, list_beside
from scheduling.ports import Erasure
from tests.contract.samples import MINUTE, NOON

ANA = Erasure(person="ana", asked_at=NOON, kept=("dome",))
BEN = Erasure(person="ben", asked_at=NOON + MINUTE)


def test_it_lies_with_the_backups_or_beside_the_file(tmp_path: Path) -> None:
    url = f"sqlite+aiosqlite:///{tmp_path}/house.sqlite"
    assert list_beside(url, None) == tmp_path / NAME
    assert list_beside(url, tmp_path / "kept") == tmp_path / "kept" / NAME
    assert list_beside("postgresql+psycopg://u@h/n", None) is None


def test_whoever_was_on_it_stays_on_it(tmp_path: Path) -> None:
    kept = ErasedList(tmp_path / "folder" / NAME)
    assert kept.read() == ()
    kept.keep([ANA])
    kept.keep([BEN])
    assert kept.read() == (ANA, BEN)
    assert [path.name for path in (tmp_path / "folder").iterdir()] == [NAME]


def test_old_copies_of_the_file_go_when_somebody_is_erased(tmp_path: Path) -> None:
    for name in ("house.sqlite", "house.sqlite.before-0001", "other.sqlite.before-0001"):
        (tmp_path / name).touch()
    url = f"sqlite+aiosqlite:///{tmp_path}/house.sqlite"
    ErasedList(tmp_path / NAME, url).keep([ANA])
    left = {path.name for path in tmp_path.iterdir()}
    assert left == {"house.sqlite", "other.sqlite.before-0001", NAME}


def test_a_damaged_list_stops_a_restore_before_it_begins(tmp_path: Path) -> None:
    (tmp_path / NAME).write_text(ANA.model_dump_json() + "\n{half")
    with pytest.raises(ErasedListError, match="damaged"):
        ErasedList(tmp_path / NAME).read()
