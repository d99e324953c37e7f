"""Whose make-up a builder fills in: that of a client, or of somebody who has not come yet.

Both are read, asked and shown through a record: an invitation's holds what is filled in, and
nothing else. So there is one way to answer, and one to refuse.
"""

from dataclasses import dataclass

from bot.conversation.door import NothingHereError, client_for
from bot.conversation.foundation import Foundation
from bot.ways.applying import constructions, ways_in
from bot.ways.shape import OwnWays
from scheduling.journal import Answered, Constructed, Modelled
from scheduling.ports import Invitation, Opens, OvenCard, Person
from scheduling.record import Record


@dataclass(frozen=True, slots=True)
class Whose:
    """One of ``oven`` and ``invitation`` is set. ``record`` also knows the constructions that the
    builder has come to have since; ``ways`` are the builder's own."""

    name: str
    record: Record
    ways: OwnWays
    oven: OvenCard | None = None
    invitation: Invitation | None = None

    @property
    def ids(self) -> dict[str, str]:
        """As a button or a meaning names it."""
        return {
            "oven": self.oven.id if self.oven is not None else "",
            "invitation": self.invitation.id if self.invitation is not None else "",
        }


async def whose(
    base: Foundation, person: Person, oven: str = "", invitation: str = ""
) -> Whose | None:
    """The client of that id, or who was invited and has not come; None for what is not theirs."""
    if person.builder is None:
        return None
    async with base.store.read() as unit:
        ways = ways_in(await unit.ways.latest(person.builder))
        if invitation:
            found = await unit.invitations.get(invitation)
            return _invited(base, person, found, ways)
        try:
            card = await client_for(unit, person, oven)
        except NothingHereError:
            return None
    record: Record = await base.engine.record(card.id)
    own = _own(base, person, ways)
    new = [one for one in own if one.construction not in record.own_constructions]
    return Whose(record.name or card.name, record.with_entries(new), ways, oven=card)


def nobody_yet(base: Foundation, person: Person, ways: OwnWays) -> Record:
    """An oven of which nothing is known but what constructions its builder has."""
    return Record(_own(base, person, ways), members=0)


def _invited(
    base: Foundation, person: Person, found: Invitation | None, ways: OwnWays
) -> Whose | None:
    now = base.clock.now()
    if found is None or found.opens is not Opens.OVEN or found.builder != person.builder:
        return None
    if not found.is_open(now):
        return None
    given = [
        Answered(at=found.made_at, by=found.made_by, about=about, value=value)
        for about, value in found.given
    ]
    model = [Modelled(at=found.made_at, title=found.model)] if found.model else []
    record = nobody_yet(base, person, ways).with_entries([*given, *model])
    return Whose(found.name, record, ways, invitation=found)


def _own(base: Foundation, person: Person, ways: OwnWays) -> tuple[Constructed, ...]:
    return constructions(ways, person.id, base.clock.now())
