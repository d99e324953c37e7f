"""A client in one line of a builder's list, and how its people are reached past us."""

from collections.abc import Iterable, Mapping

from scheduling.choice import Opening
from scheduling.meaning import Alert, ClientLine, Contact
from scheduling.ports import OvenCard, Person, UnitOfWork

WORDS = 80
"""Characters of an owner's words in a line of many (own choice)."""


def opening_of(alert: Alert) -> Opening:
    """What a card is opened for, with as much of the owner's words as a line shows."""
    return Opening(about=alert.needs, words=alert.words[:WORDS], photos=alert.photos)


def line_of(card: OvenCard, people: Mapping[str, Person]) -> ClientLine:
    """The line; ``people`` are those it may name."""
    tending = [people[one] for one in card.owners if one in people]
    taker = people.get(card.taken_by or "")
    return ClientLine(
        oven_id=card.id,
        oven=card.name,
        owner=tending[0].name if tending else "",
        place=card.place,
        phase=card.state,
        rank=card.rank,
        needs=card.needs,
        since=card.needs_since,
        firing=card.firing,
        aim_c=card.aim_c,
        top_c=card.last_c,
        top_at=card.last_at,
        doubted=card.last_doubted,
        next_day=card.next_day,
        taken_by=taker.name if taker is not None else "",
        phone=next((one.phone for one in tending if one.phone), ""),
    )


async def lines_of(unit: UnitOfWork, cards: Iterable[OvenCard]) -> tuple[ClientLine, ...]:
    """The lines of several cards, with the names of their people."""
    cards = tuple(cards)
    named = {one for card in cards for one in (*card.owners, card.taken_by) if one}
    people = await unit.people.several(tuple(named))
    return tuple(line_of(card, people) for card in cards)


def contacts_of(
    card: OvenCard, people: Mapping[str, Person], reader: Person
) -> tuple[Contact, ...]:
    """Whoever tends the oven, the owner first, as ``reader`` can reach them past us."""
    return tuple(
        Contact(
            name=one.name,
            phone=one.phone,
            chat=one.address if one.channel == reader.channel and not one.group else "",
        )
        for person in card.owners
        if (one := people.get(person)) is not None and one.id != reader.id
    )
