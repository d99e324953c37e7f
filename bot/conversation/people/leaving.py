"""Leaving an oven, and what a builder may keep of it."""

from bot.conversation.door import NothingHereError, oven_at_hand, oven_for, tends
from bot.conversation.foundation import Foundation, letter_to, reply
from bot.conversation.incoming import Incoming
from bot.conversation.people.arriving import part_from
from bot.conversation.people.forgetting import let_go
from bot.conversation.people.teams import Teams
from bot.conversation.people.telling import team_but, tell
from bot.understanding.phones import written_forms
from scheduling.choice import Agreeing, Keep, Leaving, LookingAfter, Tending
from scheduling.happening import Chose
from scheduling.meaning import (
    AllStays,
    LeaveAsked,
    LeftTold,
    NothingHere,
    OvenGone,
    StillBurning,
)
from scheduling.ports import OvenCard, Person, UnitOfWork


class Leavers:
    """Asks back, then does it."""

    def __init__(self, base: Foundation, teams: Teams) -> None:
        self._base = base
        self._teams = teams

    async def ask(self, incoming: Incoming, person: Person, *, team: bool = False) -> None:
        """The oven at hand first; a builder's ``team`` where that is meant, or they tend none."""
        async with self._base.store.read() as unit:
            oven = None if team else await oven_at_hand(unit, person)
            asked = None if oven is not None else await self._team(unit, person)
        if oven is not None:
            record = await self._base.engine.record(oven.id)
            asked = LeaveAsked(
                what="oven",
                which=oven.id,
                name="" if oven.name == person.name else oven.name,
                last=len(oven.owners) == 1,
                builder=oven.builder is not None,
                keeps=record.agreed,
            )
        await reply(self._base, incoming, person, asked or NothingHere(), oven)

    async def leave(self, incoming: Incoming, person: Person, choice: Leaving) -> None:
        """Do what was chosen, or stay."""
        if not choice.yes:
            await reply(self._base, incoming, person, AllStays())
        elif choice.what == "oven":
            await self._oven(incoming, person, choice)
        elif choice.which == person.builder:
            await self._teams.leave(incoming, person)
        else:
            await reply(self._base, incoming, person, NothingHere())

    async def agree(
        self, incoming: Incoming, person: Person, oven_id: str, choice: Agreeing
    ) -> None:
        """What the builder may keep. After the end it holds at once: they part, unless all of it
        may be kept."""
        card = await self._theirs(person, oven_id)
        if card is None:
            await reply(self._base, incoming, person, NothingHere())
            return
        inbox = (incoming.channel, incoming.key)
        ended = (await self._base.engine.record(card.id)).finished
        parting = ended and choice.keeps is not Keep.NAMED and card.builder is not None
        agreed = Chose(person.id, choice)
        if not parting:
            await self._base.engine.happen(card.id, agreed, inbox=inbox)
            return
        await self._base.engine.happen(card.id, agreed)

        async def part(unit: UnitOfWork) -> bool:
            await part_from(unit, self._base, card)
            return True

        parted = Chose(person.id, LookingAfter(builder=None))
        await self._base.engine.happen(card.id, parted, inbox=inbox, also=part)

    async def _oven(self, incoming: Incoming, person: Person, choice: Leaving) -> None:
        card = await self._theirs(person, choice.which)
        if card is None:
            await reply(self._base, incoming, person, NothingHere())
            return
        last = len(card.owners) == 1
        if last and (await self._base.engine.record(card.id)).session is not None:
            await reply(self._base, incoming, person, StillBurning(), card)
            return
        keeps = (choice.keeps or Keep.NOTHING) if last else None
        if card.builder is None and last:
            keeps = Keep.NOTHING
        if keeps in (None, Keep.NAMED):
            await self._by_the_road(incoming, person, card, keeps)
        else:
            await self._for_good(incoming, person, card, keeps or Keep.NOTHING)

    async def _by_the_road(
        self, incoming: Incoming, person: Person, card: OvenCard, keeps: Keep | None
    ) -> None:
        """They go, and the record stays as it is."""

        async def say_so(unit: UnitOfWork) -> bool:
            told = LeftTold(what="oven", keeps=keeps)
            await unit.outbox.post(letter_to(self._base, person, told))
            return True

        going = Tending(person=person.id, joined=False, keeps=keeps)
        inbox = (incoming.channel, incoming.key)
        await self._base.engine.happen(card.id, Chose(person.id, going), inbox=inbox, also=say_so)

    async def _for_good(
        self, incoming: Incoming, person: Person, card: OvenCard, keeps: Keep
    ) -> None:
        """They go, and their traces with them."""
        async with self._base.engine.standing_still(card.id), self._base.store.write() as unit:
            if not await unit.inbox.done(incoming.channel, incoming.key):
                return
            team = await team_but(unit, card.builder, person)
            words = (person.name, *written_forms(person.phone))
            await let_go(unit, card, keeps, self._base.clock.now(), words)
            gone = OvenGone(oven=card.name, keeps=keeps)
            await tell(unit, self._base, team, gone)
            told = LeftTold(
                what="oven",
                keeps=keeps if card.builder is not None else None,
                erased=keeps is Keep.NOTHING,
            )
            await unit.outbox.post(letter_to(self._base, person, told))
            await unit.commit()

    async def _theirs(self, person: Person, oven_id: str) -> OvenCard | None:
        """The oven, if they tend it themselves."""
        async with self._base.store.read() as unit:
            try:
                card = await oven_for(unit, person, oven_id)
            except NothingHereError:
                return None
        return card if tends(person, card) else None

    async def _team(self, unit: UnitOfWork, person: Person) -> LeaveAsked | None:
        builder = await unit.builders.get(person.builder) if person.builder else None
        if builder is None:
            return None
        last = not await team_but(unit, builder.id, person)
        clients = [card for card in await unit.ovens.of_builder(builder.id) if card.owners]
        return LeaveAsked(
            what="team", which=builder.id, name=builder.name, last=last, clients=len(clients)
        )
