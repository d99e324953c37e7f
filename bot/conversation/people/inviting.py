"""Invitations: made, listed, taken back."""

from datetime import datetime, timedelta

from bot.conversation.door import NothingHereError, oven_at_hand, oven_for, tends
from bot.conversation.foundation import Foundation, letter_to, reply
from bot.conversation.incoming import Incoming
from bot.conversation.people.telling import builder_name
from bot.understanding.phones import without_phone
from scheduling.emergency import country_of
from scheduling.meaning import (
    InvitationMade,
    InvitationRevoked,
    InvitationsShown,
    NothingHere,
    OpenInvitation,
    PhoneUnclear,
)
from scheduling.ports import Asking, Invitation, Opens, OvenCard, Person, UnitOfWork, digest_of

GOOD_FOR = {
    Opens.OVEN: timedelta(days=30),
    Opens.SECOND: timedelta(days=7),
    Opens.MEMBER: timedelta(days=2),
}
"""After this an invitation has expired (own choice: the more it opens, the shorter)."""

NAME_LIMIT = 80
SHOWN = 10
"""Invitations in one list: a button for each."""


class Inviting:
    """What a person may invite to: their own oven, or, in a builder's team, clients and members."""

    def __init__(self, base: Foundation) -> None:
        self._base = base

    async def make(
        self,
        incoming: Incoming,
        person: Person,
        opens: Opens,
        name: str = "",
        oven_id: str | None = None,
    ) -> None:
        """Make one and show its code, this once."""
        async with self._base.store.read() as unit:
            oven = await self._oven(unit, person, oven_id) if opens is Opens.SECOND else None
            allowed = person.builder is not None if oven is None else True
            name_of_builder = await builder_name(unit, person.builder)
            known = person.builder and await unit.builders.get(person.builder)
        if not allowed or (opens is Opens.SECOND and oven is None) or (oven is None and not known):
            await reply(self._base, incoming, person, NothingHere())
            return
        named, phone = without_phone(name, country_of(person.zone))
        if phone is not None and phone.unclear:
            await reply(self._base, incoming, person, PhoneUnclear(oven=named))
            return
        number = phone.number if phone is not None and opens is Opens.OVEN else ""
        await self._make(incoming, person, opens, named, number, oven, name_of_builder)

    async def _make(
        self,
        incoming: Incoming,
        person: Person,
        opens: Opens,
        name: str,
        phone: str,
        oven: OvenCard | None,
        of_builder: str,
        before: Invitation | None = None,
    ) -> None:
        """``before`` is an open one that this takes the place of, with all that is filled in."""
        now, code = self._base.clock.now(), self._base.new_id()
        made = Invitation(
            id=self._base.new_id(),
            digest=digest_of(code),
            opens=opens,
            builder=person.builder if oven is None else None,
            oven=oven.id if oven is not None else None,
            name=" ".join(name.split())[:NAME_LIMIT],
            phone=phone,
            made_by=person.id,
            made_at=now,
            expires_at=now + GOOD_FOR[opens],
            given=before.given if before is not None else (),
            model=before.model if before is not None else "",
        )
        shown = InvitationMade(
            invitation=made.id,
            opens=opens.value,
            code=code,
            link=self._base.links.to(code),
            expires_at=made.expires_at,
            name=made.name,
            phone=made.phone,
            builder=of_builder if oven is None else "",
            filled=len(made.given),
            renewed=before is not None,
        )
        letter = letter_to(self._base, person, shown, made.oven)
        async with self._base.store.write() as unit:
            if await unit.inbox.done(incoming.channel, incoming.key):
                if before is not None:
                    await _take_back(unit, before, person, now)
                if opens is Opens.OVEN:
                    # What is typed next may be about the oven that it is for.
                    asking = Asking(what="make_up", at=now, invitation=made.id)
                    hand = await unit.hands.of(person.id)
                    await unit.hands.put(hand.model_copy(update={"asking": asking}))
                await unit.invitations.put(made.model_copy(update={"letter": letter.id}))
                await unit.outbox.post(letter)
                await unit.commit()

    async def renew(self, incoming: Incoming, person: Person, invitation_id: str) -> None:
        """Another code for an open one, to be passed on; the code before opens nothing."""
        now = self._base.clock.now()
        async with self._base.store.read() as unit:
            theirs = {one.id: one for one in await self._theirs(unit, person)}
            found = theirs.get(invitation_id)
            name_of_builder = await builder_name(unit, person.builder)
        if found is None or found.opens is not Opens.OVEN or not found.is_open(now):
            await reply(self._base, incoming, person, NothingHere())
            return
        await self._make(
            incoming,
            person,
            found.opens,
            found.name,
            found.phone,
            None,
            name_of_builder,
            before=found,
        )

    async def _oven(self, unit: UnitOfWork, person: Person, oven_id: str | None) -> OvenCard | None:
        """The oven that a second person is invited to: by those alone who tend it."""
        if oven_id is None:
            return await oven_at_hand(unit, person)
        try:
            card = await oven_for(unit, person, oven_id)
        except NothingHereError:
            return None
        return card if tends(person, card) else None

    async def show(self, incoming: Incoming, person: Person, text: str = "") -> None:
        """All that are open and theirs; of those whose name has all of ``text``, where told."""
        async with self._base.store.read() as unit:
            found = [one for one in await self._theirs(unit, person) if is_called(one, text)]
        open_ones = tuple(
            OpenInvitation(
                id=one.id,
                opens=one.opens.value,
                made_at=one.made_at,
                expires_at=one.expires_at,
                name=one.name,
                phone=one.phone,
                filled=len(one.given),
            )
            for one in found[:SHOWN]
        )
        more = len(found) - len(open_ones)
        builder = person.builder is not None
        shown = InvitationsShown(open=open_ones, more=more, builder=builder)
        await reply(self._base, incoming, person, shown)

    async def revoke(self, incoming: Incoming, person: Person, invitation_id: str) -> None:
        """Take one back: who may see it may do so. Not theirs is as if it were not there."""
        now = self._base.clock.now()
        async with self._base.store.write() as unit:
            theirs = {one.id: one for one in await self._theirs(unit, person)}
            found = theirs.get(invitation_id)
            if found is not None and await _take_back(unit, found, person, now):
                gone = InvitationRevoked(opens=found.opens.value, name=found.name)
                if await unit.inbox.done(incoming.channel, incoming.key):
                    await unit.outbox.post(letter_to(self._base, person, gone))
                    await unit.commit()
                return
        await reply(self._base, incoming, person, NothingHere())

    async def _theirs(self, unit: UnitOfWork, person: Person) -> tuple[Invitation, ...]:
        now = self._base.clock.now()
        found: list[Invitation] = []
        if person.builder is not None:
            found += await unit.invitations.open_for_builder(person.builder, now)
        for card in await unit.ovens.of_person(person.id):
            found += await unit.invitations.open_for_oven(card.id, now)
        return tuple(found)


async def _take_back(unit: UnitOfWork, one: Invitation, person: Person, now: datetime) -> bool:
    """Close one; False where it was no longer open. Nobody comes by it any more: a number need not
    be kept for them."""
    if not await unit.invitations.revoke(one.id, person.id, now):
        return False
    closed = await unit.invitations.get(one.id)
    if closed is not None and closed.phone:
        await unit.invitations.put(closed.model_copy(update={"phone": ""}))
    return True


def is_called(one: Invitation, text: str) -> bool:
    """Whether every word of ``text`` is part of the name that it is for."""
    name = one.name.casefold()
    return all(word in name for word in text.casefold().split())
