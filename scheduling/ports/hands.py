"""What each of a builder's people has in hand: the client whose card lies open."""

from datetime import date, datetime
from typing import Protocol

from pydantic import BaseModel, ConfigDict

from scheduling.choice import Ordering, OrderingFor


class InHand(BaseModel):
    """``oven`` is whose card lies open since ``opened_at``; None for none.

    ``talking``: what is typed goes to its owner. ``order`` waits to be confirmed (asked at
    ``order_at``); one for many needs no open card. ``many`` takes back the last order for many that
    they gave, while no card lies open. ``digest`` is the last day on which the morning's digest was
    due.
    """

    model_config = ConfigDict(frozen=True)

    person: str
    oven: str | None = None
    opened_at: datetime | None = None
    talking: bool = False
    order: Ordering | OrderingFor | None = None
    order_at: datetime | None = None
    many: OrderingFor | None = None
    digest: date | None = None


class Hands(Protocol):
    """One row a person."""

    async def of(self, person_id: str) -> InHand:
        """What they have in hand; nothing, for somebody not known here."""
        ...

    async def put(self, hand: InHand) -> None:
        """Insert or replace."""
        ...

    async def put_down(self, oven_id: str) -> None:
        """Nobody has that oven in hand any more, nor an order for it, alone or with others."""
        ...
