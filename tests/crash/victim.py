"""What a process does until it is killed. Run in a process of its own by ``processes``."""

import asyncio
import itertools
import os
import signal
from datetime import datetime
from pathlib import Path
from unittest.mock import patch

from bot.channels.telegram.intake import Intake
from scheduling.alarm import Alarm, AlarmName
from scheduling.clock import SteppedClock
from scheduling.happening import Delivery
from scheduling.outcome import Message, Outcome, Urgency
from scheduling.ports import Letter, Person, Store
from scheduling.waking.carrying import Sent
from scheduling.waking.dispatcher import Dispatcher
from scheduling.waking.engine import Engine
from storage.address import sqlite_url
from storage.backup import back_up
from storage.migrating import migrate_file
from storage.store import SqlStore, make_engine
from tests.contract.samples import MINUTE, NOON, entry
from tests.crash.mortal import MortalCarrier, MortalStore, OnStep, Step
from tests.scheduling.waking.house import SAID, PlainVoice, Tally, TallyBook

UPDATE = {
    "update_id": 7,
    "message": {
        "message_id": 1,
        "date": 1778673600,
        "chat": {"id": 1, "type": "private"},
        "text": "top 152",
    },
}
INBOX = ("telegram", "7")
NUDGE_DUE = NOON + MINUTE


def die() -> None:
    """As the kernel's out-of-memory killer or a power cut ends a process: no handler runs."""
    os.kill(os.getpid(), signal.SIGKILL)


class LoggingCarrier:
    """Shows a letter by writing its number, safely, to a file that outlives the process."""

    def __init__(self, shown: Path) -> None:
        self._shown = shown

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        with self._shown.open("a") as file:
            file.write(f"{letter.id}\n")
            file.flush()
            os.fsync(file.fileno())
        await asyncio.sleep(0)
        return Sent(letter.id)


class Road:
    """One oven's road in a process: what comes in, what comes due, what goes out."""

    def __init__(
        self, store: Store, shown: Path, urgency: Urgency, prefix: str, now: datetime, step: OnStep
    ) -> None:
        numbers = itertools.count(1)
        mortal = MortalStore(store, step)
        carrier = MortalCarrier(LoggingCarrier(shown), step)

        def new_id() -> str:
            return f"{prefix}{next(numbers)}"

        def then(record: Tally, *_: object) -> Outcome:
            message = Message("ana", SAID, urgency)
            alarms = () if record.entries else (Alarm(AlarmName.NUDGE, NUDGE_DUE),)
            return Outcome((entry(len(record.entries)),), (message,), alarms)

        self.clock = SteppedClock(now)
        self.engine: Engine[Tally] = Engine(
            mortal, PlainVoice(), self.clock, TallyBook(then), new_id
        )
        self.dispatcher = Dispatcher(mortal, self.clock, {"replay": carrier})
        self.intake = Intake(mortal, self.clock, lambda _: None)

    async def fetch(self) -> None:
        """Telegram hands the update over, as often as it was not acknowledged."""
        await self.intake.keep([UPDATE])

    async def answer(self) -> None:
        await self.engine.happen("dome", Delivery("ana", True), inbox=INBOX)

    async def nudge(self) -> None:
        self.clock.move_to(max(NUDGE_DUE, self.clock.now()))
        await self.engine.run_due()


def doom(wanted: Step, number: int) -> OnStep:
    """Dies at the ``number``-th step of that kind, counted from 1."""
    count = itertools.count(1)

    def on_step(step: Step) -> None:
        if step is wanted and next(count) == number:
            die()

    return on_step


def walk_the_road(path: Path, shown: Path, urgency: str, step: str, number: int) -> None:
    """Take an update in, answer it, then come to a nudge and send that."""

    async def walk() -> None:
        store = SqlStore(make_engine(sqlite_url(path)))
        road = Road(store, shown, Urgency(urgency), "first", NOON, doom(Step(step), number))
        await road.fetch()
        await road.answer()
        await road.dispatcher.deliver()
        await road.nudge()
        await road.dispatcher.deliver()

    asyncio.run(walk())


def deliver_all(url: str, shown: Path) -> None:
    """Send as long as there is anything to be sent, by whomever."""

    async def deliver() -> None:
        store = SqlStore(make_engine(url))
        carrier = LoggingCarrier(shown)
        dispatcher = Dispatcher(store, SteppedClock(NOON), {"replay": carrier}, at_once=3)
        while await anything_to_send(store):
            await dispatcher.deliver()
        await store.close()

    asyncio.run(deliver())


async def anything_to_send(store: SqlStore) -> bool:
    async with store.read() as unit:
        return await unit.outbox.next_sendable() is not None


def bring_up_to_date(path: Path, scripts: Path) -> None:
    """Migrate with revisions that kill half-way."""
    migrate_file(path, scripts=scripts)


def back_up_and_die(path: Path, to: Path) -> None:
    """Die when everything is written but nothing has its name yet."""
    with patch("storage.backup._put_in_place", lambda *_: die()):
        asyncio.run(back_up(sqlite_url(path), to, NOON))
