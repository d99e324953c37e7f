"""The fires that a builder's clients were promised: one query beside the cards."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from scheduling.meaning import WeekFire
from scheduling.ports import OvenCard, PromisedDay, UnitOfWork
from scheduling.record import Phase

NO_FIRE = frozenset({Phase.HELD, Phase.DONE, Phase.LEFT})
"""Ovens in which nothing is lit, whatever was promised before."""

AHEAD = timedelta(days=90)
"""A calendar reaches so far (own choice)."""


@dataclass(frozen=True, slots=True)
class Fires:
    """``shown`` in the order of their days; ``held`` are the ovens on hold."""

    shown: tuple[WeekFire, ...]
    held: tuple[OvenCard, ...]


async def fires_of(unit: UnitOfWork, builder: str, first: date, last: date) -> Fires:
    """Fires from first to last, both inclusive."""
    promised = await unit.promises.of_builder(builder, first, last)
    cards = await unit.ovens.several(list({oven for oven, _ in promised}))
    shown = [
        _fire(cards[oven], one)
        for oven, one in promised
        if oven in cards and cards[oven].state not in NO_FIRE
    ]
    held = [card for card in cards.values() if card.state == Phase.HELD]
    return Fires(tuple(shown), tuple(sorted(held, key=lambda card: card.name)))


def between(fires: Sequence[WeekFire], first: date, days: int) -> tuple[WeekFire, ...]:
    """Those of so many days."""
    last = first + timedelta(days=days - 1)
    return tuple(one for one in fires if first <= one.day <= last)


def _fire(card: OvenCard, one: PromisedDay) -> WeekFire:
    told = one.model_dump()
    return WeekFire.model_validate(
        told | {"oven_id": card.id, "oven": card.name, "place": card.place}
    )
