"""``stokewatch run`` as a process, over the local Bot API and a database file."""

import asyncio
import os
import signal
import sqlite3
import sys
from asyncio.subprocess import Process
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager, closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from tests.botapi.server import TOKEN, BotApi
from tests.end_to_end.run_from import HERE

ROOT = Path(__file__).parents[2]
PACING = timedelta(minutes=2)
"""A letter that waits for its turn in a chat waits no longer than this."""

SET_UP = (
    "C", "52.2, -1.5", "brick", "80 cm", f"{datetime.now(UTC) - timedelta(days=200):%Y-%m-%d}",
    "in the open, a sheet over it, nothing near", "steel door, no flue", "550", "any day", "9-18",
    "just me",
)  # fmt: skip
"""An owner's answers in the first meeting, in its order. The mortar is old enough to be fired."""

PATIENCE_S = 60.0
"""Importing everything takes seconds, and many on a busy machine."""


class Place:
    """Where a house runs: a Bot API and a folder that outlive it."""

    def __init__(self, api: BotApi, folder: Path, settings: Mapping[str, str]) -> None:
        self.api = api
        self.folder = folder
        self.file = folder / "house.sqlite"
        self._settings = settings
        self._starts = 0

    @asynccontextmanager
    async def running(
        self, hour: datetime | None = None, pace: float = 1.0
    ) -> AsyncIterator[Process]:
        """The process, from that hour on its clock; killed when the block is left before it
        ends."""
        told = {
            "token": TOKEN,
            "telegram_url": self.api.url,
            "database_url": f"sqlite:///{self.file}",
            **self._settings,
        }
        env = {**os.environ, "PYTHONPATH": str(ROOT)}
        env |= {f"STOKEWATCH_{name.upper()}": value for name, value in told.items()}
        order = ["bot", "run"] if hour is None else [HERE, hour.isoformat(), str(pace)]
        self._starts += 1
        with (self.folder / f"log-{self._starts}").open("wb") as log:
            process = await asyncio.create_subprocess_exec(
                sys.executable, "-m", *order, cwd=self.folder, env=env,
                stdin=asyncio.subprocess.PIPE, stdout=log, stderr=log,
            )  # fmt: skip
        try:
            yield process
        finally:
            if process.returncode is None:
                process.send_signal(signal.SIGKILL)
            await process.wait()

    def logged(self) -> str:
        """What the last process had to say."""
        return (self.folder / f"log-{self._starts}").read_text()

    def texts(self, chat: int) -> list[str]:
        return [shown.text for shown in self.api.read(chat)]

    async def until_shown(self, count: int, chat: int) -> str:
        """The message of that number, counted from 1."""
        await self.api.until(lambda: len(self.api.read(chat)) >= count, PATIENCE_S)
        return self.texts(chat)[count - 1]

    async def until_quiet(self, hour: datetime) -> None:
        """All that came in is answered, and all that is due by ``hour`` is done and sent."""
        await self.api.until(lambda: not self.api.waiting, PATIENCE_S)
        now, soon = _in_table(hour), _in_table(hour + PACING)
        await self.until_none(
            "select (select count(*) from inbox where state = 'waiting')"
            f" + (select count(*) from alarms where due <= '{now}')"
            " + (select count(*) from outbox where state = 'sending'"
            f" or (state = 'todo' and not_before <= '{soon}'))"
        )

    def next_due(self) -> datetime:
        """When there is next something to do or to send."""
        with closing(sqlite3.connect(self.file)) as plain:
            (due,) = plain.execute(
                "select min(at) from (select due as at from alarms"
                " union select not_before from outbox where state = 'todo')"
            ).fetchone()
        return datetime.fromisoformat(due).replace(tzinfo=UTC)

    async def until_none(self, query: str, within_s: float = PATIENCE_S) -> None:
        """Until the database of the process counts nothing any more."""
        async with asyncio.timeout(within_s):
            while self.count(query):  # noqa: ASYNC110 - another process works on it
                await asyncio.sleep(0.05)

    def column(self, query: str) -> list[str]:
        """What the database of the process has, row by row."""
        with closing(sqlite3.connect(self.file)) as plain:
            return [str(row[0]) for row in plain.execute(query)]

    def count(self, query: str) -> int:
        """What the database of the process counts now."""
        with closing(sqlite3.connect(self.file)) as plain:
            return int(plain.execute(query).fetchone()[0])


def _in_table(instant: datetime) -> str:
    """As SQLite's tables have it."""
    plain = instant.astimezone(UTC).replace(tzinfo=None)
    return plain.isoformat(" ", "microseconds")
