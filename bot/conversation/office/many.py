"""Orders for many clients at once: asked once, written to each, taken back as one.

Whom it is for is fixed when it is asked, so that nobody is ordered for who was not listed. The
message that gives the order is done when the last of them has it: after a crash it begins again,
and its key keeps it from being written twice.
"""

from collections.abc import Collection, Sequence

from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.office.acting import key_of, signed_by
from bot.conversation.office.roster import BURNING, wanted_of
from bot.conversation.office.showing import Showing
from bot.understanding.groups import Group
from scheduling.choice import Listing, Ordering, OrderingFor, OrderName
from scheduling.clients import lines_of
from scheduling.happening import Chose, Happening
from scheduling.journal import Order
from scheduling.meaning import OrderedMany, OrderForMany, OrderTold, OrderUnclear, Stays
from scheduling.outcome import Outcome
from scheduling.ports import InHand, OvenCard, Person
from scheduling.record import Record
from storage.roster import plain

LESS_GENTLE = (OrderName.RELEASE, OrderName.TAKE_BACK)

LISTED = 8
ALL = 100_000
OVER = ("done", "left")
"""Ovens whose fires are nobody's to order any more."""


class ManyOrders:
    """``ask`` for a group or for some, ``give`` once it is confirmed."""

    def __init__(self, base: Foundation, showing: Showing) -> None:
        self._base = base
        self._showing = showing

    async def ask(
        self,
        incoming: Incoming,
        person: Person,
        order: Ordering,
        cards: Sequence[OvenCard],
        hand: InHand,
        *,
        only: OvenCard | None = None,
        talking: OvenCard | None = None,
        undoes: Ordering | None = None,
    ) -> None:
        """List whom it is for, and ask once. A card that lay open is put down."""
        if order.name is OrderName.CLOSE:
            await reply(self._base, incoming, person, OrderUnclear(why="one_by_one"))
            return
        meant = [card for card in cards if await self._changes(card, order)]
        if not meant:
            await reply(self._base, incoming, person, OrderUnclear(why="nobody_meant"))
            return
        async with self._base.store.read() as unit:
            lines = await lines_of(unit, meant[:LISTED])
            of_one = await lines_of(unit, [only] if only is not None and only in meant else [])
        asked = OrderForMany(
            order=order,
            undoes=undoes,
            ovens=tuple(card.id for card in meant),
            together=self._base.new_id(),
            lines=lines,
            burning=sum(card.state in BURNING for card in meant),
            left_out=len(cards) - len(meant),
            sure=is_less_gentle(order),
            only=of_one[0] if of_one else None,
            talking=talking.name if talking is not None else "",
            text=incoming.text or "",
        )
        waiting = OrderingFor(
            order=order, ovens=asked.ovens, together=asked.together, undoes=undoes
        )
        held = (
            hand
            if talking is not None
            else hand.model_copy(update={"oven": None, "talking": False})
        )
        now = self._base.clock.now()
        held = held.model_copy(update={"order": waiting, "order_at": now})
        await reply(self._base, incoming, person, asked, talking, hand=held)

    async def ask_again(
        self, incoming: Incoming, person: Person, given: OrderingFor, hand: InHand
    ) -> None:
        """What was pressed makes plans less gentle: it wants its word."""
        cards = await self._showing.clients(person, given.ovens)
        await self.ask(incoming, person, given.order, cards, hand, undoes=given.undoes)

    async def give(
        self, incoming: Incoming, person: Person, given: OrderingFor, hand: InHand
    ) -> None:
        """Write it to each of them, and tell what became of it."""
        cards = await self._showing.clients(person, given.ovens)
        order = signed_by(given.order.model_copy(update={"together": given.together}), person)
        happening = Chose(person.id, order, key=key_of(incoming))
        each: dict[str, Happening] = {card.id: happening for card in cards}
        fates = await self._base.engine.happen_each(each)
        done: list[OvenCard] = []
        unchanged: list[str] = []
        failed: list[str] = []
        stays: list[Stays] = []
        for card in cards:
            fate = fates[card.id]
            if isinstance(fate, Exception):
                failed.append(card.name)
            elif await self._holds(card, given, fate):
                done.append(card)
                stays += _stays(card, fate)
            else:
                unchanged.append(card.name)
        undo = None
        if given.order.name is not OrderName.TAKE_BACK and done:
            back = Ordering(name=OrderName.TAKE_BACK, field=given.together)
            ids = tuple(card.id for card in done)
            undo = OrderingFor(
                order=back,
                ovens=ids,
                together=self._base.new_id(),
                undoes=given.order.model_copy(update={"why": ""}),
            )
        told = OrderedMany(
            order=given.order,
            undoes=given.undoes,
            done=len(done),
            unchanged=tuple(unchanged),
            failed=tuple(failed),
            stays=tuple(stays),
            undo=undo,
        )
        put_down = {"oven": None, "talking": False, "order": None, "order_at": None, "many": undo}
        await reply(self._base, incoming, person, told, hand=hand.model_copy(update=put_down))

    async def of_group(
        self, person: Person, group: Group, but: Collection[str] = ()
    ) -> tuple[OvenCard, ...]:
        """Who is meant by it, in the order of the list."""
        wanted = wanted_of(person, Listing(group=group.state or "all", text=group.place))
        async with self._base.store.read() as unit:
            found = await unit.ovens.roster(wanted.model_copy(update={"start": 0, "limit": ALL}))
        words = plain(group.place).split()
        return tuple(
            card
            for card in found.cards
            if card.state not in OVER
            and card.id not in but
            and all(word in plain(card.place) for word in words)
            and (group.first is None or _is_due(card, group))
        )

    async def _changes(self, card: OvenCard, order: Ordering) -> bool:
        """Whether it would change anything there, as far as that is known at a glance: of a fire
        that burns on hold it is found out when the order is given."""
        if order.name not in (OrderName.HOLD, OrderName.RELEASE):
            return True
        burns = card.state in BURNING and order.name is OrderName.RELEASE
        if card.state != "held" and not burns:
            return order.name is OrderName.HOLD
        record: Record = await self._base.engine.record(card.id)
        return (record.held is None) == (order.name is OrderName.HOLD)

    async def _holds(self, card: OvenCard, given: OrderingFor, fate: Outcome | None) -> bool:
        """Whether the order was written there, now or before a crash."""
        if fate is not None and fate.entries:
            return any(_is_of(one, given.together) for one in fate.entries)
        record: Record = await self._base.engine.record(card.id)
        return any(_is_of(one.entry, given.together) for one in record.live)


def is_less_gentle(order: Ordering) -> bool:
    """Whether an order for many makes every plan less gentle, so that it wants its word. (Of any
    other it is done only where it is gentler.)"""
    lifts = order.name is OrderName.CAP and order.value is None
    return order.name in LESS_GENTLE or lifts


def _is_of(entry: object, together: str) -> bool:
    return isinstance(entry, Order) and entry.together == together


def _is_due(card: OvenCard, group: Group) -> bool:
    if card.next_day is None or group.first is None:
        return False
    return group.first <= card.next_day <= (group.last or group.first)


def _stays(card: OvenCard, fate: Outcome | None) -> list[Stays]:
    said = [one.meaning for one in fate.messages] if fate is not None else []
    told = next((one for one in said if isinstance(one, OrderTold)), None)
    return [Stays(oven=card.name, orders=told.stays)] if told is not None and told.stays else []
