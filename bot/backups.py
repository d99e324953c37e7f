"""A backup a day into a folder, of which the newest are kept."""

import asyncio
from datetime import time
from pathlib import Path

import structlog

from scheduling.clock import Clock
from scheduling.waking.waker import Daily
from storage.backup import back_up

KEPT = 7
AT = time(2, 30)
"""UTC; early enough that nobody in Europe or America burns a fire."""

_log = structlog.get_logger(__name__)


class DailyBackup:
    """Writes ``stokewatch-2026-05-13.zip`` once a day; older ones beyond ``kept`` go."""

    def __init__(self, database_url: str, folder: Path, clock: Clock, kept: int = KEPT) -> None:
        self._database_url = database_url
        self._folder = folder
        self._clock = clock
        self._kept = kept

    def daily(self) -> Daily:
        """To be given to a waker."""
        return Daily("backup", AT, self.make)

    async def make(self) -> None:
        """Make today's, unless it is there. Raises a ``StorageFault`` or OSError."""
        now = self._clock.now()
        to = self._folder / f"stokewatch-{now:%Y-%m-%d}.zip"
        if not await asyncio.to_thread(self._is_wanted, to):
            return
        await back_up(self._database_url, to, now)
        _log.info("backed up", file=str(to))
        await asyncio.to_thread(self._let_go)

    def _is_wanted(self, to: Path) -> bool:
        self._folder.mkdir(parents=True, exist_ok=True)
        return not to.exists()

    def _let_go(self) -> None:
        """Only files that bear our name: whatever else lies there is somebody's."""
        for old in sorted(self._folder.glob("stokewatch-????-??-??.zip"))[: -self._kept]:
            old.unlink()
