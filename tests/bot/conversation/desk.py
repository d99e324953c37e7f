"""A reception over a store in memory: what comes in is told in one line, what goes out is read."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import count
from typing import Any

from bot.conversation.foundation import Foundation
from bot.conversation.heard import Heard, Listener
from bot.conversation.incoming import Incoming, slash
from bot.conversation.meeting import FirstRunCodes
from bot.conversation.reception import Reception
from bot.conversation.setting_up import SettingUp
from bot.conversation.stored import row_of
from bot.places import NoLandError, Place
from scheduling.choice import Choice, Command, CommandName
from scheduling.clock import SteppedClock
from scheduling.outcome import Urgency
from scheduling.ports import Letter, OvenCard, Parcel, Person
from scheduling.record import Record
from scheduling.waking.book import OvenBook
from scheduling.waking.dispatcher import Dispatcher
from scheduling.waking.engine import Engine
from storage.memory import MemoryStore
from tests.bot.conversation.plain_voice import PlainVoice

EVENING = datetime(2026, 5, 20, 17, tzinfo=UTC)
CODES = FirstRunCodes(owner="owner-first-run-code", builder="builder-first-run-code")

SMALL_SET_UP = (
    "C", "Alderby", "brick", "80 cm", "2 May", "sheet", "steel", "550", "any day", "9-18", "just me"
)  # fmt: skip


class FewPlaces:
    """Two towns of one name, one of another, and the sea."""

    def named(self, typed: str) -> tuple[Place, ...]:
        name = typed.partition(",")[0].lower()
        if name == "alderby":
            return (Place(52.2, -1.5, "Europe/London", "Alderby"),)
        if name == "twinton":
            near = Place(51.5, -2.6, "Europe/London", "Twinton", country="United Kingdom")
            far = Place(41.9, -87.6, "America/Chicago", "Twinton", country="United States")
            return (near, far)
        return ()

    def at(self, latitude: float, longitude: float) -> Place:
        if latitude < 0:
            raise NoLandError(latitude, longitude)
        return Place(latitude, longitude, "Europe/London")


class Desk:
    """Drives one reception. Chats are named by who speaks."""

    def __init__(self, builder: str | None = None, channel: str = "terminal") -> None:
        self.clock = SteppedClock(EVENING)
        self.store = MemoryStore()
        self._ids = count(1)
        self.channel = channel
        voice = PlainVoice()
        self.engine: Engine[Record] = Engine(self.store, voice, self.clock, OvenBook(), self.new_id)
        base = Foundation(
            self.store, self.clock, self.engine, self.new_id, (22.0, 7.0), voice, builder
        )
        places: Any = FewPlaces
        self.reception = Reception(base, CODES, SettingUp(places))
        self.listener = Listener(self.clock)
        self.dispatcher = Dispatcher(self.store, self.clock, {channel: self.listener}, self.new_id)
        self._heard: list[Heard] = []
        self._count = count(1)

    def new_id(self) -> str:
        return f"id-{next(self._ids):06d}"

    async def say(self, who: str, text: str, **more: Any) -> list[str]:
        return await self.receive(self.incoming(who, text=text, command=slash(text), **more))

    async def press(self, who: str, key: str) -> list[str]:
        return await self.receive(self.incoming(who, press=key))

    async def press_label(self, who: str, label: str) -> list[str]:
        return await self.press(who, self.listener.key_of(who, label))

    async def receive(self, incoming: Incoming) -> list[str]:
        """Take it in as a channel would; returns what that chat was told for it."""
        async with self.store.write() as unit:
            await unit.inbox.store(row_of(incoming))
            await unit.commit()
        await self.reception.receive(incoming)
        async with self.store.read() as unit:
            waiting = await unit.inbox.waiting(incoming.channel)
        assert incoming.key not in {row.key for row in waiting}, "the inbox row is not done"
        return await self.told(incoming.chat)

    async def told(self, who: str) -> list[str]:
        """What that chat has been told since."""
        await self.dispatcher.deliver()
        self._heard += self.listener.take()
        told = [one.text for one in self._heard if one.to == who]
        self._heard = [one for one in self._heard if one.to != who]
        return told

    def incoming(self, who: str, **what: Any) -> Incoming:
        self.clock.move_to(self.clock.now() + timedelta(seconds=20))
        number = next(self._count)
        told = Incoming(
            self.channel, f"u{number}", who, self.clock.now(), sender_name=who, message=f"m{number}"
        )
        return replace(told, **what)

    async def person(self, who: str) -> Person | None:
        async with self.store.read() as unit:
            return await unit.people.at(self.channel, who)

    async def oven(self, who: str) -> OvenCard:
        person = await self.person(who)
        assert person is not None
        async with self.store.read() as unit:
            (card,) = await unit.ovens.of_person(person.id)
        return card

    async def record(self, who: str) -> Record:
        return await self.engine.record((await self.oven(who)).id)

    async def set_up(self, who: str, **instead: str) -> None:
        """Say everything that the set-up asks."""
        await self.say(who, "/start")
        for answer in SMALL_SET_UP:
            await self.say(who, instead.get(answer, answer))

    async def code(self, person: str, oven: str, choice: Choice) -> str:
        """An invitation: a key that a letter to ``person`` carries."""
        key = f"code-{self.new_id()}"
        now = self.clock.now()
        parcel = Parcel(text="invitation", buttons=(("code",),), choices={"code": choice})
        letter = Letter(
            self.new_id(), person, oven, parcel, Urgency.ANSWER, now, now, button_keys={"code": key}
        )
        async with self.store.write() as unit:
            await unit.outbox.post(letter)
            await unit.commit()
        return key

    async def invited(self, builder: str = "team-b") -> str:
        """A builder's invitation for a new client; returns its code."""
        person = Person(id="p-b", channel=self.channel, address="b", name="b", builder=builder)
        card = OvenCard(id=self.new_id(), name="Alder House", builder=builder, state="invited")
        async with self.store.write() as unit:
            await unit.people.put(person)
            await unit.ovens.put(card)
            await unit.commit()
        return await self.code(person.id, card.id, Command(name=CommandName.START))
