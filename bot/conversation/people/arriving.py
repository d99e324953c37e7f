"""What a code opens, and the moving of an oven from one builder to another."""

import hmac
from dataclasses import dataclass

from bot.conversation.door import NothingHereError, oven_at_hand, oven_for, tends
from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.people.keepsakes import agreed_in, keep_copy
from bot.conversation.people.phones import give_phone
from bot.conversation.people.teams import Teams
from bot.conversation.people.telling import builder_name, tell
from bot.ways.applying import ways_of
from scheduling.choice import Accepting, LookingAfter, Tending
from scheduling.happening import Begun, Chose
from scheduling.meaning import (
    CopyKept,
    InvitationUsed,
    InvitationYours,
    MoveAsked,
    MoveLeft,
    NothingHere,
)
from scheduling.ports import Invitation, Opens, OvenCard, Person, UnitOfWork, digest_of


@dataclass(frozen=True, slots=True)
class FirstRunCodes:
    """What the person who installed the bot sends it first, as an owner alone or as a builder."""

    owner: str
    builder: str

    def opens(self, code: str) -> Opens | None:
        """What ``code`` opens, in the time that any other takes; None for nothing."""
        # As bytes: of text only ASCII can be compared so.
        told = code.encode("utf-8", "replace")
        if hmac.compare_digest(told, self.builder.encode()):
            return Opens.MEMBER
        return Opens.OVEN if hmac.compare_digest(told, self.owner.encode()) else None


