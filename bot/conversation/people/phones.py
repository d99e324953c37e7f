"""Where people can be rung: told by themselves, or by their builder, and taken out again.

A number is kept with the person and nowhere else, so that it goes with them.
"""

from bot.conversation.door import NothingHereError, client_for, oven_at_hand
from bot.conversation.foundation import Foundation, letter_to
from bot.conversation.incoming import Incoming
from bot.conversation.office.roster import BURNING
from bot.conversation.office.whom import answered
from bot.conversation.people.telling import builder_name, tell
from bot.understanding.phones import PhoneSaid, phone_in, phone_of, written_forms
from scheduling.emergency import country_of
from scheduling.meaning import Meaning, PhoneGiven, PhoneNoted, PhoneUnclear
from scheduling.ports import OvenCard, Person, UnitOfWork


class Phones:
    """Takes numbers from people's own words, and from contacts that they share."""

    def __init__(self, base: Foundation) -> None:
        self._base = base

    async def hear(self, incoming: Incoming, person: Person) -> bool:
        """Act on a message that is a phone number through and through. False for any other, and
        for somebody at a fire who asks to be rung: that is heard as words as well."""
        if incoming.edited or incoming.photo is not None or incoming.command is not None:
            return False
        async with self._base.store.read() as unit:
            client = await self._client_meant(unit, incoming, person)
            own = await oven_at_hand(unit, person)
            talking = (await unit.hands.of(person.id)).talking
        said = _said(incoming, person)
        nobody = person.builder is None and own is None
        if said is None or talking or nobody:
            return False
        if own is not None and own.state in BURNING and _may_be_readings(incoming, said):
            return False
        if client is not None and not said.mine:
            await self._of_client(incoming, person, client, said)
            return True
        if person.builder is not None and own is None:
            unclear = PhoneUnclear(whose=True)
            await self._answer(incoming, person, unclear)
            return True
        if said.unclear:
            await self._answer(incoming, person, PhoneUnclear())
            return True
        if said.ring and own is not None and own.state in BURNING:
            async with self._base.store.write() as unit:
                await _keep(unit, person, said.number)
                await unit.commit()
            return False
        await self._own(incoming, person, said.number)
        return True

    async def _client_meant(
        self, unit: UnitOfWork, incoming: Incoming, person: Person
    ) -> OvenCard | None:
        """The client of the message that a builder answers, else the one whose card lies open."""
        about = await answered(unit, person, incoming)
        oven = (await unit.hands.of(person.id)).oven
        if about is not None:
            oven = next(iter(about)) if len(about) == 1 else None
        if person.builder is None or oven is None:
            return None
        try:
            return await client_for(unit, person, oven)
        except NothingHereError:
            return None

    async def _own(self, incoming: Incoming, person: Person, number: str) -> None:
        async with self._base.store.write() as unit:
            if not await unit.inbox.done(incoming.channel, incoming.key):
                return
            await _keep(unit, person, number)
            oven = await oven_at_hand(unit, person)
            by = await builder_name(unit, oven.builder) if oven is not None else ""
            noted = PhoneNoted(phone=number, builder=by)
            await unit.outbox.post(letter_to(self._base, person, noted))
            await unit.commit()

    async def _of_client(
        self, incoming: Incoming, person: Person, client: OvenCard, said: PhoneSaid
    ) -> None:
        """The builder's word for the owner's number: the owner is told, and can take it out."""
        if said.unclear:
            await self._answer(incoming, person, PhoneUnclear(oven=client.name))
            return
        async with self._base.store.write() as unit:
            owner = await unit.people.get(client.owners[0]) if client.owners else None
            if owner is None:
                told: Meaning = PhoneUnclear(whose=True)
            else:
                told = PhoneNoted(phone=said.number, oven=client.name)
                await give_phone(unit, self._base, owner, said.number, person)
            if await unit.inbox.done(incoming.channel, incoming.key):
                await unit.outbox.post(letter_to(self._base, person, told, client.id))
                await unit.commit()

    async def _answer(self, incoming: Incoming, person: Person, meaning: Meaning) -> None:
        async with self._base.store.write() as unit:
            if await unit.inbox.done(incoming.channel, incoming.key):
                await unit.outbox.post(letter_to(self._base, person, meaning))
                await unit.commit()


async def give_phone(
    unit: UnitOfWork, base: Foundation, owner: Person, number: str, by: Person | None
) -> None:
    """Keep the number that a builder gave for somebody; they are told of it, by whom, and how to
    take it out again."""
    if number == owner.phone:
        return
    await _keep(unit, owner, number)
    given = PhoneGiven(phone=number, by=by.name if by is not None else "")
    await tell(unit, base, (owner,), given)


def _may_be_readings(incoming: Incoming, said: PhoneSaid) -> bool:
    """Bare figures beside a fire are its own, however like a number they look."""
    bare = not said.mine and not (incoming.text or "").lstrip().startswith("+")
    return bare and incoming.contact is None and bool(said.number)


async def _keep(unit: UnitOfWork, person: Person, number: str) -> None:
    """Keep it in the place of the one before, which is taken out of all that was said with it."""
    await unit.people.put(person.model_copy(update={"phone": number}))
    if person.phone and person.phone != number:
        await unit.outbox.blot(written_forms(person.phone))
        await unit.inbox.blot(written_forms(person.phone))


def _said(incoming: Incoming, person: Person) -> PhoneSaid | None:
    shared = incoming.contact
    if shared is not None:
        number = phone_of(shared.phone, country_of(person.zone))
        return PhoneSaid(number, unclear=not number, mine=shared.own)
    return phone_in(incoming.text or "", country_of(person.zone))
