"""What each of a builder's people has in hand."""

from sqlalchemy import select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.choice import Ordering
from scheduling.ports import Asking, InHand
from storage import tables
from storage.upsert import put

_H = tables.hands


class SqlHands:
    """``Hands`` in a table."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def of(self, person_id: str) -> InHand:
        """What they have in hand."""
        found = await self._connection.execute(select(_H).where(_H.c.person == person_id))
        row = found.mappings().first()
        if row is None:
            return InHand(person=person_id)
        order, asking = row["order"], row["asking"]
        kept = {
            **row,
            "order": Ordering.model_validate_json(order) if order else None,
            "asking": Asking.model_validate_json(asking) if asking else None,
        }
        return InHand.model_validate(kept)

    async def put(self, hand: InHand) -> None:
        """Insert or replace."""
        order = hand.order.model_dump_json() if hand.order is not None else None
        asking = hand.asking.model_dump_json() if hand.asking is not None else None
        kept = hand.model_dump() | {"order": order, "asking": asking}
        await put(self._connection, _H, kept, ["person"])

    async def put_down(self, oven_id: str) -> None:
        """Nobody has that oven in hand any more, nor an order for it."""
        nothing = {"oven": None, "talking": False, "order": None, "order_at": None}
        await self._connection.execute(update(_H).where(_H.c.oven == oven_id).values(**nothing))
        asked = _H.c.asking.contains(f'"{oven_id}"', autoescape=True)
        await self._connection.execute(update(_H).where(asked).values(asking=None))