class Arriving:
    """Takes codes. Nobody is told whether one that opens nothing was ever one."""

    def __init__(self, base: Foundation, codes: FirstRunCodes | None, teams: Teams) -> None:
        self._base = base
        self._codes = codes
        self._teams = teams

    async def with_code(self, incoming: Incoming, person: Person, code: str) -> bool:
        """Act on a code; False where it opens nothing: then it is a message like any other."""
        first = self._codes.opens(code) if self._codes is not None else None
        if first is Opens.MEMBER:
            await self._teams.found(incoming, person)
            return True
        if first is Opens.OVEN:
            return await self._alone(incoming, person)
        async with self._base.store.read() as unit:
            found = await unit.invitations.by_digest(digest_of(code))
            if found is None or not found.is_open(self._base.clock.now()):
                return False
            yours = await self._is_theirs(unit, person, found)
        if yours:
            await reply(self._base, incoming, person, InvitationYours())
        elif found.opens is Opens.MEMBER:
            await self._teams.ask(incoming, person, found)
        elif found.opens is Opens.SECOND:
            await self._second(incoming, person, found)
        else:
            await self._client(incoming, person, found)
        return True

    async def accept(self, incoming: Incoming, person: Person, choice: Accepting) -> None:
        """What they want to do with a builder's invitation."""
        async with self._base.store.read() as unit:
            found = await unit.invitations.get(choice.invitation)
            usable = (
                found is not None
                and found.opens is Opens.OVEN
                and found.is_open(self._base.clock.now())
            )
        if found is None or not usable:
            await reply(self._base, incoming, person, NothingHere())
        elif choice.how == "no":
            await reply(self._base, incoming, person, MoveLeft())
        elif choice.how == "new":
            await self._begin(incoming, person, found)
        else:
            await self._move(incoming, person, found, choice.oven or "")

    # ------------------------------------------------------------ ovens

    async def _alone(self, incoming: Incoming, person: Person) -> bool:
        """The first-run code of an owner: an oven, unless they have one to go on with."""
        async with self._base.store.read() as unit:
            if await oven_at_hand(unit, person) is not None:
                return False
        await self._begin(incoming, person, None)
        return True

    async def _client(self, incoming: Incoming, person: Person, found: Invitation) -> None:
        """An oven of their own; asked first where they have one that another looks after."""
        async with self._base.store.read() as unit:
            oven = await oven_at_hand(unit, person)
            to = await builder_name(unit, found.builder)
            now = await builder_name(unit, oven.builder) if oven is not None else ""
        if oven is None or oven.builder == found.builder:
            await self._begin(incoming, person, found)
            return
        record = await self._base.engine.record(oven.id)
        asked = MoveAsked(
            invitation=found.id,
            oven=oven.id,
            oven_name="" if oven.name == person.name else oven.name,
            to=to,
            now=now if oven.builder is not None else None,
            keeps=record.agreed,
        )
        await reply(self._base, incoming, person, asked, oven)

    async def _begin(self, incoming: Incoming, person: Person, found: Invitation | None) -> None:
        """A new oven enters the book, and the first question of its set-up is asked."""
        now = self._base.clock.now()
        name = (found.name if found is not None else "") or person.name
        builder = found.builder if found is not None else None
        card = OvenCard(id=self._base.new_id(), name=name, builder=builder, owners=(person.id,))
        async with self._base.store.write() as unit:
            used = found is None or await unit.invitations.use(found.id, person.id, now)
            by = await builder_name(unit, builder)
            ways = await ways_of(unit, builder, now)
            if used:
                await unit.ovens.put(card)
                await self._hand_over_phone(unit, person, found)
                await unit.commit()
        if not used:
            await reply(self._base, incoming, person, NothingHere())
            return

        async def tell_builder(unit: UnitOfWork) -> bool:
            if builder is not None:
                told = InvitationUsed(opens="oven", name=name)
                await tell(unit, self._base, await unit.people.team(builder), told, oven=card.id)
            return True

        begun = Begun(
            person.id,
            "" if name == person.name else name,
            builder,
            by,
            given=found.given if found is not None else (),
            given_by=found.made_by if found is not None else "",
            model=found.model if found is not None else "",
            ways=ways,
        )
        inbox = (incoming.channel, incoming.key)
        await self._base.engine.happen(card.id, begun, inbox=inbox, also=tell_builder)

    async def _hand_over_phone(
        self, unit: UnitOfWork, person: Person, found: Invitation | None
    ) -> None:
        """From here on the number that the invitation was made with is theirs, and their own word
        comes before it."""
        if found is None or not found.phone:
            return
        used = await unit.invitations.get(found.id)
        if used is not None:
            await unit.invitations.put(used.model_copy(update={"phone": ""}))
        if not person.phone:
            by = await unit.people.get(found.made_by)
            await give_phone(unit, self._base, person, found.phone, by)

    async def _second(self, incoming: Incoming, person: Person, found: Invitation) -> None:
        """Whoever answers at the fire counts."""
        now = self._base.clock.now()

        async def use(unit: UnitOfWork) -> bool:
            return await unit.invitations.use(found.id, person.id, now)

        chose = Chose(person.id, Tending(person=person.id), key=f"invitation:{found.id}")
        inbox = (incoming.channel, incoming.key)
        done = await self._base.engine.happen(found.oven or "", chose, inbox=inbox, also=use)
        if done is None:
            await reply(self._base, incoming, person, NothingHere())

    async def _move(
        self, incoming: Incoming, person: Person, found: Invitation, oven_id: str
    ) -> None:
        """Their oven goes to the inviting builder, with its record."""
        now, inbox = self._base.clock.now(), (incoming.channel, incoming.key)
        try:
            async with self._base.store.read() as unit:
                card = await oven_for(unit, person, oven_id)
                name = await builder_name(unit, found.builder)
            if not tends(person, card):
                raise NothingHereError(oven_id)
        except NothingHereError:
            await reply(self._base, incoming, person, NothingHere())
            return

        async def hand_over(unit: UnitOfWork) -> bool:
            if not await unit.invitations.use(found.id, person.id, now):
                return False
            await part_from(unit, self._base, card)
            return True

        chose = Chose(person.id, LookingAfter(builder=found.builder, name=name))
        done = await self._base.engine.happen(card.id, chose, inbox=inbox, also=hand_over)
        if done is None:
            await reply(self._base, incoming, person, NothingHere())

    async def _is_theirs(self, unit: UnitOfWork, person: Person, found: Invitation) -> bool:
        """Whether it is theirs to pass on, and not to use."""
        if found.opens is Opens.SECOND:
            card = await unit.ovens.get(found.oven or "")
            return card is not None and tends(person, card)
        return person.builder is not None and person.builder == found.builder


async def part_from(unit: UnitOfWork, base: Foundation, card: OvenCard) -> None:
    """Leave with the builder who looked after ``card`` what its owner agreed to, and show them
    where it is."""
    entries = [one.entry for one in await unit.ovens.journal(card.id)]
    await unit.hands.put_down(card.id)
    if card.builder is None:
        return
    copy = await keep_copy(unit, base.new_id(), card, entries, base.clock.now())
    if copy is not None:
        kept = CopyKept(oven=copy.name, keeps=agreed_in(entries))
        await tell(unit, base, await unit.people.team(card.builder), kept, about=copy)
