"""One person before the real reception on SQLite, with a stopwatch."""

import time
from datetime import datetime, timedelta
from typing import Any

from bot.conversation.chat import CHANNEL
from bot.conversation.foundation import Foundation
from bot.conversation.heard import Listener
from bot.conversation.incoming import Incoming
from bot.conversation.reception import Reception
from bot.conversation.setting_up import SettingUp
from bot.conversation.stored import row_of
from bot.wiring import seeded_id
from bot.wording.voice import Voice
from scheduling.clock import SteppedClock
from scheduling.journal import ENTRY, Entry
from scheduling.record import Record
from scheduling.waking.book import OvenBook
from scheduling.waking.dispatcher import Dispatcher
from scheduling.waking.engine import Engine
from storage.store import SqlStore

PLAIN = {"channel": CHANNEL, "unit": "C", "zone": "Europe/London", "blocked": False}


def row(oven: str, seq: int, entry: Entry) -> dict[str, Any]:
    """A line of the journal as the table has it."""
    return {"oven": oven, "seq": seq, "entry": ENTRY.dump_json(entry).decode()}


class Timed:
    """What ``person`` says from ``now`` on, a second passing before each message."""

    def __init__(
        self, store: SqlStore, person: str, now: datetime, book: OvenBook | None = None
    ) -> None:
        self.store, self.person, self.clock = store, person, SteppedClock(now)
        self.new_id, voice = seeded_id(3), Voice()
        self.engine: Engine[Record] = Engine(
            store, voice, self.clock, book or OvenBook(), self.new_id
        )
        base = Foundation(store, self.clock, self.engine, self.new_id, None, voice)
        self.reception = Reception(base, None, SettingUp())
        self.listener = Listener(self.clock)
        self.dispatcher = Dispatcher(store, self.clock, {CHANNEL: self.listener})
        self.count = 0
        self.waited: list[float] = []

    async def receive(self, after: timedelta = timedelta(seconds=1), **what: Any) -> float:
        """Milliseconds of work to a stored answer. On the wall it is longer where others use the
        machine too, and by the disk's one write a commit: that is kept in ``waited``."""
        self.count += 1
        self.clock.move_to(self.clock.now() + after)
        key = f"u{self.count}"
        incoming = Incoming(CHANNEL, key, self.person, self.clock.now(), message=key, **what)
        async with self.store.write() as unit:
            await unit.inbox.store(row_of(incoming))
            await unit.commit()
        begun, seen = time.process_time(), time.perf_counter()
        await self.reception.receive(incoming)
        taken = (time.process_time() - begun) * 1e3
        self.waited.append((time.perf_counter() - seen) * 1e3)
        await self.dispatcher.deliver()
        return taken

    async def press(self, label: str) -> float:
        """Presses a button that was shown."""
        return await self.receive(press=self.listener.key_of(self.person, label))
