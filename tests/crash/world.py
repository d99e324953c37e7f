"""What outlives a process: the people, the channel that carries to them, and the hour.

Also the process itself, which ends wherever ``Doom`` says, by an exception that nothing catches.
"""

import itertools
from collections import deque
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from enum import StrEnum

from scheduling.alarm import Alarm, AlarmName
from scheduling.clock import SteppedClock
from scheduling.happening import Came, Delivery, Happening, Spoke
from scheduling.journal import Opened
from scheduling.outcome import TENDERS, Message, Outcome, Urgency
from scheduling.ports import InboxRow, Letter, Person, Store
from scheduling.waking.carrying import Blocked, Carrier, NotSent, Refused, Sent, Unknown
from scheduling.waking.dispatcher import Dispatcher
from scheduling.waking.engine import Engine
from tests.contract.samples import ANA, NOON
from tests.crash.mortal import MortalCarrier, MortalStore, Step
from tests.scheduling.waking.house import SAID, PlainVoice, Tally, TallyBook

NUDGE_AFTER = timedelta(minutes=5)


class Fate(StrEnum):
    ARRIVES = "arrives"
    ARRIVES_UNHEARD = "arrives, but the answer is cut off"
    LOST_UNHEARD = "is lost, and the answer too"
    NO_LINE = "no connection"
    MUST_WAIT = "told to wait"
    REFUSED = "refused"
    SLOW = "arrives after its lease, while another process looks"


class Crash(BaseException):
    """The process ends here."""


@dataclass
class Doom:
    """Ends the process at a step; whatever it still tries afterwards does not happen."""

    left: int | None = None
    is_dead: bool = False

    def on_step(self, step: Step) -> None:
        if self.left is not None and not self.is_dead:
            self.left -= 1
            self.is_dead = self.left < 0
        if self.is_dead:
            raise Crash(step)


@dataclass
class World:
    clock: SteppedClock = field(default_factory=lambda: SteppedClock(NOON))
    numbers: "itertools.count[int]" = field(default_factory=lambda: itertools.count(1))
    fates: deque[Fate] = field(default_factory=deque)
    shown: list[str] = field(default_factory=list)
    blocked: set[str] = field(default_factory=set)
    unacknowledged: set[int] = field(default_factory=set)
    acknowledged: set[int] = field(default_factory=set)
    meanwhile: Callable[[], Awaitable[object]] | None = None
    """What another process does during a slow send."""

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        if person.id in self.blocked:
            raise Blocked("403")
        fate = self.fates.popleft() if self.fates else Fate.ARRIVES
        match fate:
            case Fate.NO_LINE:
                raise NotSent("no connection")
            case Fate.MUST_WAIT:
                raise NotSent("429", retry_after=timedelta(seconds=30))
            case Fate.REFUSED:
                raise Refused("400")
            case Fate.LOST_UNHEARD:
                raise Unknown("cut")
        self.shown.append(letter.id)
        if fate is Fate.ARRIVES_UNHEARD:
            raise Unknown("read timed out")
        if fate is Fate.SLOW and self.meanwhile is not None:
            self.clock.move_to(self.clock.now() + timedelta(minutes=2))
            await self.meanwhile()
        return Sent(f"ref {letter.id}")


class Process:
    """An engine and two dispatchers, until the crash."""

    def __init__(self, store: Store, world: World, doom: Doom) -> None:
        self._world = world
        self.store = MortalStore(store, doom.on_step)
        carrier: dict[str, Carrier] = {"replay": MortalCarrier(world, doom.on_step)}

        def new_id() -> str:
            return f"l{next(world.numbers)}"

        self.engine: Engine[Tally] = Engine(
            self.store, PlainVoice(), world.clock, TallyBook(advance), new_id
        )
        self.one = Dispatcher(self.store, world.clock, carrier)
        self.other = Dispatcher(self.store, world.clock, carrier)
        world.meanwhile = self._other_looks

    async def take_in(self, update: int) -> None:
        """Store it; the channel holds it acknowledged only when this returns."""
        row = InboxRow("replay", str(update), "ana", str(update), self._world.clock.now())
        async with self.store.write() as unit:
            await unit.inbox.store(row)
            await unit.commit()
        self._world.unacknowledged.discard(update)
        self._world.acknowledged.add(update)

    async def work(self) -> None:
        """Answer what waits in the inbox."""
        async with self.store.read() as unit:
            rows = await unit.inbox.waiting("replay")
        for row in rows:
            said = Spoke("ana", row.body, ())
            await self.engine.happen("dome", said, inbox=("replay", row.key))

    async def come_back(self) -> None:
        """Ana lets us in again."""
        async with self.store.write() as unit:
            await unit.people.put(ANA)
            await unit.commit()

    async def cancel(self) -> None:
        """What was to be said to Ben is not to be said any more."""
        async with self.store.write() as unit:
            await unit.outbox.cancel_for("ben", "asked to stop")
            await unit.commit()

    async def _other_looks(self) -> None:
        await self.other.deliver()


def advance(record: Tally, happening: Happening, now: datetime) -> Outcome:
    """An update is answered and sets a nudge; every third goes to both who tend the oven."""
    match happening:
        case Spoke(text=text):
            to = TENDERS if int(text) % 3 == 0 else "ana"
            urgency = Urgency.FIRE if int(text) % 2 else Urgency.ANSWER
            answer = Message(to, SAID, urgency)
            nudge = Alarm(AlarmName.NUDGE, now + NUDGE_AFTER)
            return Outcome((Opened(at=now, name=f"{text} {to}"),), (answer,), (nudge,))
        case Came(due=due):
            nudge_letter = Message(
                "ana", SAID, Urgency.FIRE, replaces="nudge", expires=due + timedelta(hours=1)
            )
            return Outcome((Opened(at=now, name="nudge ana"),), (nudge_letter,))
        case Delivery():
            return Outcome((Opened(at=now, name="news nobody"),))
    raise AssertionError(happening)
