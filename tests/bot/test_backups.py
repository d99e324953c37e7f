"""One backup a day, the newest kept, and nobody else's file touched."""

from datetime import timedelta
from pathlib import Path

from bot.backups import DailyBackup
from scheduling.clock import SteppedClock
from storage.address import sqlite_url
from storage.backup import read_about
from storage.store import open_store
from tests.contract.samples import NOON, settle_in


async def test_a_backup_a_day_and_only_the_newest_stay(tmp_path: Path) -> None:
    url, folder = sqlite_url(tmp_path / "house.sqlite"), tmp_path / "kept"
    store = await open_store(url)
    await settle_in(store)
    await store.close()
    clock = SteppedClock(NOON)
    backup = DailyBackup(url, folder, clock, kept=2)
    for _ in range(3):
        await backup.make()
        await backup.make()
        (folder / "stokewatch-letters.zip").touch()
        clock.move_to(clock.now() + timedelta(days=1))
    assert sorted(path.name for path in folder.iterdir()) == [
        "stokewatch-2026-05-14.zip",
        "stokewatch-2026-05-15.zip",
        "stokewatch-letters.zip",
    ]
    assert read_about(folder / "stokewatch-2026-05-15.zip").rows["ovens"] == 2
