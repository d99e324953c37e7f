"""Receives a builder's people: what they type and press about their clients.

A builder may own an oven besides. Then what an owner could have said is about their own, and what
names a client, or follows an opened card, is about that one; every answer names whom it is about.
"""

from datetime import datetime, timedelta

from bot.conversation.door import oven_at_hand
from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.office.acting import CONFIRM_WITHIN, Acting
from bot.conversation.office.many import ManyOrders, is_less_gentle
from bot.conversation.office.roster import BURNING
from bot.conversation.office.showing import Showing
from bot.conversation.office.talk import Talk
from bot.conversation.office.typed_orders import TypedOrders
from bot.conversation.office.whom import Whom
from bot.understanding import understand
from bot.understanding.office_words import Find, Help, Own, Part, Town, Unit, Wish, wish_of
from bot.understanding.orders import Confirming, agreeing, confirming
from scheduling.choice import (
    Boarding,
    Casing,
    Choice,
    Command,
    CommandName,
    Jotting,
    Listing,
    Opening,
    Ordering,
    OrderingFor,
    Talking,
)
from scheduling.meaning import NothingHere, OrderOrWords, OrderUnclear
from scheduling.ports import InHand, OvenCard, Person, Pressed
from scheduling.remark import Setting

OFFICE_CHOICES = (Opening, Listing, Boarding, Casing, Jotting, Talking, Ordering, OrderingFor)
"""Choices that only somebody of the team that looks after an oven can make."""

LIES_OPEN = timedelta(hours=8)
"""A card that was opened longer ago lies open no more (own choice)."""

LIES_OPEN_BESIDES = timedelta(minutes=30)
"""The same for somebody who has an oven of their own (own choice)."""

IDLE_TALK = frozenset({"greeting", "thanks", "question"})
"""What says nothing of a fire: a builder who has clients besides may as well mean those."""

COMMANDS: dict[CommandName, Wish] = {
    CommandName.ROSTER: Listing(),
    CommandName.START: Listing(),
    CommandName.NOW: Listing(group="needs"),
    CommandName.HELP: Help(),
    CommandName.PLAN: Part("plan"),
    CommandName.DAYS: Part("plan"),
    CommandName.PICTURE: Part("picture"),
    CommandName.RECORD: Command(name=CommandName.RECORD),
    CommandName.UNDO: Part("orders"),
    CommandName.SETTINGS: Help(),
}
"""What the owners' commands do for a builder who owns no oven."""


