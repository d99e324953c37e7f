"""What each of a builder's people has in hand: the client whose card lies open."""

from datetime import date, datetime
from typing import Literal, Protocol

from pydantic import BaseModel, ConfigDict

from scheduling.choice import About, Ordering, OrderingFor


class Asking(BaseModel):
    """A question that was put to one of a builder's people at ``at``; their next words answer it.

    ``what``: the name that clients know their team by, their own name, their town, or something
    about the make-up (``about``) of an ``oven``, or of the one an ``invitation`` is for; ``along``
    are answers typed beside it, which wait for this one. ``first``: it is of their first meeting,
    and the next question follows.
    """

    model_config = ConfigDict(frozen=True)

    what: Literal["team_name", "own_name", "town", "make_up"]
    at: datetime
    about: About | None = None
    oven: str = ""
    invitation: str = ""
    along: tuple[tuple[About, str], ...] = ()
    first: bool = False


class InHand(BaseModel):
    """``oven`` is whose card lies open since ``opened_at``; None for none.

    ``talking``: what is typed goes to its owner. ``order`` waits to be confirmed (asked at
    ``order_at``); one for many needs no open card. ``many`` takes back the last order for many that
    they gave, while no card lies open. ``digest`` is the last day on which the morning's digest was
    due. ``asking`` is the question that their next words answer.
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
    asking: Asking | None = None


class Hands(Protocol):
    """One row a person."""

    async def of(self, person_id: str) -> InHand:
        """What they have in hand; nothing, for somebody not known here."""
        ...

    async def put(self, hand: InHand) -> None:
        """Insert or replace."""
        ...

    async def put_down(self, oven_id: str) -> None:
        """Nobody has that oven in hand any more, nor a question about it, nor an order for it,
        alone or with others."""
        ...
