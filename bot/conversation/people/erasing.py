"""Erasing somebody who asks for it, in so many words."""

from contextlib import AsyncExitStack
from datetime import timedelta

from bot.conversation.foundation import Foundation, letter_to, reply
from bot.conversation.incoming import Incoming
from bot.conversation.people.forgetting import forget
from bot.conversation.people.teams import Teams
from bot.conversation.people.telling import team_but, tell
from scheduling.choice import Keep
from scheduling.meaning import (
    AllStays,
    EraseAsked,
    Erased,
    MemberTold,
    OvenGone,
    PersonJoined,
    StillBurning,
)
from scheduling.ports import Erasure, OvenCard, Person, UnitOfWork

ASKED_FOR = timedelta(days=1)
"""How long the answer to the question is taken for one."""


def farewell_of(person_id: str) -> str:
    """The id of somebody's last letter."""
    return f"farewell {person_id}"[:64]


class Erasers:
    """Asks back, then does it; there is no undoing."""

    def __init__(self, base: Foundation, teams: Teams) -> None:
        self._base = base
        self._teams = teams

    async def ask(self, incoming: Incoming, person: Person) -> None:
        """What would go, and how long copies of it last."""
        alone = shared = kept = clients = 0
        async with self._base.store.read() as unit:
            cards = await unit.ovens.of_person(person.id)
            if person.builder is not None and not await team_but(unit, person.builder, person):
                ovens = await unit.ovens.of_builder(person.builder)
                clients = sum(bool(card.owners) for card in ovens)
        for card in cards:
            agreed = (await self._base.engine.record(card.id)).agreed
            if len(card.owners) > 1:
                shared += 1
            elif card.builder is None or agreed in (None, Keep.NOTHING):
                alone += 1
            else:
                kept += 1
        asked = EraseAsked(
            alone=alone,
            shared=shared,
            kept=kept,
            team_clients=clients,
            backup_days=self._base.backup_days,
        )
        await reply(self._base, incoming, person, asked)

    async def answer(self, incoming: Incoming, person: Person, letter_id: str, yes: bool) -> None:
        """They pressed a button of the question; one that is old is asked again."""
        async with self._base.store.read() as unit:
            letter = await unit.outbox.get(letter_id)
            cards = await unit.ovens.of_person(person.id)
        now = self._base.clock.now()
        if not yes:
            await reply(self._base, incoming, person, AllStays())
        elif letter is None or now - letter.created_at > ASKED_FOR:
            await self.ask(incoming, person)
        elif burning := await self._burning(cards):
            await reply(self._base, incoming, person, StillBurning(), burning)
        else:
            await self._erase(incoming, person)

    async def _burning(self, cards: tuple[OvenCard, ...]) -> OvenCard | None:
        """A lit fire that would be left to nobody."""
        for card in cards:
            record = await self._base.engine.record(card.id)
            if len(card.owners) == 1 and record.session is not None:
                return card
        return None

    async def _erase(self, incoming: Incoming, person: Person) -> None:
        await self._teams.dissolve(person)
        now = self._base.clock.now()
        async with AsyncExitStack() as still:
            async with self._base.store.read() as unit:
                ids = {card.id for card in await unit.ovens.of_person(person.id)}
                ids |= set(await unit.ovens.written_by(person.id))
                if person.builder is not None:
                    ids |= {card.id for card in await unit.ovens.of_builder(person.builder)}
            for oven_id in sorted(ids):
                await still.enter_async_context(self._base.engine.standing_still(oven_id))
            async with self._base.store.write() as unit:
                if not await unit.inbox.done(incoming.channel, incoming.key):
                    return
                before = await unit.ovens.of_person(person.id)
                others = await team_but(unit, person.builder, person)
                kept = await forget(unit, person, now)
                await self._tell_others(unit, person, before, kept)
                # Without a name: a colleague who asked to be forgotten is not named once more.
                await tell(unit, self._base, others, MemberTold(name="", left=True))
                await self._say_farewell(
                    unit, person, Erasure(person=person.id, asked_at=now, kept=kept)
                )
                await unit.commit()

    async def _tell_others(
        self,
        unit: UnitOfWork,
        person: Person,
        before: tuple[OvenCard, ...],
        kept: tuple[str, ...],
    ) -> None:
        """Who tends an oven with them, or looks after it, hears that they are gone."""
        for card in before:
            others = [await unit.people.get(one) for one in card.owners if one != person.id]
            stay = [one for one in others if one is not None]
            if stay:
                gone = PersonJoined(person="somebody", left=True)
                await tell(unit, self._base, stay, gone, oven=card.id)
            elif card.builder is not None:
                team = await team_but(unit, card.builder, person)
                keeps = Keep.NAMELESS if card.id in kept else Keep.NOTHING
                await tell(unit, self._base, team, OvenGone(keeps=keeps))

    async def _say_farewell(self, unit: UnitOfWork, person: Person, erasure: Erasure) -> None:
        """Their last letter. Whatever else was on its way to them is not sent any more."""
        await unit.outbox.forget(person.id)
        last = letter_to(
            self._base,
            person,
            Erased(backup_days=self._base.backup_days),
            letter_id=farewell_of(person.id),
        )
        await unit.outbox.post(last)
        await unit.erasures.put(erasure)
