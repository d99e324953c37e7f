"""The week ahead of all clients: in the chat, as a picture, and as a calendar to subscribe to."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

from bot.conversation.clients.fires import AHEAD, fires_of
from bot.conversation.foundation import Foundation, letter_to, reply
from bot.conversation.incoming import Incoming
from scheduling.choice import Calendaring
from scheduling.meaning import CalendarRevoked, CalendarShown, NothingHere, WeekShown
from scheduling.ports import CalendarAddress, Person, Roster, digest_of
from scheduling.record import Phase

DAY = timedelta(days=1)
WEEK = timedelta(days=7)


class Weeks:
    """Every verb answers."""

    def __init__(self, base: Foundation) -> None:
        self._base = base

    async def do(self, incoming: Incoming, person: Person, said: Calendaring) -> None:
        """A week, or something about the calendar."""
        if person.builder is None:
            await reply(self._base, incoming, person, NothingHere())
            return
        match said.what:
            case "week":
                await self._week(incoming, person, person.builder, said.first)
            case "file":
                await reply(self._base, incoming, person, await self._calendar(person))
            case "address":
                await self._make_address(incoming, person, person.builder)
            case "revoke":
                await self._revoke(incoming, person)

    async def _week(
        self, incoming: Incoming, person: Person, builder: str, first: date | None
    ) -> None:
        today = self._today(person)
        first = max(first or today, today)
        async with self._base.store.read() as unit:
            fires = await fires_of(unit, builder, first, first + WEEK - DAY)
            later = await unit.promises.of_builder(builder, first + WEEK, first + AHEAD, 1)
            held = await unit.ovens.roster(Roster(builder=builder, states=(Phase.HELD,), limit=99))
            clients = bool(await unit.ovens.tally(builder))
        week = WeekShown(
            first=first,
            fires=fires,
            held=tuple(card.name for card in held.cards),
            later=bool(later),
            clients=clients,
        )
        await reply(self._base, incoming, person, week)

    async def _calendar(self, person: Person) -> CalendarShown:
        """The calendar as a file, and whether there is an address for it."""
        today = self._today(person)
        async with self._base.store.read() as unit:
            fires = await fires_of(unit, person.builder or "", today, today + AHEAD)
            address = await unit.calendars.of(person.id)
        return CalendarShown(
            fires=fires,
            has_address=address is not None,
            served=self._base.links.serves_calendars,
        )

    async def _make_address(self, incoming: Incoming, person: Person, builder: str) -> None:
        """A new address, shown this once; one that was made before opens nothing any more."""
        # Two ids, so that it cannot be guessed by whoever may ask as often as they like.
        code = self._base.new_id() + self._base.new_id()
        link = self._base.links.to_calendar(code)
        shown = await self._calendar(person)
        if link is None:
            await reply(self._base, incoming, person, shown)
            return
        shown = shown.model_copy(update={"address": link, "has_address": True})
        letter = letter_to(self._base, person, shown)
        address = CalendarAddress(
            person=person.id,
            builder=builder,
            digest=digest_of(code),
            made_at=self._base.clock.now(),
            letter=letter.id,
        )
        async with self._base.store.write() as unit:
            if await unit.inbox.done(incoming.channel, incoming.key):
                await unit.calendars.put(address)
                await unit.outbox.post(letter)
                await unit.commit()

    async def _revoke(self, incoming: Incoming, person: Person) -> None:
        async with self._base.store.write() as unit:
            if await unit.inbox.done(incoming.channel, incoming.key):
                gone = await unit.calendars.revoke(person.id)
                told = CalendarRevoked(none=not gone)
                await unit.outbox.post(letter_to(self._base, person, told))
                await unit.commit()

    def _today(self, person: Person) -> date:
        return self._base.clock.now().astimezone(ZoneInfo(person.zone)).date()
