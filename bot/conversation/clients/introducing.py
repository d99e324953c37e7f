"""A builder's first meeting: what clients know them by, what they are called, where they are."""

from datetime import datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from bot.conversation.door import oven_at_hand
from bot.conversation.foundation import Foundation, letter_to, reply
from bot.conversation.incoming import Incoming
from bot.conversation.people.teams import NAME_LIMIT
from bot.conversation.setting_up import SettingUp
from scheduling.choice import Introducing
from scheduling.meaning import Introduced, IntroductionAsked, NothingHere
from scheduling.meaning.introducing import Introduction
from scheduling.oven.makeup import known_zones
from scheduling.ports import Asking, InHand, Person

ORDER: Final[tuple[Introduction, ...]] = ("team_name", "own_name", "town")
OF_A_MEMBER: Final = ORDER[1:]
"""Whoever joins a team does not name it."""

OPEN: Final = timedelta(minutes=30)
"""So long the next words answer a question (own choice): later ones are meant otherwise."""


class Introductions:
    """Every verb answers."""

    def __init__(self, base: Foundation, setting_up: SettingUp) -> None:
        self._base = base
        self._setting_up = setting_up

    async def begin(self, before: Person) -> None:
        """Ask the first question of who has come to a team just now; nothing for anybody else, nor
        for who is let in while an oven of their own may be asking them: it has their town, and
        their next words are for it."""
        async with self._base.store.read() as unit:
            person = await unit.people.get(before.id)
            if person is None or person.builder is None or before.builder is not None:
                return
            builder = await unit.builders.get(person.builder)
            hand = await unit.hands.of(person.id)
            own = await oven_at_hand(unit, person)
        founded = builder is not None and builder.founder == person.id
        if own is not None and not founded:
            return
        what = ORDER[0] if founded else OF_A_MEMBER[0]
        asked = await self._question(person, what, first=True)
        async with self._base.store.write() as unit:
            await unit.hands.put(self._asking(hand, what, first=True))
            await unit.outbox.post(letter_to(self._base, person, asked))
            await unit.commit()

    async def press(
        self, incoming: Incoming, person: Person, said: Introducing, hand: InHand
    ) -> None:
        """A button: a town that was meant, a question wanted again, or that all may stay."""
        if person.builder is None:
            await reply(self._base, incoming, person, NothingHere())
        elif said.value:
            await self._note(incoming, person, said.what, said.value, hand, first=said.first)
        elif said.first:
            await self._go_on(incoming, person, said.what, hand)
        else:
            await self.ask(incoming, person, said.what, hand)

    async def ask(
        self, incoming: Incoming, person: Person, what: Introduction, hand: InHand
    ) -> None:
        """One question, by itself."""
        asked = await self._question(person, what)
        hand = self._asking(hand, what, first=False)
        await reply(self._base, incoming, person, asked, hand=hand)

    async def hear(
        self,
        incoming: Incoming,
        person: Person,
        what: Introduction,
        words: str,
        hand: InHand,
        *,
        first: bool = False,
    ) -> None:
        """Take what was typed; a town is asked back where several bear its name."""
        words = " ".join(words.split())
        if what != "town":
            await self._note(incoming, person, what, words[:NAME_LIMIT], hand, first=first)
            return
        towns = await self._setting_up.towns(words)
        if len(towns) == 1:
            await self._note(incoming, person, what, towns[0].value, hand, first=first)
            return
        asked = await self._question(person, what, first=first)
        asked = asked.model_copy(
            update={"options": towns, "strange": "" if towns else words[:NAME_LIMIT]}
        )
        hand = self._asking(hand, what, first=first)
        await reply(self._base, incoming, person, asked, hand=hand)

    async def _note(
        self,
        incoming: Incoming,
        person: Person,
        what: Introduction,
        value: str,
        hand: InHand,
        *,
        first: bool,
    ) -> None:
        """Keep it; then the next question of a first meeting, or that it is kept."""
        zone, _, town = value.partition("|") if what == "town" else ("", "", value)
        if not town or (zone and zone not in known_zones()):
            await self.ask(incoming, person, what, hand)
            return
        person = await self._keep(person, what, town, zone)
        if first:
            await self._go_on(incoming, person, what, hand, town)
            return
        noted = Introduced(what=what, value=town)
        put_down = hand.model_copy(update={"asking": None})
        await reply(self._base, incoming, person, noted, hand=put_down)

    async def _go_on(
        self,
        incoming: Incoming,
        person: Person,
        what: Introduction,
        hand: InHand,
        value: str = "",
    ) -> None:
        """The question after this one; after the last, what to do first."""
        after = ORDER[ORDER.index(what) + 1 :]
        if after:
            asked = await self._question(person, after[0], first=True)
            hand = self._asking(hand, after[0], first=True)
            await reply(self._base, incoming, person, asked, hand=hand)
            return
        done = Introduced(what=what, value=value, kept=not value, first=True)
        put_down = hand.model_copy(update={"asking": None})
        await reply(self._base, incoming, person, done, hand=put_down)

    async def _keep(self, person: Person, what: Introduction, value: str, zone: str) -> Person:
        changed = {"name": value} if what == "own_name" else {"zone": zone} if zone else {}
        person = person.model_copy(update=changed)
        async with self._base.store.write() as unit:
            await unit.people.put(person)
            builder = await unit.builders.get(person.builder or "")
            if what == "team_name" and builder is not None:
                await unit.builders.put(builder.model_copy(update={"name": value}))
            await unit.commit()
        return person

    async def _question(
        self, person: Person, what: Introduction, *, first: bool = False
    ) -> IntroductionAsked:
        known = person.name
        if what == "team_name":
            async with self._base.store.read() as unit:
                builder = await unit.builders.get(person.builder or "")
            known = builder.name if builder is not None else person.name
        elif what == "town":
            known = "" if person.zone == "UTC" else self._clock(person.zone)
        return IntroductionAsked(what=what, known=known, first=first)

    def _clock(self, zone: str) -> str:
        local = self._base.clock.now().astimezone(ZoneInfo(zone))
        return f"{local.hour}:{local:%M}"

    def _asking(self, hand: InHand, what: Introduction, *, first: bool) -> InHand:
        asking = Asking(what=what, at=self._base.clock.now(), first=first)
        return hand.model_copy(update={"asking": asking})


def is_open(asking: Asking, now: datetime) -> bool:
    """Whether the next words still answer it."""
    return now - asking.at <= OPEN
