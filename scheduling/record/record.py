"""An oven's record: its facts, and how it stands in a roster."""

from datetime import UTC, datetime

from scheduling.choice import About
from scheduling.firing.answers import place_of
from scheduling.journal import Joined
from scheduling.ports import OvenCard
from scheduling.record.facts import Facts
from scheduling.record.need import pressing

BEFORE_ALL = datetime(2000, 1, 1, tzinfo=UTC)


class Record(Facts):
    """The journal of one oven, with all that follows from it."""

    def card(self, card: OvenCard) -> OvenCard:
        """The stored card brought up to date, as of the last entry."""
        at = max((entry.at for entry in self.entries), default=BEFORE_ALL)
        state, need = pressing(self, at)
        place = self.answers.get(About.PLACE)
        return card.model_copy(
            update={
                "name": self.name or card.name,
                "state": state.value,
                "needs": None if need is None else need.what.value,
                "needs_since": None if need is None else need.since,
                "place": place_of(place).name if place else card.place,
                "builder": self.builder if self.entries else card.builder,
                "owners": self.tenders if self.last_of(Joined) else card.owners,
            }
        )
