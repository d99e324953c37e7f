"""What each of a builder's people has in hand."""

from pydantic import TypeAdapter
from sqlalchemy import select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.choice import Ordering, OrderingFor
from scheduling.ports import InHand
from storage import tables
from storage.upsert import put

_H = tables.hands
_ORDER: TypeAdapter[Ordering | OrderingFor] = TypeAdapter(Ordering | OrderingFor)


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
        orders = {
            name: _ORDER.validate_json(row[name]) if row[name] else None
            for name in ("order", "many")
        }
        return InHand.model_validate({**row, **orders})

    async def put(self, hand: InHand) -> None:
        """Insert or replace."""
        orders = {
            name: order.model_dump_json() if order is not None else None
            for name, order in (("order", hand.order), ("many", hand.many))
        }
        await put(self._connection, _H, hand.model_dump() | orders, ["person"])

    async def put_down(self, oven_id: str) -> None:
        """Nobody has that oven in hand any more, nor an order for it, alone or with others."""
        no_order = {"order": None, "order_at": None}
        nothing = {"oven": None, "talking": False, **no_order}
        await self._connection.execute(update(_H).where(_H.c.oven == oven_id).values(**nothing))
        for column, values in ((_H.c.order, no_order), (_H.c.many, {"many": None})):
            named = column.contains(f'"{oven_id}"', autoescape=True)
            await self._connection.execute(update(_H).where(named).values(**values))
