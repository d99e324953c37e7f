"""A builder's side as it is lived: the real house over a store in memory, on a clock moved by hand.

Beliefs are left to the rule of thumb, for speed; the wall has stories of its own.
"""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

from bot.conversation.chat import CHANNEL, Chat
from bot.conversation.foundation import Foundation
from bot.conversation.heard import Heard, Listener
from bot.conversation.links import Links
from bot.conversation.office import MorningDigest
from bot.conversation.reception import Reception
from bot.conversation.setting_up import SettingUp
from bot.house import House
from bot.wiring import seeded_id
from bot.wording.voice import Voice
from scheduling.choice import About
from scheduling.clock import SteppedClock
from scheduling.happening import Begun
from scheduling.ports import OvenCard, Person, Store
from scheduling.record import Record
from scheduling.waking.book import OvenBook
from scheduling.waking.dispatcher import Dispatcher
from scheduling.waking.engine import Engine
from storage.memory import MemoryStore
from tests.bot.conversation.desk import FewPlaces
from tests.scheduling.road import ANSWERS

FRIDAY = datetime(2026, 5, 1, 8, 0, tzinfo=UTC)
TEAM = "team-hearths"
MINUTE = timedelta(minutes=1)


class QuickBook(OvenBook):
    """Records that plan by the rule of thumb alone."""

    def empty(self, card: OvenCard) -> Record:
        return Record(oven=card.id, members=0)


class Van:
    """A team and its clients. ``heard`` is all that anybody was told, in order."""

    def __init__(self, store: Store | None = None, start: datetime = FRIDAY) -> None:
        self.clock = SteppedClock(start)
        self.store: Store = store or MemoryStore()
        self.new_id = seeded_id(7)
        self.voice = Voice()
        self.heard: list[Heard] = []
        self.listener = Listener(self.clock)
        self.links = Links()
        self.open()

    def open(self) -> None:
        """Begin anew over the same store, as after a crash."""
        self.engine: Engine[Record] = Engine(
            self.store, self.voice, self.clock, QuickBook(), self.new_id
        )
        dispatcher = Dispatcher(self.store, self.clock, {CHANNEL: self.listener})
        base = Foundation(
            self.store,
            self.clock,
            self.engine,
            self.new_id,
            (22.0, 7.0),
            self.voice,
            links=self.links,
        )
        places: Any = FewPlaces
        digest = MorningDigest(self.store, self.clock, self.voice, self.new_id)
        house = House(
            self.store,
            self.clock,
            self.engine,
            dispatcher,
            Reception(base, None, SettingUp(places)),
            chores=(digest,),
        )
        self.chat = Chat(self.clock, self.store, house, house, self.listener)

    # ------------------------------------------------------------ who is there

    async def team(self, *names: str, **known: object) -> None:
        for name in names:
            await self.person(name, builder=TEAM, zone="Europe/London", **known)

    async def person(self, name: str, **known: object) -> Person:
        values = {"id": name, "channel": CHANNEL, "address": name, "name": name.capitalize()}
        person = Person.model_validate(values | known)
        async with self.store.write() as unit:
            await unit.people.put(person)
            await unit.commit()
        return person

    async def client(
        self,
        name: str,
        builder: str | None = TEAM,
        oven: str = "",
        owner: str | None = None,
        **answers: str,
    ) -> str:
        """An oven just described; returns its id."""
        person = owner or name
        async with self.store.read() as unit:
            known = await unit.people.get(person)
        if known is None:
            await self.person(person, zone="Europe/London", quiet_from=None, quiet_until=None)
        card = OvenCard(
            id=f"oven-{name}", name=oven or name.capitalize(), builder=builder, owners=(person,)
        )
        async with self.store.write() as unit:
            await unit.ovens.put(card)
            await unit.commit()
        instead = {About(about): value for about, value in answers.items()}
        given = tuple((ANSWERS | instead).items())
        await self.engine.happen(card.id, Begun(person, oven, builder, given=given))
        return card.id

    # ------------------------------------------------------------ what happens

    @property
    def now(self) -> datetime:
        return self.clock.now()

    async def say(self, who: str, text: str, after: timedelta = MINUTE) -> list[str]:
        """What ``who`` was told for it."""
        return self._told(who, await self.chat.say(who, text, self.now + after))

    async def reply(self, who: str, to: Heard, text: str, after: timedelta = MINUTE) -> list[str]:
        """What ``who`` was told for an answer to one message of ours."""
        return self._told(who, await self.chat.say(who, text, self.now + after, to.ref))

    async def press(self, who: str, label: str, after: timedelta = MINUTE) -> list[str]:
        return self._told(who, await self.chat.press(who, label, self.now + after))

    async def photo(self, who: str, caption: str | None = None) -> list[str]:
        return self._told(who, await self.chat.photo(who, self.now + MINUTE, caption))

    async def wait(self, minutes: float = 0.0, *, hours: float = 0.0) -> list[Heard]:
        return await self.until(self.now + timedelta(minutes=minutes, hours=hours))

    async def until(self, then: datetime) -> list[Heard]:
        heard = await self.chat.pass_time(then)
        self.heard += heard
        return heard

    async def lights(self, *who: str) -> None:
        """The first fire of each, lit on the day it was promised for."""
        for name in who:
            record = await self.record(name)
            start = record.promise[0].start
            if start > self.now:
                await self.until(start)
            await self.say(name, "14")
            await self.say(name, "lit")

    # ------------------------------------------------------------ what was told

    def told(self, who: str) -> list[str]:
        """Everything that ``who`` was ever told."""
        return [one.text for one in self.heard if one.to == who]

    def last(self, who: str) -> Heard:
        return next(one for one in reversed(self.heard) if one.to == who)

    async def record(self, name: str) -> Record:
        return await self.engine.record(f"oven-{name}")

    async def card(self, name: str) -> OvenCard:
        async with self.store.read() as unit:
            card = await unit.ovens.get(f"oven-{name}")
        assert card is not None
        return card

    def _told(self, who: str, heard: Sequence[Heard]) -> list[str]:
        self.heard += heard
        return [one.text for one in heard if one.to == who]

    async def chat_person(self, who: str) -> Person:
        async with self.store.read() as unit:
            person = await unit.people.at(CHANNEL, who)
        assert person is not None
        return person
