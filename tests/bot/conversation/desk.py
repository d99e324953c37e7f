"""A reception over a store in memory: what comes in is told in one line, what goes out is read."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import count
from typing import Any

from bot.conversation.foundation import Foundation, Quiet
from bot.conversation.heard import Heard, Listener
from bot.conversation.incoming import Incoming, slash
from bot.conversation.links import Links
from bot.conversation.people.arriving import FirstRunCodes
from bot.conversation.people.sweeping import Sweeping
from bot.conversation.reception import Reception
from bot.conversation.setting_up import SettingUp
from bot.conversation.stored import row_of
from bot.places import NoLandError, Place
from scheduling.choice import Choice
from scheduling.clock import SteppedClock
from scheduling.journal import Entry
from scheduling.outcome import Urgency
from scheduling.ports import Letter, OutboxState, OvenCard, Parcel, Person, Store, Voice
from scheduling.record import Record
from scheduling.waking.book import OvenBook
from scheduling.waking.dispatcher import Dispatcher
from scheduling.waking.engine import Engine
from storage.memory import MemoryStore
from tests.bot.conversation.plain_voice import PlainVoice

EVENING = datetime(2026, 5, 20, 17, tzinfo=UTC)
CODES = FirstRunCodes(owner="owner-first-run-code", builder="builder-first-run-code")

SMALL_SET_UP = (
    "C", "Alderby", "brick", "80 cm", "2 May", "sheet", "steel, no flue", "550", "any day", "9-18",
    "just me",
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

    def __init__(
        self,
        builder: str | None = None,
        channel: str = "terminal",
        voice: Voice | None = None,
        store: Store | None = None,
        clock: SteppedClock | None = None,
        listener: Listener | None = None,
        quiet: Quiet = (22.0, 7.0),
        first_id: int = 1,
    ) -> None:
        """``first_id`` goes on where another desk left off at the same ``store``."""
        self.clock = clock or SteppedClock(EVENING)
        self.store = store or MemoryStore()
        self._ids = count(first_id)
        self.channel = channel
        voice = voice or PlainVoice()
        self.engine: Engine[Record] = Engine(self.store, voice, self.clock, OvenBook(), self.new_id)
        base = Foundation(
            self.store,
            self.clock,
            self.engine,
            self.new_id,
            quiet,
            voice,
            builder,
            Links("stoke_bot"),
            7,
        )
        self.sweeping = Sweeping(self.store, self.clock)
        places: Any = FewPlaces
        self.reception = Reception(base, CODES, SettingUp(places))
        self.listener = listener or Listener(self.clock)
        self.dispatcher = Dispatcher(
            self.store, self.clock, {channel: self.listener}, again=voice.again
        )
        self._heard: list[Heard] = []
        self._count = count(first_id)

    def new_id(self) -> str:
        return f"id-{next(self._ids):012d}"

    async def say(self, who: str, text: str, **more: Any) -> list[str]:
        return await self.receive(self.incoming(who, text=text, command=slash(text), **more))

    async def press(self, who: str, key: str) -> list[str]:
        return await self.receive(self.incoming(who, press=key))

    async def press_label(self, who: str, label: str) -> list[str]:
        return await self.press(who, self.listener.key_of(who, label))

    async def receive(self, incoming: Incoming) -> list[str]:
        """Take it in as a channel would; returns what that chat was told for it."""
        await self.take_in(incoming)
        async with self.store.read() as unit:
            waiting = await unit.inbox.waiting(incoming.channel)
        assert incoming.key not in {row.key for row in waiting}, "the inbox row is not done"
        return await self.told(incoming.chat)

    async def take_in(self, incoming: Incoming) -> None:
        """The same, and nothing is sent yet."""
        async with self.store.write() as unit:
            await unit.inbox.store(row_of(incoming))
            await unit.commit()
        await self.reception.receive(incoming)

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

    def commanded(self, incoming: Incoming) -> Incoming:
        """What was typed, as a channel that knows commands hands it on."""
        return replace(incoming, command=slash(incoming.text or ""))

    async def write_down(self, who: str, *entries: Entry) -> None:
        """Put entries into the journal of their oven, as if they had come about."""
        oven = await self.oven(who)
        async with self.engine.standing_still(oven.id), self.store.write() as unit:
            journal = await unit.ovens.journal(oven.id)
            await unit.ovens.append(oven.id, len(journal), entries)
            await unit.commit()

    async def set_up(self, who: str, **instead: str) -> None:
        """Say everything that the set-up asks."""
        await self.say(who, "/start")
        for answer in SMALL_SET_UP:
            await self.say(who, instead.get(answer, answer))

    async def button(self, person: str, oven: str | None, choice: Choice) -> str:
        """The key of a button that a letter to ``person`` carries."""
        key = f"key-{self.new_id()}"
        now = self.clock.now()
        parcel = Parcel(text="a letter", buttons=(("tap",),), choices={"tap": choice})
        letter = Letter(
            self.new_id(),
            person,
            oven,
            parcel,
            Urgency.ANSWER,
            now,
            now,
            state=OutboxState.SENT,
            button_keys={"tap": key},
        )
        async with self.store.write() as unit:
            await unit.outbox.post(letter)
            await unit.commit()
        return key

    # ------------------------------------------------------------ builders and invitations

    async def founded(self, who: str, name: str = "") -> str:
        """Somebody becomes a builder; returns the id of their team."""
        await self.say(who, f"/start {CODES.builder}")
        if name:
            await self.say(who, f"/team name {name}")
        person = await self.person(who)
        assert person is not None
        assert person.builder is not None
        return person.builder

    async def invitation(self, who: str, command: str) -> str:
        """Somebody makes an invitation by a command; returns its code."""
        told = await self.say(who, command)
        (code,) = (one.removeprefix("invitation_made ") for one in told if "invitation_made" in one)
        return code

    async def member(self, who: str, builder: str) -> Person:
        """Somebody comes into that builder's team, and is let in."""
        code = await self.invitation(builder, f"/team {who}")
        await self.say(who, f"/start {code}")
        await self.press_label(builder, "Let them in")
        person = await self.person(who)
        assert person is not None
        return person

    async def client(self, who: str, builder: str) -> OvenCard:
        """A client comes by an invitation of that builder."""
        code = await self.invitation(builder, f"/invite {who}’s oven")
        await self.say(who, f"/start {code}")
        return await self.oven(who)
