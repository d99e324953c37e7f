"""People in memory."""

from collections.abc import Mapping, Sequence

from scheduling.ports import Person
from storage.faults import RuleBroken
from storage.memory.tables import Room


class MemoryPeople(Room):
    """``People`` in memory."""

    async def get(self, person_id: str) -> Person | None:
        """By id."""
        return self._t.people.get(person_id)

    async def at(self, channel: str, address: str) -> Person | None:
        """Who is reached there."""
        there = (p for p in self._t.people.values() if (p.channel, p.address) == (channel, address))
        return next(there, None)

    async def belonging(self, channel: str, addresses: Sequence[str]) -> frozenset[str]:
        """Those addresses at which somebody is reached who tends an oven or is of a team."""
        tending = {owner for card in self._t.ovens.values() for owner in card.owners}
        there = (p for p in self._t.people.values() if p.channel == channel)
        known = {p.address for p in there if p.builder is not None or p.id in tending}
        return frozenset(known & {*addresses})

    async def put(self, person: Person) -> None:
        """Insert or replace by id."""
        there = await self.at(person.channel, person.address)
        if there is not None and there.id != person.id:
            raise RuleBroken("a row was refused: somebody else is reached there")
        self._t.people[person.id] = person

    async def team(self, builder_id: str) -> tuple[Person, ...]:
        """A builder's team, by id."""
        team = (p for p in self._t.people.values() if p.builder == builder_id)
        return tuple(sorted(team, key=lambda p: p.id))

    async def forget(self, person_id: str) -> None:
        """Delete the row."""
        has_oven = any(person_id in card.owners for card in self._t.ovens.values())
        if has_oven or any(one.letter.person == person_id for one in self._t.outbox.values()):
            raise RuleBroken("a row was refused: something still belongs to this person")
        self._t.people.pop(person_id, None)
        self._t.hands.pop(person_id, None)
        self._t.calendars.pop(person_id, None)

    async def several(self, person_ids: Sequence[str]) -> Mapping[str, Person]:
        """Those of them that there are, by id."""
        return {one: self._t.people[one] for one in person_ids if one in self._t.people}

    async def builders(self) -> tuple[Person, ...]:
        """Everybody who belongs to any builder's team, by id."""
        found = (p for p in self._t.people.values() if p.builder is not None)
        return tuple(sorted(found, key=lambda p: p.id))
