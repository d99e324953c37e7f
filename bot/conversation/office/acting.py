"""Takes what a builder does about a client down the one road, under their name."""

from datetime import datetime, timedelta

from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from scheduling.choice import (
    Casing,
    Choice,
    Command,
    CommandName,
    Jotting,
    Ordering,
    OrderingFor,
    OrderName,
    Talking,
)
from scheduling.happening import Chose
from scheduling.hazard import TOLD
from scheduling.meaning import OrderLessGentle, OrderUnclear
from scheduling.outcome import Outcome
from scheduling.ports import InHand, OvenCard, Person
from scheduling.record import Record
from scheduling.record.need import needs_of
from scheduling.record.orders import closes, standing_orders

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
        signed = signed_by(choice, person)
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
            Chose(person.id, signed, key=key_of(incoming)),
            inbox=(incoming.channel, incoming.key),
        )
        if order is not None:
            asked = _asked(outcome)
            if asked is None:
                await self._hold(person, card, None)
            elif asked.undone is not None:
                # What is taken back at the word is what was asked about, whatever comes between.
                exact = order.model_copy(update={"value": float(asked.undone.seq)})
                await self._hold(person, card, exact)
        return outcome

    async def say(self, incoming: Incoming, person: Person, card: OvenCard) -> None:
        """In a talk: to the owner."""
        words = Talking(what="say", text=incoming.text or "", photo=incoming.photo)
        await self.act(incoming, person, card, words)

    async def leave_talk(self, person: Person, oven: str | None) -> None:
        """End a talk because something else was opened."""
        if oven is not None:
            over = signed_by(Talking(what="close"), person)
            await self._base.engine.happen(oven, Chose(person.id, over))

    async def ask_now(self, incoming: Incoming, person: Person, own: OvenCard) -> None:
        """What to do at their own oven."""
        now = Command(name=CommandName.NOW)
        await self._base.engine.happen(
            own.id,
            Chose(person.id, now, key=key_of(incoming)),
            inbox=(incoming.channel, incoming.key),
        )

    def waiting(self, hand: InHand, said_at: datetime) -> Ordering | OrderingFor | None:
        """The order that still waited to be confirmed at that moment."""
        if hand.order_at is None or said_at - hand.order_at > CONFIRM_WITHIN:
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
        if hand.talking and hand.oven != card.id:
            await self.leave_talk(person, hand.oven)

    def _about_something(self, record: Record, order: Ordering) -> Ordering | str:
        """The order with what it is about filled in; or why there is nothing of the kind."""
        match order.name:
            case OrderName.TAKE_BACK if order.value is None:
                standing = standing_orders(record, self._base.clock.now())
                day = order.first
                holds = [one for one in standing if day is None or closes(one, day)]
                return order if holds else "no_order"
            case OrderName.CLOSE if not order.field:
                needs = needs_of(record, self._base.clock.now())
                looked = [one.what.value for one in needs if one.what.value in CLOSED_BY_A_LOOK]
                return order.model_copy(update={"field": looked[0]}) if looked else "no_trouble"
        return order


def signed_by(choice: Choice, person: Person) -> Choice:
    """The same under the name that the team and the owner know."""
    match choice:
        case Casing() | Jotting() | Talking():
            return choice.model_copy(update={"name": person.name})
        case Ordering():
            return choice.model_copy(update={"by": person.name})
        case _:
            return choice


def _asked(outcome: Outcome | None) -> OrderLessGentle | None:
    """Whether the order waits for its word, and what was asked."""
    said = [one.meaning for one in outcome.messages] if outcome is not None else []
    return next((one for one in said if isinstance(one, OrderLessGentle)), None)


def key_of(incoming: Incoming) -> str:
    """The journal's name of what came in."""
    return f"{incoming.channel}:{incoming.key}"
