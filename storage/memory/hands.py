"""What each of a builder's people has in hand, in memory."""

from scheduling.choice import OrderingFor
from scheduling.ports import InHand
from storage.memory.tables import Room


class MemoryHands(Room):
    """``Hands`` in memory."""

    async def of(self, person_id: str) -> InHand:
        """What they have in hand."""
        return self._t.hands.get(person_id) or InHand(person=person_id)

    async def put(self, hand: InHand) -> None:
        """Insert or replace."""
        self._needs_person(hand.person)
        if hand.oven is not None:
            self._needs_oven(hand.oven)
        self._t.hands[hand.person] = hand

    async def put_down(self, oven_id: str) -> None:
        """Nobody has that oven in hand any more, nor an order for it, alone or with others."""
        no_order = {"order": None, "order_at": None}
        nothing = {"oven": None, "talking": False, **no_order}
        for person, hand in list(self._t.hands.items()):
            kept = hand.model_copy(update=nothing) if hand.oven == oven_id else hand
            if isinstance(kept.order, OrderingFor) and oven_id in kept.order.ovens:
                kept = kept.model_copy(update=no_order)
            if kept.many is not None and oven_id in kept.many.ovens:
                kept = kept.model_copy(update={"many": None})
            if kept.asking is not None and kept.asking.oven == oven_id:
                kept = kept.model_copy(update={"asking": None})
            self._t.hands[person] = kept
