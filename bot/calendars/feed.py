"""What stands behind an address: whose calendar it is, and its bytes as of now."""

import asyncio
from collections.abc import Sequence
from datetime import timedelta
from zoneinfo import ZoneInfo

from bot.conversation.clients.fires import AHEAD, fires_of
from bot.papers.fires_calendar import FireEntry, fires_calendar
from bot.wording.attached import ALL_FIRES, fire_entry
from bot.wording.measures import Measures
from scheduling.clock import Clock
from scheduling.meaning import WeekFire
from scheduling.ports import Store, digest_of

BEHIND = timedelta(days=7)
"""Fires of the week that has passed stay in it, as far as they are still promised."""


class CalendarFeed:
    """Reads the store and changes nothing."""

    def __init__(self, store: Store, clock: Clock) -> None:
        self._store = store
        self._clock = clock
        self._one = asyncio.Lock()

    async def read(self, code: str) -> bytes | None:
        """The calendar behind a code; None for a code that opens nothing, whether or not it ever
        did: one revoked, or of somebody who is of that team no more."""
        async with self._store.read() as unit:
            address = await unit.calendars.by_digest(digest_of(code))
            person = await unit.people.get(address.person) if address is not None else None
            if address is None or person is None or person.builder != address.builder:
                return None
            now = self._clock.now()
            today = now.astimezone(ZoneInfo(person.zone)).date()
            fires = await fires_of(unit, address.builder, today - BEHIND, today + AHEAD)
        # One at a time and beside the house: thousands of fires must not keep one of them waiting.
        async with self._one:
            m = Measures(person.unit, ZoneInfo(person.zone), now)
            return await asyncio.to_thread(_written, fires, m)


def _written(fires: Sequence[WeekFire], m: Measures) -> bytes:
    entries = [FireEntry.model_validate(fire_entry(one, m)) for one in fires]
    return fires_calendar(ALL_FIRES, entries)
