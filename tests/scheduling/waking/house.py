"""A small house to wake: a record that counts, an advance that is told what to do, a carrier."""

import asyncio
from collections.abc import Awaitable, Callable, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from itertools import count
from typing import Self

from scheduling.clock import SteppedClock
from scheduling.happening import Happening
from scheduling.journal import Entry
from scheduling.meaning import Meaning, NothingHere
from scheduling.outcome import Outcome, Urgency
from scheduling.oven.belief import Belief
from scheduling.ports import Letter, OvenCard, Parcel, Person, PromisedDay
from scheduling.waking.carrying import CarrierError, Sent
from scheduling.waking.dispatcher import Dispatcher
from scheduling.waking.engine import Engine
from storage.memory import MemoryStore
from storage.store import SqlStore
from tests.contract.samples import NOON

SAID = NothingHere()


@dataclass(frozen=True)
class Tally:
    """A record that only counts its entries."""

    entries: tuple[Entry, ...] = ()
    zone: str = "Europe/London"
    promised: Sequence[PromisedDay] = ()

    def applied(self, entry: Entry) -> Self:
        return replace(self, entries=(*self.entries, entry))

    def believing(self, belief: Belief | None) -> Self:
        return self

    def card(self, card: OvenCard, now: datetime) -> OvenCard:
        return card.model_copy(update={"state": f"{len(self.entries)} entries"})


Advance = Callable[[Tally, Happening, datetime], Outcome]


@dataclass
class TallyBook:
    """Keeps what happened, and lets ``then`` say what follows."""

    then: Advance = lambda *_: Outcome()
    seen: list[tuple[Happening, datetime]] = field(default_factory=list)

    def empty(self, card: OvenCard) -> Tally:
        return Tally()

    def advance(self, record: Tally, happening: Happening, now: datetime) -> Outcome:
        self.seen.append((happening, now))
        return self.then(record, happening, now)

    def pack(self, belief: Belief) -> bytes:
        raise NotImplementedError

    def unpack(self, packed: bytes) -> Belief | None:
        return None


class PlainVoice:
    """Says a meaning's kind, to whom, and the hour of reading."""

    def render(self, meaning: Meaning, reader: Person, zone: str, now: datetime) -> Parcel:
        return Parcel(text=f"{meaning.kind} {reader.id} {now:%H:%M}")

    def again(self, parcel: Parcel, urgency: Urgency) -> Parcel:
        return parcel.model_copy(update={"text": f"again {parcel.text}"})


@dataclass
class FakeCarrier:
    """Delivers, unless a fate stands in the queue, when it hangs no longer."""

    fates: list[CarrierError] = field(default_factory=list)
    shown: list[tuple[str, str | None]] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)
    hangs: dict[str, asyncio.Event] = field(default_factory=dict)
    meanwhile: Callable[[], Awaitable[None]] | None = None
    """What happens while the next letter is in the air."""

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        if letter.id in self.hangs:
            await self.hangs[letter.id].wait()
        meanwhile, self.meanwhile = self.meanwhile, None
        if meanwhile is not None:
            await meanwhile()
        if self.fates:
            raise self.fates.pop(0)
        self.texts.append(letter.parcel.text)
        self.shown.append((letter.id, edit_ref))
        return Sent(f"ref {letter.id}")


class Rooms:
    """Engine and dispatcher over a store, on a clock moved by hand."""

    def __init__(self, store: MemoryStore | SqlStore, prefix: str = "id") -> None:
        numbers = count(1)
        self.store = store
        self.clock = SteppedClock(NOON)
        self.book = TallyBook()
        self.carrier = FakeCarrier()
        self.new_id = lambda: f"{prefix}{next(numbers)}"
        self.engine: Engine[Tally] = Engine(store, PlainVoice(), self.clock, self.book, self.new_id)
        self.dispatcher = Dispatcher(
            store, self.clock, {"replay": self.carrier}, again=PlainVoice().again
        )

    async def letter(self, letter_id: str) -> Letter:
        async with self.store.read() as unit:
            found = await unit.outbox.get(letter_id)
        assert found is not None
        return found
