"""What each of a builder's people has in hand, in memory."""

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
        """Nobody has that oven in hand any more, nor an order for it."""
        nothing = {"oven": None, "talking": False, "order": None, "order_at": None}
        for person, hand in list(self._t.hands.items()):
            if hand.asking is not None and hand.asking.oven == oven_id:
                hand = hand.model_copy(update={"asking": None})
            if hand.oven == oven_id:
                hand = hand.model_copy(update=nothing)
            self._t.hands[person] = hand
