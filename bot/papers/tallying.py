"""Counts ovens one by one from the store, and those that have not changed only once.

An oven takes some 15 ms (measured); two hundred of them take seconds the first time, during
which everything else goes on between two ovens.
"""

import asyncio
from typing import Final

from bot.papers.tally import OvenCounted, counted, tally
from scheduling.meaning import Tally
from scheduling.ports import Store
from scheduling.record import Record
from scheduling.record.standing import Phase

STATES: Final = tuple(phase.value for phase in Phase if phase is not Phase.LEFT)
"""An oven that everybody has left may be a builder's copy of one that is counted elsewhere: over
a whole installation it would count twice."""


class Tallying:
    """Tallies of a store. What is kept between two of them are figures, no names."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._counted: dict[str, tuple[int, OvenCounted]] = {}

    async def of(self, builder: str | None = None) -> Tally:
        """Of all ovens that anybody tends, or of those that one builder's team looks after."""
        async with self._store.read() as unit:
            if builder is None:
                cards = await unit.ovens.in_states(STATES)
            else:
                cards = await unit.ovens.of_builder(builder)
        return tally([await self._oven(card.id) for card in cards])

    async def _oven(self, oven_id: str) -> OvenCounted:
        seq, known = self._counted.get(oven_id, (0, OvenCounted()))
        async with self._store.read() as unit:
            newer = await unit.ovens.journal(oven_id, seq)
            if not newer:
                return known
            journal = newer if seq == 0 else await unit.ovens.journal(oven_id)
        entries = tuple(one.entry for one in journal)
        fresh = await asyncio.to_thread(counted, Record(entries, oven_id, members=0))
        self._counted[oven_id] = (len(entries), fresh)
        return fresh
