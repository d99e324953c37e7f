"""Typed orders, and whom they are for.

A reply is about the oven of the message that it answers; a name in the words goes before the card
that lies open; and that card is meant only while nothing speaks for another. Where two things can
be meant nothing is done: it is asked which, and one tap answers. What is for all, for a town or for
nobody at all is never for the open card.
"""

from datetime import date
from zoneinfo import ZoneInfo

from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.office.acting import Acting
from bot.conversation.office.many import ManyOrders
from bot.conversation.office.showing import Showing
from bot.conversation.office.whom import Whom
from bot.understanding.addressing import Addressed, Heard, heard, may_order
from bot.understanding.groups import Group
from bot.understanding.names import words_of
from bot.understanding.office_words import Find
from scheduling.choice import (
    Ordering,
    OrderingFor,
    OrderName,
)
from scheduling.meaning import OrderUnclear
from scheduling.ports import InHand, OvenCard, Person, Roster
from scheduling.record import Record
from storage.roster import plain

LISTED = 8


class TypedOrders:
    """``take`` and ``confirm`` answer, and say whether it was an order at all."""

    def __init__(
        self,
        base: Foundation,
        acting: Acting,
        showing: Showing,
        whom: Whom,
        many: ManyOrders,
    ) -> None:
        self._base = base
        self._acting = acting
        self._showing = showing
        self._whom = whom
        self._many = many

    async def hear(self, incoming: Incoming, person: Person, zone: str = "") -> Heard | None:
        """What may be ordered by it, with days as a ``zone`` has them, by default this person's
        own; None where that is not worth a look."""
        text = incoming.text or ""
        if not may_order(text):
            return None
        words = sorted({word for word, _, _ in words_of(text) if len(word) > 1})
        async with self._base.store.read() as unit:
            clients = await unit.ovens.called(person.builder or "", words)
        return heard(text, clients, person.unit, _today(incoming, zone or person.zone))

    # ------------------------------------------------------------ taking

    async def take(
        self,
        incoming: Incoming,
        person: Person,
        own: OvenCard | None,
        card: OvenCard | None,
        hand: InHand,
        told: Heard,
    ) -> bool:
        """Do it, ask whom it is for or what is left open in it; False for no order."""
        named = [one for one in told.whole if one.names]
        unnamed = [one for one in told.whole if not one.names]
        if told.called and not told.whole:
            # "Max" is a client here, and no cap that wants a number.
            return await self._open(incoming, person)
        if len(named) == 1 and not unnamed:
            await self._take_named(incoming, person, named[0], hand)
            return True
        if len(told.whole) > 1:
            await self._whom.ask(incoming, person, [*told.mentioned], "named")
            return True
        if unnamed:
            return await self._take_unnamed(incoming, person, own, card, hand, told, unnamed[0])
        return await self._left_open(incoming, person, own, card, hand, told.open)

    async def _take_named(
        self, incoming: Incoming, person: Person, said: Addressed, hand: InHand
    ) -> None:
        order = said.ordered.order
        if order is None or said.ordered.group is not None:
            await reply(self._base, incoming, person, OrderUnclear(why="names"))
            return
        if len(said.names) > 1:
            if any(len(one) > 1 for one in said.names):
                await reply(self._base, incoming, person, OrderUnclear(why="names"))
                return
            cards = await self._showing.clients(person, sorted(said.ovens))
            await self._many.ask(incoming, person, order, cards, hand)
            return
        about = await self._whom.answered(person, incoming)
        ovens = sorted(said.ovens)
        if about and not said.ovens >= about:
            await self._whom.ask(incoming, person, [*ovens, *about], "replied", order)
        elif len(ovens) > 1 and (not about or len(said.ovens & about) > 1):
            await self._whom.ask(incoming, person, ovens, "named", order)
        else:
            (oven,) = about if about else ovens
            await self._give(incoming, person, oven, order, said)

    async def _take_unnamed(
        self,
        incoming: Incoming,
        person: Person,
        own: OvenCard | None,
        card: OvenCard | None,
        hand: InHand,
        told: Heard,
        said: Addressed,
    ) -> bool:
        order, group = said.ordered.order, said.ordered.group
        if order is None:
            return False
        if group is not None:
            if order.name is OrderName.TAKE_BACK and order.first is None:
                await self.take_many_back(incoming, person, hand)
                return True
            cards = await self._many.of_group(person, group, said.but)
            await self._many.ask(incoming, person, order, cards, hand, only=card)
            return True
        about = await self._whom.answered(person, incoming)
        if about is not None:
            await self._for_answered(incoming, person, hand, told, said, about)
        elif card is not None:
            others = await self._whom.told_of_since(person, card, hand)
            if others or told.mentioned - {card.id} or not self._whom.lies_sure(hand):
                ids = [card.id, *others, *sorted(told.mentioned)]
                why = "open" if others or not told.mentioned - {card.id} else "named"
                await self._whom.ask(incoming, person, ids, why, order, told.called)
            else:
                await self._give(incoming, person, card.id, order, said)
        elif order.name is OrderName.TAKE_BACK and order.first is None and hand.many is not None:
            await self.take_many_back(incoming, person, hand)
        elif told.called:
            return await self._open(incoming, person)
        elif own is not None:
            return False
        else:
            await reply(self._base, incoming, person, OrderUnclear(why="nobody_open"))
        return True

    async def _open(self, incoming: Incoming, person: Person) -> bool:
        """Whoever is called so."""
        name = (incoming.text or "").strip(" .!?")
        await self._showing.find(incoming, person, Find(name))
        return True

    async def _for_answered(
        self,
        incoming: Incoming,
        person: Person,
        hand: InHand,
        told: Heard,
        said: Addressed,
        about: frozenset[str],
    ) -> None:
        """For the one whom the message that was answered is about."""
        order = said.ordered.order
        if order is None:
            return
        undoes = await self._order_for_many(person, incoming)
        if order.name is OrderName.TAKE_BACK and undoes is not None:
            await self._many.ask_again(incoming, person, undoes, hand)
        elif not about:
            await reply(self._base, incoming, person, OrderUnclear(why="no_message"))
        elif len(about) == 1 and not told.mentioned - about:
            (oven,) = about
            await self._give(incoming, person, oven, order, said)
        else:
            ids = [*sorted(about), *sorted(told.mentioned)]
            why = "replied" if len(about) > 1 else "named"
            await self._whom.ask(incoming, person, ids, why, order, told.called)

    async def _order_for_many(self, person: Person, incoming: Incoming) -> OrderingFor | None:
        """What takes the order for many back that the answered message tells of."""
        async with self._base.store.read() as unit:
            letter = await unit.outbox.shown_as(person.id, incoming.answering or "")
        choices = letter.parcel.choices.values() if letter is not None else ()
        given = (one for one in choices if isinstance(one, OrderingFor))
        return next((one for one in given if one.order.name is OrderName.TAKE_BACK), None)

    async def _left_open(
        self,
        incoming: Incoming,
        person: Person,
        own: OvenCard | None,
        card: OvenCard | None,
        hand: InHand,
        said: Addressed | None,
    ) -> bool:
        """An order that wants a day or a number, or in which somebody is named who is not known."""
        if said is None:
            return False
        if said.ordered.rest:
            return await self._by_the_rest(incoming, person, hand, said)
        if said.names:
            about = card if card is not None and card.id in said.ovens else None
        else:
            about = card
            if card is None and own is not None:
                return False
        known = about is not None or said.names or said.ordered.why == "day_for_all"
        why = said.ordered.why if known else "nobody_open"
        unclear = OrderUnclear(why=why, oven=about.name if about is not None else "")
        await reply(self._base, incoming, person, unclear, about)
        return True

    async def _by_the_rest(
        self, incoming: Incoming, person: Person, hand: InHand, said: Addressed
    ) -> bool:
        """What is left over may be a town, or a part of a name; else it was no order."""
        order, rest = said.ordered.order, said.ordered.rest
        if order is None or said.names:
            return False
        async with self._base.store.read() as unit:
            wanted = Roster(builder=person.builder or "", text=rest, limit=LISTED)
            found = await unit.ovens.roster(wanted)
        words = plain(rest).split()
        if found.total and all(word in plain(card.place) for word in words for card in found.cards):
            cards = await self._many.of_group(person, Group(place=rest))
            await self._many.ask(incoming, person, order, cards, hand)
        elif found.total:
            await self._whom.ask(
                incoming, person, [card.id for card in found.cards], "named", order
            )
        elif order.name in (OrderName.CAP, OrderName.MOVE, OrderName.FORBID):
            await reply(self._base, incoming, person, OrderUnclear(why="who", text=rest))
        else:
            return False
        return True

    async def take_many_back(self, incoming: Incoming, person: Person, hand: InHand) -> None:
        """The last order for many of this person; it wants its word."""
        if hand.many is None:
            await reply(self._base, incoming, person, OrderUnclear(why="none_for_many"))
            return
        await self._many.ask_again(incoming, person, hand.many, hand)

    async def _give(
        self, incoming: Incoming, person: Person, oven: str, order: Ordering, said: Addressed
    ) -> None:
        """To the one who is meant, with days as that oven's own zone has them."""
        card = await self._showing.client(person, oven)
        if card is None:
            await reply(self._base, incoming, person, OrderUnclear(why="no_message"))
            return
        record: Record = await self._base.engine.record(card.id)
        if order.first is not None:
            there = await self.hear(incoming, person, record.zone)
            same = [one for one in there.whole if one.names == said.names] if there else []
            order = next((one.ordered.order for one in same if one.ordered.order), order)
        await self._acting.act(incoming, person, card, order)


def _today(incoming: Incoming, zone: str) -> date:
    return incoming.sent_at.astimezone(ZoneInfo(zone)).date()
