"""The one door to an oven's data: the same answer for what is not yours and what is not there."""

from collections.abc import Sequence

from scheduling.ports import OvenCard, Person, UnitOfWork

FIRE_FIRST = ("lit", "embers", "firing_day")
"""Of several ovens, words are about the one that burns."""


class NothingHereError(LookupError):
    """No oven of that id is open to this person; whether there is one is not told."""


async def oven_for(unit: UnitOfWork, person: Person, oven_id: str) -> OvenCard:
    """The oven, if this person tends it or their team looks after it. Raises NothingHereError."""
    card = await unit.ovens.get(oven_id)
    if card is None or not (tends(person, card) or looks_after(person, card)):
        raise NothingHereError(oven_id)
    return card


async def client_for(unit: UnitOfWork, person: Person, oven_id: str) -> OvenCard:
    """The oven, if this person's team looks after it. Raises NothingHereError."""
    card = await oven_for(unit, person, oven_id)
    if not looks_after(person, card):
        raise NothingHereError(oven_id)
    return card


async def oven_at_hand(unit: UnitOfWork, person: Person) -> OvenCard | None:
    """The oven that this person's words are about: the one that burns, else the one they were
    last written to about, else the first; None if they tend none."""
    cards = await unit.ovens.of_person(person.id)
    if len(cards) < 2:
        return cards[0] if cards else None
    last = await unit.outbox.last_sent(person.id)
    return min(cards, key=lambda card: (_heat(card), last is None or card.id != last.oven))


def tends(person: Person, card: OvenCard) -> bool:
    """Whether they tend its fire."""
    return person.id in card.owners


def looks_after(person: Person, card: OvenCard) -> bool:
    """Whether they are of the team that looks after it."""
    return person.builder is not None and person.builder == card.builder


def _heat(card: OvenCard, order: Sequence[str] = FIRE_FIRST) -> int:
    return order.index(card.state) if card.state in order else len(order)
