"""Takes what a builder does about a client down the one road, under their name."""

from datetime import timedelta

from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.office.card import holding
from bot.understanding.orders import Ordered
from scheduling.choice import (
    Casing,
    Choice,
    Command,
    CommandName,
    Jotting,
    Ordering,
    OrderName,
    Talking,
)
from scheduling.happening import Chose
from scheduling.hazard import TOLD
from scheduling.journal import Forbidden, Moved
from scheduling.meaning import OrderLessGentle, OrderOrWords, OrderUnclear
from scheduling.outcome import Outcome
from scheduling.ports import InHand, OvenCard, Person
from scheduling.record import Record
from scheduling.record.need import needs_of

CLOSED_BY_A_LOOK = frozenset([*(one.value for one in TOLD), "mortar"])
"""What stands until somebody of the team has looked."""

CONFIRM_WITHIN = timedelta(minutes=15)
"""So long an order waits for its confirming word (own choice)."""


class Acting:
    """Every act is a happening of that client's oven, and opens their card."""

    def __init__(self, base: Foundation) -> None:
        self._base = base

    async def act(
        self, incoming: Incoming, person: Person, card: OvenCard, choice: Choice
    ) -> Outcome | None:
        """Do it, and keep in hand what follows: the card, a talk, an order to be confirmed."""
        signed = _signed(choice, person)
        if isinstance(signed, Ordering):
            record: Record = await self._base.engine.record(card.id)
            about = self._about_something(record, signed)
            if isinstance(about, str):
                unclear = OrderUnclear(why=about, oven=card.name)
                await reply(self._base, incoming, person, unclear, card)
                return None
            signed = about
        talking = signed.what != "close" if isinstance(signed, Talking) else None
        order = signed if isinstance(signed, Ordering) and not signed.confirmed else None
        await self._hold(person, card, order, talking=talking)
        outcome = await self._base.engine.happen(
            card.id,
            Chose(person.id, signed, key=_key(incoming)),
            inbox=(incoming.channel, incoming.key),
        )
        asked = outcome is not None and any(
            isinstance(one.meaning, OrderLessGentle) for one in outcome.messages
        )
        if order is not None and not asked:
            await self._hold(person, card, None)
        return outcome

    async def order(
        self, incoming: Incoming, person: Person, card: OvenCard, ordered: Ordered
    ) -> None:
        """A typed order. To allow a day is to take back the order that closed it."""
        order = ordered.order
        if order is None:
            return
        if ordered.allow:
            record: Record = await self._base.engine.record(card.id)
            seq = self._closed_by(record, order)
            if seq is None:
                unclear = OrderUnclear(why="no_order", oven=card.name)
                await reply(self._base, incoming, person, unclear, card)
                return
            order = order.model_copy(update={"value": float(seq), "first": None})
        await self.act(incoming, person, card, order)

    async def say(
        self, incoming: Incoming, person: Person, card: OvenCard, ordered: Ordered | None
    ) -> None:
        """In a talk: to the owner, unless it may have been meant as an order."""
        text = incoming.text or ""
        if ordered is not None and ordered.order is not None:
            asked = OrderOrWords(
                oven=card.name, text=text, order=ordered.order, photo=incoming.photo
            )
            await reply(self._base, incoming, person, asked, card)
            return
        words = Talking(what="say", text=text, photo=incoming.photo)
        await self.act(incoming, person, card, words)

    async def leave_talk(self, person: Person, oven: str | None) -> None:
        """End a talk because something else was opened."""
        if oven is not None:
            over = _signed(Talking(what="close"), person)
            await self._base.engine.happen(oven, Chose(person.id, over))

    async def ask_now(self, incoming: Incoming, person: Person, own: OvenCard) -> None:
        """What to do at their own oven."""
        now = Command(name=CommandName.NOW)
        await self._base.engine.happen(
            own.id,
            Chose(person.id, now, key=_key(incoming)),
            inbox=(incoming.channel, incoming.key),
        )

    def waiting(self, hand: InHand) -> Ordering | None:
        """The order that still waits to be confirmed."""
        now = self._base.clock.now()
        if hand.order_at is None or now - hand.order_at > CONFIRM_WITHIN:
            return None
        return hand.order

    async def _hold(
        self,
        person: Person,
        card: OvenCard,
        order: Ordering | None,
        *,
        talking: bool | None = None,
    ) -> None:
        now = self._base.clock.now()
        async with self._base.store.write() as unit:
            hand = await unit.hands.of(person.id)
            goes_on = hand.talking and hand.oven == card.id
            await unit.hands.put(
                hand.model_copy(
                    update={
                        "oven": card.id,
                        "opened_at": now,
                        "talking": goes_on if talking is None else talking,
                        "order": order,
                        "order_at": now if order is not None else None,
                    }
                )
            )
            await unit.commit()

    def _about_something(self, record: Record, order: Ordering) -> Ordering | str:
        """The order with what it is about filled in; or why there is nothing of the kind."""
        match order.name:
            case OrderName.TAKE_BACK if order.value is None:
                holds = holding(record, self._base.clock.now())
                return order if holds else "no_order"
            case OrderName.CLOSE if not order.field:
                needs = needs_of(record, self._base.clock.now())
                looked = [one.what.value for one in needs if one.what.value in CLOSED_BY_A_LOOK]
                return order.model_copy(update={"field": looked[0]}) if looked else "no_trouble"
        return order

    def _closed_by(self, record: Record, order: Ordering) -> int | None:
        day = order.first
        for one in reversed(holding(record, self._base.clock.now())):
            match one.entry:
                case Forbidden(first=first, last=last) if day and first <= day <= last:
                    return one.seq
                case Moved(not_before=not_before) if day and day < not_before:
                    return one.seq
        return None


def _signed(choice: Choice, person: Person) -> Choice:
    """The same under the name that the team and the owner know."""
    match choice:
        case Casing() | Jotting() | Talking():
            return choice.model_copy(update={"name": person.name})
        case Ordering():
            return choice.model_copy(update={"by": person.name})
        case _:
            return choice


def _key(incoming: Incoming) -> str:
    return f"{incoming.channel}:{incoming.key}"
