"""A house's database file, furnished, to die over."""

import asyncio
import shutil
from pathlib import Path

import pytest

from storage.address import sqlite_url
from storage.migrating import migrate_file
from storage.store import SqlStore, make_engine
from tests.contract.samples import settle_in


@pytest.fixture(scope="session")
def furnished_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("furnished") / "house.sqlite"
    migrate_file(path)

    async def furnish() -> None:
        store = SqlStore(make_engine(sqlite_url(path)))
        await settle_in(store)
        await store.close()

    asyncio.run(furnish())
    return path


@pytest.fixture
def house_file(furnished_file: Path, tmp_path: Path) -> Path:
    path = tmp_path / "house.sqlite"
    shutil.copyfile(furnished_file, path)
    return path
