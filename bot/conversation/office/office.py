"""Receives a builder's people: what they type and press about their clients.

A builder may own an oven besides. Then what an owner could have said is about their own, and what
names a client, or follows an opened card, is about that one; every answer names whom it is about.
"""

from datetime import datetime, timedelta

from bot.conversation.door import oven_at_hand
from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.office.acting import Acting
from bot.conversation.office.roster import BURNING
from bot.conversation.office.showing import Showing
from bot.understanding import understand
from bot.understanding.office_words import Find, Help, Own, Part, Town, Unit, Wish, wish_of
from bot.understanding.orders import Confirming, Ordered, confirming, order_in
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
    Talking,
)
from scheduling.meaning import NothingHere, OrderUnclear
from scheduling.ports import InHand, OvenCard, Person, Pressed
from scheduling.record import Record
from scheduling.remark import Setting

OFFICE_CHOICES = (Opening, Listing, Boarding, Casing, Jotting, Talking, Ordering)
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
            await self._in_talk(incoming, person, card)
            return True
        if incoming.text is not None and incoming.photo is None and not incoming.edited:
            return await self._words(incoming, person, own, card, hand)
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
        if said is not None and (card is not None or own is None):
            await self._confirm(incoming, person, hand, card, said)
            return True
        ordered = await self._order_in(incoming, person, card)
        if ordered is not None and (card is not None or own is None):
            await self._order(incoming, person, card, ordered)
            return True
        wish = wish_of(incoming.text or "")
        if own is not None and await self._is_own(incoming, person, own, card, wish):
            return False
        if isinstance(wish, Casing | Jotting | Talking | Part | Command):
            await self._about(incoming, person, card, wish)
        else:
            await self._do(incoming, person, wish)
        return True

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

    async def _order(
        self, incoming: Incoming, person: Person, card: OvenCard | None, ordered: Ordered
    ) -> None:
        if card is None:
            await reply(self._base, incoming, person, OrderUnclear(why="nobody_open"))
        elif ordered.order is None:
            unclear = OrderUnclear(why=ordered.why, oven=card.name)
            await reply(self._base, incoming, person, unclear, card)
        else:
            await self._acting.order(incoming, person, card, ordered)

    async def _order_in(
        self, incoming: Incoming, person: Person, card: OvenCard | None
    ) -> Ordered | None:
        """Days are those of the oven's own zone."""
        local = incoming.sent_at
        if card is not None:
            record: Record = await self._base.engine.record(card.id)
            local = local.astimezone(record.zoneinfo)
        return order_in(incoming.text or "", person.unit, local.date())

    async def _confirm(
        self,
        incoming: Incoming,
        person: Person,
        hand: InHand,
        card: OvenCard | None,
        said: Confirming,
    ) -> None:
        order = self._acting.waiting(hand)
        if card is None or order is None:
            await reply(self._base, incoming, person, OrderUnclear(why="nothing_to_confirm"))
            return
        sure = order.model_copy(update={"confirmed": True, "why": said.why or order.why})
        await self._acting.act(incoming, person, card, sure)

    async def _in_talk(self, incoming: Incoming, person: Person, card: OvenCard) -> None:
        """What is typed goes to the owner, but the word that ends it, and what may be an order."""
        wish = wish_of(incoming.text or "") if incoming.photo is None else None
        if isinstance(wish, Talking) and wish.what == "close":
            await self._acting.act(incoming, person, card, wish)
            return
        ordered = await self._order_in(incoming, person, card)
        await self._acting.say(incoming, person, card, ordered)

    def _still_open(self, hand: InHand, *, besides: bool) -> InHand:
        lasts = LIES_OPEN_BESIDES if besides else LIES_OPEN
        now: datetime = self._base.clock.now()
        if hand.opened_at is None or now - hand.opened_at > lasts:
            return hand.model_copy(update={"oven": None, "talking": False, "order": None})
        return hand
