"""Whom a builder's message is about: the one of a reply, else the card that lies open.

That card is meant only while nothing speaks for another. Where two can be meant nothing is done:
it is asked which, and one tap answers.
"""

from collections.abc import Collection
from datetime import datetime, timedelta
from typing import Literal

from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.office.showing import Showing
from bot.understanding.names import is_whole, names_in, words_of
from bot.understanding.office_words import Part, wish_of
from scheduling.choice import (
    Casing,
    Command,
    Jotting,
    Opening,
    Ordering,
    OrderingFor,
    Talking,
)
from scheduling.clients import lines_of
from scheduling.meaning import OrderUnclear, WhoIsMeant
from scheduling.ports import InHand, Letter, OvenCard, Person, UnitOfWork

SURELY_OPEN = timedelta(minutes=15)
"""A card that was opened or acted on longer ago may have been forgotten: who types an order then is
asked whether it is for that client (own choice)."""

LOOKED_THROUGH = 20
"""Letters that came since a card was opened; more are not looked through, for one is enough."""

LISTED = 8

Act = Casing | Jotting | Talking | Part | Command
"""What is done about one client, besides orders."""


class Whom:
    """Looks who is meant, and asks."""

    def __init__(self, base: Foundation, showing: Showing) -> None:
        self._base = base
        self._showing = showing

    async def named_in_front(
        self, incoming: Incoming, person: Person
    ) -> tuple[OvenCard, Act] | None:
        """Of "Rob: note: thin arch" Rob's card and what is wished of it; None for anything else."""
        name, colon, rest = (incoming.text or "").partition(":")
        wish = wish_of(rest) if colon else None
        if not isinstance(wish, Casing | Jotting | Talking | Part | Command):
            return None
        words = sorted({word for word, _, _ in words_of(name) if len(word) > 1})
        async with self._base.store.read() as unit:
            clients = await unit.ovens.called(person.builder or "", words)
        names = names_in(name, clients)
        if not is_whole(name, names) or len(names[0].ovens) != 1:
            return None
        card = await self._showing.client(person, next(iter(names[0].ovens)))
        return (card, wish) if card is not None else None

    async def answered(self, person: Person, incoming: Incoming) -> frozenset[str] | None:
        """The ovens of the message that it answers; None for no reply."""
        async with self._base.store.read() as unit:
            return await answered(unit, person, incoming)

    async def told_of_since(self, person: Person, card: OvenCard, hand: InHand) -> list[str]:
        """Of whom else this person was told since that card was opened, the newest first."""
        if hand.opened_at is None:
            return []
        async with self._base.store.read() as unit:
            letters = await unit.outbox.sent_since(person.id, hand.opened_at, LOOKED_THROUGH)
        told = [one for one in letters if _tells_of_another(one, card.id)]
        return [*{oven: None for one in told for oven in sorted(ovens_of(one) - {card.id})}]

    async def meant(
        self,
        incoming: Incoming,
        person: Person,
        card: OvenCard | None,
        hand: InHand,
        *,
        acts: bool,
    ) -> OvenCard | Literal["asked"] | None:
        """Whom words without a name are about: of a reply, else the open card. Where it ``acts``
        and others may be meant as well, that is asked."""
        about = await self.answered(person, incoming)
        if about is not None and len(about) == 1:
            return await self._showing.client(person, next(iter(about)))
        if about is not None:
            if not about:
                await reply(self._base, incoming, person, OrderUnclear(why="no_message"))
            else:
                await self.ask(incoming, person, sorted(about), "replied")
            return "asked"
        others = await self.told_of_since(person, card, hand) if card is not None and acts else []
        if card is None or not others:
            return card
        await self.ask(incoming, person, [card.id, *others], "open")
        return "asked"

    def lies_sure(self, hand: InHand) -> bool:
        """Whether the card was opened or acted on just now."""
        now: datetime = self._base.clock.now()
        return hand.opened_at is not None and now - hand.opened_at <= SURELY_OPEN

    async def ask(
        self,
        incoming: Incoming,
        person: Person,
        ovens: Collection[str],
        why: str,
        order: Ordering | None = None,
        opens: Collection[str] = (),
    ) -> None:
        """Whom is it for? Of each a button gives them the order, or opens their card."""
        cards = await self._showing.clients(person, dict.fromkeys(ovens))
        if not cards:
            await reply(self._base, incoming, person, OrderUnclear(why="no_message"))
            return
        async with self._base.store.read() as unit:
            lines = await lines_of(unit, cards[:LISTED])
        asked = WhoIsMeant.model_validate(
            {
                "text": incoming.text or "",
                "lines": lines,
                "total": len(cards),
                "why": why,
                "order": order,
                "opens": next(iter(opens), "") if len(opens) == 1 else "",
            }
        )
        await reply(self._base, incoming, person, asked)


async def answered(unit: UnitOfWork, person: Person, incoming: Incoming) -> frozenset[str] | None:
    """The ovens of the message that it answers; None for no reply."""
    if incoming.answering is None:
        return None
    letter = await unit.outbox.shown_as(person.id, incoming.answering)
    return frozenset() if letter is None else ovens_of(letter)


def ovens_of(letter: Letter) -> frozenset[str]:
    """The ovens that a letter tells of: the one it is about, and those that its buttons open."""
    return frozenset(_opened(letter) | ({letter.oven} if letter.oven is not None else set()))


def _opened(letter: Letter) -> set[str]:
    choices = letter.parcel.choices.values()
    return {one.oven for one in choices if isinstance(one, Opening) and one.oven}


def _tells_of_another(letter: Letter, oven: str) -> bool:
    """Whether its reader may think of another oven since. A question of ours about an order tells
    of nobody, nor does one about this oven that offers one other."""
    if any(isinstance(one, OrderingFor) for one in letter.parcel.choices.values()):
        return False
    return letter.oven != oven or len(_opened(letter)) > 1
