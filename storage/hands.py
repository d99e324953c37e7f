"""What each of a builder's people has in hand."""

from typing import Any

from pydantic import TypeAdapter
from sqlalchemy import select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.choice import Ordering, OrderingFor
from scheduling.ports import Asking, InHand
from storage import tables
from storage.upsert import put

_H = tables.hands
_ORDER: TypeAdapter[Ordering | OrderingFor] = TypeAdapter(Ordering | OrderingFor)
_AS_JSON: dict[str, TypeAdapter[Any]] = {
    "order": _ORDER,
    "many": _ORDER,
    "asking": TypeAdapter(Asking),
}


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
        return InHand.model_validate(
            {
                **row,
                **{
                    name: kind.validate_json(row[name]) if row[name] else None
                    for name, kind in _AS_JSON.items()
                },
            }
        )

    async def put(self, hand: InHand) -> None:
        """Insert or replace."""
        kept = hand.model_dump()
        for name in _AS_JSON:
            value = getattr(hand, name)
            kept[name] = value.model_dump_json() if value is not None else None
        await put(self._connection, _H, kept, ["person"])

    async def put_down(self, oven_id: str) -> None:
        """Nobody has that oven in hand any more, nor an order for it, alone or with others."""
        no_order = {"order": None, "order_at": None}
        nothing = {"oven": None, "talking": False, **no_order}
        await self._connection.execute(update(_H).where(_H.c.oven == oven_id).values(**nothing))
        others = ((_H.c.many, {"many": None}), (_H.c.asking, {"asking": None}))
        for column, values in ((_H.c.order, no_order), *others):
            named = column.contains(f'"{oven_id}"', autoescape=True)
            await self._connection.execute(update(_H).where(named).values(**values))