class Office:
    """``hear`` and ``press`` say whether it was for the office at all."""

    def __init__(self, base: Foundation) -> None:
        self._base = base
        self._acting = Acting(base)
        self._showing = Showing(base, self._acting)
        self._whom = Whom(base, self._showing)
        self._many = ManyOrders(base, self._showing)
        parts = (base, self._acting, self._showing, self._whom)
        self._orders = TypedOrders(*parts, self._many)
        self._talk = Talk(*parts, self._orders, self._many)

    # ------------------------------------------------------------ what is pressed

    async def press(self, incoming: Incoming, person: Person, pressed: Pressed) -> bool:
        """Act on a button of the office. False for a button that is none of it."""
        choice = pressed.choice
        match choice:
            case Command(name=CommandName.HELP) if pressed.oven is None:
                await self._do(incoming, person, Help())
            case Command(name=CommandName.NOW) if pressed.oven is None:
                await self._do(incoming, person, Own())
            case Listing() | Boarding():
                await self._do(incoming, person, choice)
            case OrderingFor():
                await self._order_for(incoming, person, pressed, choice)
            case Opening():
                await self._showing.open(incoming, person, choice.oven or pressed.oven, choice.part)
            case Casing() | Jotting() | Talking() | Ordering():
                card = await self._showing.client(person, pressed.oven)
                if card is None:
                    await reply(self._base, incoming, person, NothingHere())
                else:
                    await self._acting.act(incoming, person, card, choice)
            case _:
                return False
        return True

    async def _order_for(
        self, incoming: Incoming, person: Person, pressed: Pressed, choice: OrderingFor
    ) -> None:
        """An order for those who were listed, and for nobody else; of many that were listed long
        ago it is asked again."""
        cards = await self._showing.clients(person, choice.ovens)
        async with self._base.store.read() as unit:
            hand = await unit.hands.of(person.id)
            letter = await unit.outbox.get(pressed.letter)
        old = letter is None or incoming.sent_at - letter.created_at > CONFIRM_WITHIN
        if not cards:
            await reply(self._base, incoming, person, NothingHere())
        elif not choice.together:
            await self._acting.act(incoming, person, cards[0], choice.order)
        elif old or is_less_gentle(choice.order):
            await self._many.ask_again(incoming, person, choice, hand)
        else:
            await self._many.give(incoming, person, choice, hand)

    # ------------------------------------------------------------ what is typed

    async def hear(self, incoming: Incoming, person: Person) -> bool:
        """Act on what somebody of a team typed or sent. False where it is about their own oven."""
        async with self._base.store.read() as unit:
            own = await oven_at_hand(unit, person)
            hand = await unit.hands.of(person.id)
        hand = self._still_open(hand, besides=own is not None)
        card = await self._showing.client(person, hand.oven)
        if incoming.command is not None:
            return await self._command(incoming, person, own, card)
        if card is not None and hand.talking:
            if isinstance(hand.order, OrderingFor) and confirming(incoming.text or ""):
                return await self._words(incoming, person, own, card, hand)
            await self._talk.hear(incoming, person, card, hand)
            return True
        if incoming.text is not None and incoming.photo is None and not incoming.edited:
            return await self._words(incoming, person, own, card, hand)
        if incoming.photo is not None and incoming.answering is not None:
            await self._answer(incoming, person, None)
            return True
        if own is not None:
            return False
        if incoming.edited:
            await reply(self._base, incoming, person, OrderUnclear(why="edited"))
        else:
            await self._showing.help(incoming, person, strange=True)
        return True

    async def _words(
        self,
        incoming: Incoming,
        person: Person,
        own: OvenCard | None,
        card: OvenCard | None,
        hand: InHand,
    ) -> bool:
        said = confirming(incoming.text or "")
        waiting = self._acting.waiting(hand, incoming.sent_at)
        if said is not None and (card is not None or own is None or waiting is not None):
            await self._confirm(incoming, person, hand, card, said)
            return True
        if isinstance(waiting, OrderingFor) and agreeing(incoming.text or ""):
            await self._agree(incoming, person, waiting, hand)
            return True
        front = await self._whom.named_in_front(incoming, person)
        if front is not None:
            await self._about(incoming, person, *front)
            return True
        told = await self._orders.hear(incoming, person)
        if told is not None and await self._orders.take(incoming, person, own, card, hand, told):
            return True
        wish = wish_of(incoming.text or "")
        if own is not None and await self._is_own(incoming, person, own, card, wish):
            return False
        if isinstance(wish, Casing | Jotting | Talking | Part | Command):
            meant = await self._whom.meant(incoming, person, card, hand, acts=_acts(wish))
            if isinstance(meant, OvenCard) or meant is None:
                await self._about(incoming, person, meant, wish)
        elif incoming.answering is not None and (wish is None or isinstance(wish, Find)):
            await self._answer(incoming, person, wish)
        else:
            await self._do(incoming, person, wish)
        return True

    async def _answer(self, incoming: Incoming, person: Person, wish: Find | None) -> None:
        """Words in a reply that are neither order nor name: they may be for that owner."""
        about = await self._whom.answered(person, incoming)
        card = await self._showing.client(person, next(iter(about))) if about else None
        anybody = wish is not None and await self._showing.anybody(person, wish)
        if card is None or len(about or ()) != 1 or anybody:
            await self._do(incoming, person, wish)
            return
        opening = Opening(oven=card.id)
        asked = OrderOrWords(
            oven=card.name,
            text=incoming.text or "",
            choice=opening,
            photo=incoming.photo,
            talking=False,
        )
        await reply(self._base, incoming, person, asked, card)

    async def _agree(
        self, incoming: Incoming, person: Person, waiting: OrderingFor, hand: InHand
    ) -> None:
        """A yes to an order for many, where that is enough."""
        if is_less_gentle(waiting.order):
            await self._many.ask_again(incoming, person, waiting, hand)
        else:
            await self._many.give(incoming, person, waiting, hand)

    async def _is_own(
        self,
        incoming: Incoming,
        person: Person,
        own: OvenCard,
        card: OvenCard | None,
        wish: Wish | None,
    ) -> bool:
        """Whether a builder speaks of their own oven."""
        match wish:
            case Find(sure=True) | Jotting() | Own():
                return False
            case Help():
                return own.state in BURNING
            case Talking(what="open") | Casing() | Part() | Command() if card is not None:
                return False
            case Listing() | Boarding() | Town() | Find():
                if own.state == "set_up" and not isinstance(wish, Listing):
                    return True
                setting = Setting(unit=person.unit, now=incoming.sent_at)
                heard = understand(incoming.text or "", setting)
                if {one.kind for one in heard.meanings} - IDLE_TALK:
                    return True
                return isinstance(wish, Find) and not await self._showing.anybody(person, wish)
            case _:
                return True

    async def _command(
        self, incoming: Incoming, person: Person, own: OvenCard | None, card: OvenCard | None
    ) -> bool:
        name = incoming.command.name if incoming.command is not None else CommandName.HELP
        if name not in COMMANDS or (own is not None and name is not CommandName.ROSTER):
            return False
        wish = COMMANDS[name]
        if isinstance(wish, Part | Command):
            await self._about(incoming, person, card, wish)
        else:
            await self._do(incoming, person, wish)
        return True

    async def _do(self, incoming: Incoming, person: Person, wish: Wish | None) -> None:
        """What needs no open card."""
        match wish:
            case Listing():
                await self._showing.list(incoming, person, wish)
            case Boarding():
                await self._showing.board(incoming, person)
            case Find():
                await self._showing.find(incoming, person, wish)
            case Unit(letter=letter):
                await self._change(incoming, person, "unit", letter)
            case Own():
                await self._own(incoming, person)
            case _:
                await self._showing.help(incoming, person, strange=wish is None)

    async def _change(self, incoming: Incoming, person: Person, what: str, to: str) -> None:
        """Hours or scale of a builder: seen at once in the list."""
        person = await self._showing.put(person.model_copy(update={what: to}))
        await self._showing.list(incoming, person, Listing())

    async def _own(self, incoming: Incoming, person: Person) -> None:
        """Back to their own oven: what they type from now on is about it."""
        async with self._base.store.read() as unit:
            own = await oven_at_hand(unit, person)
        if own is None:
            await self._showing.help(incoming, person, strange=True)
            return
        hand = await self._showing.put_down(person)
        async with self._base.store.write() as unit:
            await unit.hands.put(hand)
            await unit.commit()
        await self._acting.ask_now(incoming, person, own)

    # ------------------------------------------------------------ about one client

    async def _about(
        self, incoming: Incoming, person: Person, card: OvenCard | None, wish: Choice | Part
    ) -> None:
        """What is about the client whose card lies open."""
        if card is None:
            await reply(self._base, incoming, person, OrderUnclear(why="nobody_open"))
        elif isinstance(wish, Jotting) and not wish.text:
            unclear = OrderUnclear(why="no_text", oven=card.name)
            await reply(self._base, incoming, person, unclear, card)
        elif isinstance(wish, Part):
            await self._showing.open(incoming, person, card.id, wish.name)
        else:
            await self._acting.act(incoming, person, card, wish)

    async def _confirm(
        self,
        incoming: Incoming,
        person: Person,
        hand: InHand,
        card: OvenCard | None,
        said: Confirming,
    ) -> None:
        order = self._acting.waiting(hand, incoming.sent_at)
        if isinstance(order, OrderingFor):
            sure = {"confirmed": is_less_gentle(order.order), "why": said.why or order.order.why}
            given = order.model_copy(update={"order": order.order.model_copy(update=sure)})
            await self._many.give(incoming, person, given, hand)
        elif card is None or order is None:
            await reply(self._base, incoming, person, OrderUnclear(why="nothing_to_confirm"))
        else:
            why = said.why or order.why
            sure = {"confirmed": True, "why": why}
            await self._acting.act(incoming, person, card, order.model_copy(update=sure))

    def _still_open(self, hand: InHand, *, besides: bool) -> InHand:
        lasts = LIES_OPEN_BESIDES if besides else LIES_OPEN
        now: datetime = self._base.clock.now()
        if hand.opened_at is None or now - hand.opened_at > lasts:
            order = hand.order if isinstance(hand.order, OrderingFor) else None
            return hand.model_copy(update={"oven": None, "talking": False, "order": order})
        return hand


def _acts(wish: Wish) -> bool:
    """Whether it does something, so that it has to be sure about whom."""
    return not isinstance(wish, Part | Command)
