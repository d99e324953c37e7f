"""Turns messages into letters: for each reader, in their words, at an hour that suits them."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime

from scheduling.meaning import PhoneAsked
from scheduling.outcome import BUILDER, TEAM_PREFIX, TENDERS, Message
from scheduling.ports import Letter, OutboxState, OvenCard, Parcel, Person, UnitOfWork, Voice
from scheduling.waking.gathering import Told, gathered
from scheduling.waking.quiet import not_before


class Poster:
    """``letters`` are not yet posted."""

    def __init__(self, voice: Voice, new_id: Callable[[], str]) -> None:
        self._voice = voice
        self._new_id = new_id

    async def letters(
        self,
        unit: UnitOfWork,
        card: OvenCard,
        people: Mapping[str, Person],
        zone: str,
        message: Message,
        now: datetime,
    ) -> list[Letter]:
        """One for each reader of ``message`` about the oven of ``card``; ``people`` as ``named``
        has them."""
        return [
            letter
            for reader in await readers(unit, card, people, message)
            if (letter := await self._letter(unit, reader, card, people, zone, message, now))
            is not None
        ]

    async def _letter(
        self,
        unit: UnitOfWork,
        reader: Person,
        card: OvenCard,
        people: Mapping[str, Person],
        zone: str,
        message: Message,
        now: datetime,
    ) -> Letter | None:
        if message.amends and not await unit.outbox.stands(reader.id, message.slot or ""):
            return None
        if isinstance(message.meaning, PhoneAsked) and reader.phone:
            # What is known need not be asked.
            return None
        told = Told.plainly(message, not_before(message.urgency, reader, now))
        if reader.builder is not None and reader.builder == card.builder:
            told = told.for_team(reader, card, people)
        if message.gathers:
            told = await gathered(unit, reader, card, told, now)
        # Rendered for the moment of reading, so that "today" is right in the morning.
        parcel = self._voice.render(told.meaning, reader, zone, told.first)
        parcel = addressed(parcel, card, told.first, reader)
        return Letter(
            id=self._new_id(),
            person=reader.id,
            oven=card.id,
            parcel=parcel,
            urgency=message.urgency,
            created_at=now,
            not_before=told.first,
            expires=message.expires,
            replaces=told.replaces,
            slot=told.slot,
            state=OutboxState.CANCELLED if reader.blocked else OutboxState.TODO,
            why="blocked" if reader.blocked else "",
            button_keys=button_keys(parcel, self._new_id),
        )


def looks_back(message: Message) -> bool:
    """Whether it depends on the letters before it, which must then be posted."""
    return message.amends or message.gathers


def named(card: OvenCard, messages: Sequence[Message]) -> set[str]:
    """Ids of people whom these messages may go to; some are the names of groups."""
    return {*card.owners, *(message.to for message in messages)}


async def readers(
    unit: UnitOfWork, card: OvenCard, people: Mapping[str, Person], message: Message
) -> tuple[Person, ...]:
    """Whom a message goes to, each once: groups are told apart, unknown ids dropped."""
    if message.to == BUILDER:
        team = await unit.people.team(card.builder) if card.builder else ()
        # Somebody who has blocked us hears nothing first: then it is for all of them.
        first = [one for one in team if one.id in message.first and not one.blocked]
        return tuple(one for one in first or team if one.id not in message.but)
    if message.to.startswith(TEAM_PREFIX):
        return await unit.people.team(message.to.removeprefix(TEAM_PREFIX))
    ids = card.owners if message.to == TENDERS else (message.to,)
    return tuple(people[one] for one in dict.fromkeys(ids) if one in people)


def button_keys(parcel: Parcel, new_id: Callable[[], str]) -> dict[str, str]:
    """A key for each label that sends a choice back, in the order in which they are read."""
    shown = (label for row in parcel.buttons for label in row)
    return {label: new_id() for label in shown if label not in parcel.chats}


def addressed(parcel: Parcel, card: OvenCard, at: datetime, reader: Person) -> Parcel:
    """What is drawn or written when it is sent also knows whose oven it is, as of when, and for
    which builder: "" for whoever tends it."""
    theirs = reader.builder is not None and reader.builder == card.builder
    of = {
        "oven_id": card.id,
        "oven": card.name,
        "builder": reader.builder if theirs else "",
        "at": at.isoformat(),
    }
    return parcel.model_copy(
        update={
            "attachments": tuple(
                one.model_copy(update={"data": of | one.data}) for one in parcel.attachments
            )
        }
    )
