"""The fires that a builder's clients were promised: one query beside the cards."""

from datetime import date, timedelta

from scheduling.meaning import WeekFire
from scheduling.ports import OvenCard, PromisedDay, UnitOfWork
from scheduling.record import Phase

NO_FIRE = frozenset({Phase.HELD, Phase.DONE, Phase.LEFT})
"""Ovens in which nothing is lit, whatever was promised before."""

AHEAD = timedelta(days=90)
"""A calendar reaches so far (own choice)."""


async def fires_of(unit: UnitOfWork, builder: str, first: date, last: date) -> tuple[WeekFire, ...]:
    """Fires from first to last, both inclusive, in the order of their days."""
    promised = await unit.promises.of_builder(builder, first, last)
    cards = await unit.ovens.several(list({oven for oven, _ in promised}))
    return tuple(
        _fire(cards[oven], one)
        for oven, one in promised
        if oven in cards and cards[oven].state not in NO_FIRE
    )


def _fire(card: OvenCard, one: PromisedDay) -> WeekFire:
    # All of it was checked when it was read.
    return WeekFire.model_construct(
        oven_id=card.id, oven=card.name, place=card.place, **one.__dict__
    )
