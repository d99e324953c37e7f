"""What is looked after once words have gone out: codes blotted out, the erased forgotten.

Neither can be done in the unit that posts the words: the letter has to be sent first.
"""

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta

import structlog

from bot.conversation.people.erasing import farewell_of
from bot.conversation.people.forgetting import finish
from scheduling.clock import Clock
from scheduling.ports import Erasure, OutboxState, Store, UnitOfWork

AFTER = timedelta(minutes=1)
"""Time for a letter to be sent before it is looked at."""

PATIENCE = timedelta(days=1)
"""A farewell that cannot be sent is not waited for any longer."""

BLOTTED = "An invitation stood here. Its code was shown once; open invitations can be taken back."
BLOTTED_ADDRESS = "The address of a calendar stood here. It was shown once; /week makes another."

ON_ITS_WAY = (OutboxState.TODO, OutboxState.SENDING)

KeepList = Callable[[Sequence[Erasure]], None]
"""Keeps the ids of the erased outside the database."""

_log = structlog.get_logger(__name__)


class Sweeping:
    """Looks when there is something to look at, and at most once a minute."""

    def __init__(self, store: Store, clock: Clock, keep_list: KeepList | None = None) -> None:
        self._store = store
        self._clock = clock
        self._keep_list = keep_list
        self._looked_at: datetime | None = None

    async def look(self) -> int:
        """Do what can be done; returns how much."""
        due = await self.next_due()
        now = self._clock.now()
        if due is None or due > now:
            return 0
        self._looked_at = now
        return await self._blot_codes() + await self._drop_phones(now) + await self._forget(now)

    async def next_due(self) -> datetime | None:
        """When there is next something to look at; None for never."""
        async with self._store.read() as unit:
            since = [one.made_at for one in await unit.invitations.with_letters()]
            since += [one.made_at for one in await unit.calendars.with_letters()]
            since += [one.asked_at for one in await unit.erasures.pending()]
            since += [one.expires_at for one in await unit.invitations.with_phones()]
        if not since:
            return None
        first = min(since) + AFTER
        return first if self._looked_at is None else max(first, self._looked_at + AFTER)

    async def forget_now(self, person_id: str) -> bool:
        """They write again before their farewell was sent: they are forgotten at once, and come
        as a stranger. False where they are not going."""
        async with self._store.write() as unit:
            erasure = await unit.erasures.get(person_id)
            if erasure is None or erasure.done_at is not None:
                return False
            await finish(unit, erasure, self._clock.now())
            await unit.commit()
        return True

    async def _blot_codes(self) -> int:
        count = 0
        async with self._store.write() as unit:
            for one in await unit.invitations.with_letters():
                if await _blotted(unit, one.letter or "", BLOTTED):
                    await unit.invitations.put(one.model_copy(update={"letter": None}))
                    count += 1
            for address in await unit.calendars.with_letters():
                if await _blotted(unit, address.letter or "", BLOTTED_ADDRESS):
                    await unit.calendars.put(address.model_copy(update={"letter": None}))
                    count += 1
            await unit.commit()
        return count

    async def _drop_phones(self, now: datetime) -> int:
        """Who did not come while their invitation was good need not be rung."""
        async with self._store.write() as unit:
            stale = [one for one in await unit.invitations.with_phones() if not one.is_open(now)]
            for one in stale:
                await unit.invitations.put(one.model_copy(update={"phone": ""}))
            await unit.commit()
        return len(stale)

    async def _forget(self, now: datetime) -> int:
        async with self._store.write() as unit:
            ready = [one for one in await unit.erasures.pending() if await _is_told(unit, one, now)]
            for one in ready:
                await finish(unit, one, now)
            known = await unit.erasures.all()
            await unit.commit()
        if ready:
            if self._keep_list is not None:
                self._keep_list(known)
            await self._store.tidy()
            _log.info("forgotten", count=len(ready))
        return len(ready)


async def _is_told(unit: UnitOfWork, one: Erasure, now: datetime) -> bool:
    letter = await unit.outbox.get(farewell_of(one.person))
    if letter is None or letter.state not in ON_ITS_WAY:
        return now - one.asked_at >= AFTER
    return now - one.asked_at >= PATIENCE


async def _blotted(unit: UnitOfWork, letter_id: str, instead: str) -> bool:
    """Take the words out of a letter; False while it is on its way."""
    letter = await unit.outbox.get(letter_id)
    if letter is None:
        return True
    if letter.state in ON_ITS_WAY:
        return False
    bare = letter.parcel.model_copy(update={"text": instead, "attachments": ()})
    await unit.outbox.replace(letter.id, bare)
    return True
