"""Shows a builder their clients: the list, who is found by a name, one card, all fires."""

from collections.abc import Iterable
from zoneinfo import ZoneInfo

from bot.conversation.door import NothingHereError, client_for, looks_after, oven_at_hand
from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.office.acting import Acting
from bot.conversation.office.board import board
from bot.conversation.office.card import client_shown
from bot.conversation.office.roster import found_by_name, roster
from bot.understanding.office_words import Find
from bot.understanding.searching import search_in
from scheduling.choice import Listing
from scheduling.meaning import NoClient, NothingHere, OfficeHelp, RosterShown, WhichClient
from scheduling.ports import InHand, OvenCard, Person
from scheduling.record import Record


class Showing:
    """Every verb answers, and says in the same unit what lies open from then on."""

    def __init__(self, base: Foundation, acting: Acting) -> None:
        self._base = base
        self._acting = acting

    async def list(self, incoming: Incoming, person: Person, said: Listing) -> None:
        """A page of the list; whatever lay open is put down."""
        async with self._base.store.read() as unit:
            shown = await roster(unit, person, said, self._base.clock.now())
        await reply(self._base, incoming, person, shown, hand=await self.put_down(person))

    async def board(self, incoming: Incoming, person: Person) -> None:
        """All fires that burn now."""
        now = self._base.clock.now()
        fires = await board(self._base.store, self._base.engine, person, now)
        await reply(self._base, incoming, person, fires)

    async def find(self, incoming: Incoming, person: Person, wish: Find) -> None:
        """Who is called so, or lives there: the card of the one, or a list of several."""
        found = await self.found(person, wish)
        if isinstance(found, OvenCard):
            await self.open(incoming, person, found.id)
        else:
            await reply(self._base, incoming, person, found)

    async def found(
        self, person: Person, wish: Find, *, whole: bool = False
    ) -> OvenCard | RosterShown | WhichClient | NoClient:
        """Who is meant. ``whole``: only who is called so in whole words."""
        now = self._base.clock.now()
        search = search_in(wish.text, now.astimezone(ZoneInfo(person.zone)).date())
        if search is not None and wish.group != "all":
            search = search.model_copy(update={"group": wish.group})
        async with self._base.store.read() as unit:
            return await found_by_name(unit, person, wish, now, search, whole=whole)

    async def anybody(self, person: Person, wish: Find) -> bool:
        """Whether there is any such client."""
        found = await self.found(person, wish)
        return isinstance(found, OvenCard) or found.kind != "no_client"

    async def open(
        self, incoming: Incoming, person: Person, oven: str | None, part: str = "card"
    ) -> None:
        """One client's card. A talk with another is over."""
        card = await self.client(person, oven)
        if card is None:
            await reply(self._base, incoming, person, NothingHere())
            return
        record: Record = await self._base.engine.record(card.id)
        now = self._base.clock.now()
        person = await self._settled(person, record.zone)
        async with self._base.store.read() as unit:
            before = await unit.hands.of(person.id)
            same = before.oven == card.id
            hand = before.model_copy(
                update={
                    "oven": card.id,
                    "opened_at": now,
                    "talking": same and before.talking,
                    "order": before.order if same else None,
                }
            )
            shown = await client_shown(unit, person, card, record, now, part=part, hand=hand)
        if before.talking and not same:
            await self._acting.leave_talk(person, before.oven)
        await reply(self._base, incoming, person, shown, card, zone=record.zone, hand=hand)

    async def help(self, incoming: Incoming, person: Person, *, strange: bool = False) -> None:
        """What can be typed."""
        async with self._base.store.read() as unit:
            hand = await unit.hands.of(person.id)
            own = await oven_at_hand(unit, person)
        card = await self.client(person, hand.oven)
        name = card.name if card is not None else ""
        told = OfficeHelp(oven=name, own=own is not None, strange=strange)
        await reply(self._base, incoming, person, told)

    async def client(self, person: Person, oven: str | None) -> OvenCard | None:
        """The client's card, if they are this team's."""
        if oven is None:
            return None
        async with self._base.store.read() as unit:
            try:
                return await client_for(unit, person, oven)
            except NothingHereError:
                return None

    async def clients(self, person: Person, ovens: Iterable[str]) -> tuple[OvenCard, ...]:
        """Those of these ovens that are this team's clients, in that order."""
        wanted = tuple(ovens)
        async with self._base.store.read() as unit:
            found = await unit.ovens.several(wanted)
        cards = [found[one] for one in wanted if one in found]
        return tuple(card for card in cards if looks_after(person, card))

    async def put_down(self, person: Person) -> InHand:
        """Nothing in hand; a talk that went on is over."""
        async with self._base.store.read() as unit:
            hand = await unit.hands.of(person.id)
        if hand.talking:
            await self._acting.leave_talk(person, hand.oven)
        return hand.model_copy(update={"oven": None, "talking": False, "order": None})

    async def put(self, person: Person) -> Person:
        """Keep what a builder said of themselves."""
        async with self._base.store.write() as unit:
            await unit.people.put(person)
            await unit.commit()
        return person

    async def _settled(self, person: Person, zone: str) -> Person:
        """Who has never said where they are lives by the hours of their clients."""
        if person.zone != "UTC" or zone == "UTC":
            return person
        return await self.put(person.model_copy(update={"zone": zone}))
