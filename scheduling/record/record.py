"""An oven's record: its facts, and how it stands in a roster."""

from datetime import datetime

from scheduling.firing.session import crown_c
from scheduling.journal import Joined
from scheduling.ports import OvenCard
from scheduling.record.facts import Facts
from scheduling.record.need import listed_phase, needs_of
from scheduling.record.standing import Phase, rank_of


class Record(Facts):
    """The journal of one oven, with all that follows from it."""

    def card(self, card: OvenCard, now: datetime) -> OvenCard:
        """The stored card brought up to date."""
        state, needs = listed_phase(self, now), needs_of(self, now)
        need = needs[0] if needs else None
        return card.model_copy(
            update={
                "name": self.name or card.name,
                "state": state.value,
                "needs": None if need is None else need.what.value,
                "open_needs": "".join(f" {one.what.value}" for one in needs) + " " * bool(needs),
                "needs_since": None if need is None else need.since,
                "rank": rank_of(state, None if need is None else need.what),
                "place": self.place or card.place,
                "builder": self.builder if self.entries else card.builder,
                "owners": self.tenders if self.last_of(Joined) else card.owners,
            }
            | self._figures(state, now)
            | {
                "taken_by": None if self.case is None else self.case.by,
                "taken_at": None if self.case is None else self.case.since,
            }
        )

    def _figures(self, state: Phase, now: datetime) -> dict[str, object]:
        """The last reading of the crown, and the fire that burns or comes next: none of an oven
        on hold."""
        last = next((one for one in reversed(self.readings) if crown_c(one) is not None), None)
        promise = () if state in (Phase.LEFT, Phase.HELD) else self.promise
        next_ = next((one for one in promise if one.day >= self.today(now)), None)
        aim = self.session.aim if self.session is not None else next_
        return {
            "last_c": None if last is None else crown_c(last),
            "last_at": None if last is None else last.at,
            "last_doubted": last is not None and not last.believed,
            "aim_c": None if aim is None else aim.plateau_c,
            "firing": None if aim is None else aim.number,
            "next_day": None if next_ is None else next_.day,
        }
