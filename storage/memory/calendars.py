"""Addresses of calendars, in memory."""

from scheduling.ports import CalendarAddress
from storage.memory.tables import Room


class MemoryCalendars(Room):
    """``Calendars`` in memory."""

    async def by_digest(self, digest: str) -> CalendarAddress | None:
        """The one whose code has this digest."""
        return next((one for one in self._t.calendars.values() if one.digest == digest), None)

    async def of(self, person_id: str) -> CalendarAddress | None:
        """The one of this person."""
        return self._t.calendars.get(person_id)

    async def put(self, address: CalendarAddress) -> None:
        """Insert or replace by person."""
        self._needs_person(address.person)
        self._needs_builder(address.builder)
        self._t.calendars[address.person] = address

    async def revoke(self, person_id: str) -> bool:
        """It opens nothing any more; False if there was none."""
        return self._t.calendars.pop(person_id, None) is not None

    async def with_letters(self) -> tuple[CalendarAddress, ...]:
        """Those whose address may still be read in a letter, the oldest first."""
        shown = [one for one in self._t.calendars.values() if one.letter is not None]
        return tuple(sorted(shown, key=lambda one: (one.made_at, one.person)))
