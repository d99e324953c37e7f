"""In a talk with an owner: what is typed goes to them, and nothing that may be for us.

Whatever reads like an order, a list or another client's name is asked about first: a slip of the
eye must not tell an owner how another one stands.
"""

from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.office.acting import Acting
from bot.conversation.office.many import ManyOrders
from bot.conversation.office.showing import Showing
from bot.conversation.office.typed_orders import TypedOrders
from bot.conversation.office.whom import Whom
from bot.understanding.office_words import GREETING, Find, Help, Part, wish_of
from scheduling.choice import (
    Boarding,
    Casing,
    Choice,
    Command,
    CommandName,
    Jotting,
    Listing,
    Opening,
    OrderingFor,
    Talking,
)
from scheduling.meaning import OrderOrWords, RosterShown
from scheduling.ports import InHand, OvenCard, Person

STRANGE = Command(name=CommandName.HELP)


class Talk:
    """``hear`` answers whatever is typed or sent while a talk is open."""

    def __init__(
        self,
        base: Foundation,
        acting: Acting,
        showing: Showing,
        whom: Whom,
        orders: TypedOrders,
        many: ManyOrders,
    ) -> None:
        self._base = base
        self._acting = acting
        self._showing = showing
        self._whom = whom
        self._orders = orders
        self._many = many

    async def hear(self, incoming: Incoming, person: Person, card: OvenCard, hand: InHand) -> None:
        """To the owner, unless it may have been meant for us, or for another."""
        text = incoming.text or ""
        wish = wish_of(text) if incoming.photo is None else None
        if isinstance(wish, Talking) and wish.what == "close":
            await self._acting.act(incoming, person, card, wish)
            return
        if isinstance(wish, Talking) and wish.what == "say":
            await self._acting.act(incoming, person, card, wish)
            return
        if await self._for_many(incoming, person, card, hand):
            return
        meant = await self._meant(incoming, person, card, hand)
        if meant is None:
            await self._acting.say(incoming, person, card)
            return
        choice, about = meant
        asked = OrderOrWords(
            oven=card.name, text=text, choice=choice, about=about, photo=incoming.photo
        )
        await reply(self._base, incoming, person, asked, card)

    async def _for_many(
        self, incoming: Incoming, person: Person, card: OvenCard, hand: InHand
    ) -> bool:
        """An order for all, or for some together, is asked about with whom it is for."""
        told = await self._orders.hear(incoming, person)
        said = told.whole[0] if told is not None and len(told.whole) == 1 else None
        if said is None or said.ordered.order is None or incoming.photo is not None:
            return False
        group, order = said.ordered.group, said.ordered.order
        if group is not None and not said.names:
            cards = await self._many.of_group(person, group, said.but)
        elif len(said.names) > 1 and all(len(one) == 1 for one in said.names):
            cards = await self._showing.clients(person, sorted(said.ovens))
        else:
            return False
        await self._many.ask(incoming, person, order, cards, hand, only=card, talking=card)
        return True

    async def _meant(
        self, incoming: Incoming, person: Person, card: OvenCard, hand: InHand
    ) -> tuple[Choice, str] | None:
        """What else it may be, and about whom; None for words to the owner."""
        about = await self._whom.answered(person, incoming)
        if about is not None and about != {card.id}:
            # It answers something about another, or nobody knows what.
            (other,) = about if len(about) == 1 else ("",)
            return await self._opening(person, other)
        told = await self._orders.hear(incoming, person)
        if told is not None and told.whole:
            said = told.whole[0]
            ovens = tuple(sorted(said.ovens)) or (card.id,)
            if len(told.whole) == 1 and len(ovens) == 1 and said.ordered.order is not None:
                (one,) = await self._showing.clients(person, ovens) or (card,)
                name = one.name if one.id != card.id else ""
                return OrderingFor(order=said.ordered.order, ovens=(one.id,)), name
            return STRANGE, ""
        wish = self._wished(incoming, card)
        if wish is not None:
            return wish, ""
        named = await self._named(person, incoming)
        if named is not None:
            return named
        others = await self._whom.told_of_since(person, card, hand)
        return await self._opening(person, others[0]) if others else None

    def _wished(self, incoming: Incoming, card: OvenCard) -> Choice | None:
        text = incoming.text or ""
        if text.startswith("/"):
            return STRANGE
        if incoming.photo is not None or GREETING.fullmatch(text.strip(" .!?").lower()):
            return None
        match wish_of(text):
            case Listing() | Boarding() | Casing() | Command() | Jotting() | Talking() as wish:
                return wish
            case Part(name=name):
                return Opening(oven=card.id, part=name)
            case Help():
                return STRANGE
            case _:
                return None

    async def _named(self, person: Person, incoming: Incoming) -> tuple[Choice, str] | None:
        """Somebody's name and nothing else, or "find" and a name."""
        wish = wish_of(incoming.text or "")
        if not isinstance(wish, Find):
            return None
        found = await self._showing.found(person, wish, whole=not wish.sure)
        if isinstance(found, OvenCard):
            return Opening(oven=found.id), found.name
        if found.kind == "no_client":
            return None
        if isinstance(found, RosterShown):
            return found.asked, ""
        return Listing(group=wish.group, text=wish.text), ""

    async def _opening(self, person: Person, oven: str) -> tuple[Choice, str]:
        card = await self._showing.client(person, oven or None)
        return (Opening(oven=card.id), card.name) if card is not None else (Listing(), "")
