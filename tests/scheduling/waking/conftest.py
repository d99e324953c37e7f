"""The same stores as the contract suite, without PostgreSQL: waking asks nothing new of it."""

from collections.abc import AsyncIterator
from pathlib import Path

import pytest

from storage.address import sqlite_url
from storage.memory import MemoryStore
from storage.store import SqlStore, open_store
from tests.contract.samples import settle_in
from tests.scheduling.waking.house import Rooms


@pytest.fixture(params=["memory", "sqlite"])
async def store(
    request: pytest.FixtureRequest, tmp_path: Path
) -> AsyncIterator[MemoryStore | SqlStore]:
    opened: MemoryStore | SqlStore = MemoryStore()
    if request.param == "sqlite":
        opened = await open_store(sqlite_url(tmp_path / "house.sqlite"))
    yield opened
    leaked = opened.connections_in_use()
    await opened.close()
    assert leaked == 0


@pytest.fixture
async def rooms(store: MemoryStore | SqlStore) -> Rooms:
    await settle_in(store)
    return Rooms(store)
