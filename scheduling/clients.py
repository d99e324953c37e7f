"""A client in one line of a builder's list, out of the stored card."""

from collections.abc import Iterable, Mapping

from scheduling.meaning import ClientLine
from scheduling.ports import OvenCard, Person, UnitOfWork


def line_of(card: OvenCard, people: Mapping[str, Person]) -> ClientLine:
    """The line; ``people`` are those it may name."""
    owner = people.get(card.owners[0]) if card.owners else None
    taker = people.get(card.taken_by or "")
    return ClientLine(
        oven_id=card.id,
        oven=card.name,
        owner=owner.name if owner is not None else "",
        place=card.place,
        phase=card.state,
        rank=card.rank,
        needs=card.needs,
        since=card.needs_since,
        firing=card.firing,
        aim_c=card.aim_c,
        top_c=card.last_c,
        top_at=card.last_at,
        next_day=card.next_day,
        taken_by=taker.name if taker is not None else "",
    )


async def lines_of(unit: UnitOfWork, cards: Iterable[OvenCard]) -> tuple[ClientLine, ...]:
    """The lines of several cards, with the names of their people."""
    cards = tuple(cards)
    named = {one for card in cards for one in (*card.owners[:1], card.taken_by) if one}
    people = await unit.people.several(tuple(named))
    return tuple(line_of(card, people) for card in cards)
