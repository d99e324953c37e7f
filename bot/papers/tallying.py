"""Counts ovens one by one from the store: no more than one journal is held at a time."""

import asyncio
from collections.abc import AsyncIterator
from typing import Final

from bot.papers.tally import OvenCounted, counted
from scheduling.ports import Store
from scheduling.record import Record
from scheduling.record.standing import Phase

STATES: Final = tuple(phase.value for phase in Phase)


async def counted_ovens(store: Store, builder: str | None = None) -> AsyncIterator[OvenCounted]:
    """Every oven that anybody tends, or only those that one builder's team looks after."""
    async with store.read() as unit:
        if builder is None:
            cards = await unit.ovens.in_states(STATES)
        else:
            cards = await unit.ovens.of_builder(builder)
    for card in cards:
        async with store.read() as unit:
            entries = tuple(one.entry for one in await unit.ovens.journal(card.id))
        yield await asyncio.to_thread(counted, Record(entries, card.id, members=0))
