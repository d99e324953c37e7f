"""Ovens, journals and promised days in memory."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, date, datetime

from scheduling.journal import Entry, Taught
from scheduling.ports import (
    RANKS_IN_GROUP,
    Called,
    Conflict,
    Journaled,
    OpenedOven,
    OvenCard,
    Pages,
    PromisedDay,
    Roster,
    RosterPage,
)
from storage.memory.tables import Room
from storage.roster import plain

_LONG_AGO = datetime.min.replace(tzinfo=UTC)


class MemoryOvens(Room):
    """``Ovens`` in memory."""

    async def get(self, oven_id: str) -> OvenCard | None:
        """By id."""
        return self._t.ovens.get(oven_id)

    async def several(self, oven_ids: Sequence[str]) -> Mapping[str, OvenCard]:
        """Those of them that there are, by id."""
        return {one: self._t.ovens[one] for one in oven_ids if one in self._t.ovens}

    async def open(self, known: Mapping[str, int]) -> Mapping[str, OpenedOven]:
        """Those of these ovens that there are, each with its journal behind the number known."""
        opened = {}
        for oven_id, card in (await self.several(list(known))).items():
            after = known[oven_id]
            newer = tuple(one.entry for one in await self.journal(oven_id, after))
            opened[oven_id] = OpenedOven(card, newer, None if after else await self.belief(oven_id))
        return opened

    async def put(self, card: OvenCard) -> None:
        """Insert or replace the card; the journal stays."""
        for person in card.owners:
            self._needs_person(person)
        self._t.ovens[card.id] = card

    async def put_each(self, cards: Sequence[OvenCard]) -> None:
        """The same for several, of different ovens."""
        for card in cards:
            await self.put(card)

    async def of_person(self, person_id: str) -> tuple[OvenCard, ...]:
        """The ovens this person owns or tends, by id."""
        return self._where(lambda card: person_id in card.owners)

    async def of_builder(self, builder_id: str) -> tuple[OvenCard, ...]:
        """The ovens that builder's team looks after, by id."""
        return self._where(lambda card: card.builder == builder_id)

    async def roster(self, wanted: Roster) -> RosterPage:
        """One page of a builder's clients."""
        found = sorted(self._where(lambda card: self._is_wanted(card, wanted)), key=self._place)
        end = wanted.start + wanted.limit
        return RosterPage(cards=tuple(found[wanted.start : end]), total=len(found))

    async def called(self, builder_id: str, words: Sequence[str]) -> tuple[Called, ...]:
        """That builder's clients in whose names or place any of these words occurs, by id."""
        theirs = self._where(lambda card: card.builder == builder_id)
        return tuple(
            Called(id=card.id, name=card.name, place=card.place, people=self._tending(card))
            for card in theirs
            if any(word in self._find(card) for word in words)
        )

    async def tally(self, builder_id: str) -> Mapping[tuple[str, int], int]:
        """How many clients of that builder stand in each state and at each rank."""
        theirs = self._where(lambda card: card.builder == builder_id)
        return Counter((one.state, one.rank) for one in theirs)

    async def in_states(self, states: Sequence[str]) -> tuple[OvenCard, ...]:
        """The ovens whose card is in one of these states, by id; of none for no states."""
        return self._where(lambda card: card.state in states)

    async def journal(self, oven_id: str, after: int = 0) -> tuple[Journaled, ...]:
        """Entries behind number ``after``, in order."""
        return self._t.journal.get(oven_id, ())[max(after, 0) :]

    async def append(self, oven_id: str, after: int, entries: Sequence[Entry]) -> int:
        """Append behind number ``after``; return the last number."""
        old = self._t.journal.get(oven_id, ())
        if oven_id not in self._t.ovens or len(old) != after:
            raise Conflict(f"the journal of {oven_id} does not end at {after}")
        new = tuple(Journaled(seq=n, entry=entry) for n, entry in enumerate(entries, after + 1))
        self._t.journal[oven_id] = old + new
        return after + len(new)

    async def rewrite(self, oven_id: str, entries: Sequence[Entry]) -> None:
        """Put these entries in place of the whole journal."""
        if oven_id not in self._t.ovens or len(self._t.journal.get(oven_id, ())) > len(entries):
            raise Conflict(f"the journal of {oven_id} is longer than {len(entries)}")
        new = tuple(Journaled(seq=n, entry=entry) for n, entry in enumerate(entries, 1))
        self._t.journal[oven_id] = new

    async def written_by(self, person_id: str) -> tuple[str, ...]:
        """Ids of ovens whose journal names this person."""
        named = f'"{person_id}"'
        found = (
            oven
            for oven, journal in self._t.journal.items()
            if any(named in one.entry.model_dump_json() for one in journal)
        )
        return tuple(sorted(found))

    async def taught(self, builder_id: str) -> tuple[Taught, ...]:
        """What the finished ovens of that builder taught, by id of the oven."""
        cards = await self.of_builder(builder_id)
        journals = (self._t.journal.get(card.id, ()) for card in cards)
        entries = (one.entry for journal in journals for one in journal)
        return tuple(entry for entry in entries if isinstance(entry, Taught))

    async def erase(self, oven_id: str) -> None:
        """Delete the oven with its journal and all that belongs to it but letters."""
        self._t.ovens.pop(oven_id, None)
        for table in (self._t.journal, self._t.beliefs, self._t.promises):
            table.pop(oven_id, None)
        for key in [key for key in self._t.alarms if key[0] == oven_id]:
            del self._t.alarms[key]
        for invitation in [key for key, one in self._t.invitations.items() if one.oven == oven_id]:
            del self._t.invitations[invitation]

    async def ends(self, oven_ids: Sequence[str]) -> Mapping[str, int]:
        """The last number in the journal of each oven that there is."""
        cards = await self.several(oven_ids)
        return {oven_id: len(self._t.journal.get(oven_id, ())) for oven_id in cards}

    async def append_each(self, pages: Sequence[Pages]) -> None:
        """Append to the journals of different ovens."""
        for one in pages:
            await self.append(one.oven, one.after, one.entries)

    async def keep_belief(self, oven_id: str, seq: int, packed: bytes) -> None:
        """Keep the ensemble as it was after entry ``seq``: a cache, one an oven."""
        self._needs_oven(oven_id)
        self._t.beliefs[oven_id] = (seq, packed)

    async def belief(self, oven_id: str) -> tuple[int, bytes] | None:
        """The kept ensemble and the entry it stands behind."""
        return self._t.beliefs.get(oven_id)

    def _is_wanted(self, card: OvenCard, wanted: Roster) -> bool:
        ranked = not wanted.ranks or any(low <= card.rank < high for low, high in wanted.ranks)
        find = self._find(card)
        return (
            card.builder == wanted.builder
            and ranked
            and (not wanted.states or card.state in wanted.states)
            and (not wanted.needs or any(f" {one} " in card.open_needs for one in wanted.needs))
            and all(word in find for word in plain(wanted.text).split())
            and all(word in plain(card.place) for word in plain(wanted.place).split())
            and wanted.taken_by in (None, card.taken_by)
            and wanted.day in (None, card.next_day)
        )

    def _find(self, card: OvenCard) -> str:
        return plain(card.name, *sorted(self._tending(card)), card.place)

    def _tending(self, card: OvenCard) -> tuple[str, ...]:
        return tuple(self._t.people[one].name for one in card.owners if one in self._t.people)

    def _place(self, card: OvenCard) -> tuple[object, ...]:
        since = card.needs_since or _LONG_AGO
        day = card.next_day or date.min
        without = (card.needs_since is None, since, card.next_day is None, day)
        group = (card.rank // RANKS_IN_GROUP, card.taken_by is not None)
        return (*group, card.rank, *without, self._find(card), card.id)

    def _where(self, wanted: Callable[[OvenCard], bool]) -> tuple[OvenCard, ...]:
        return tuple(sorted(filter(wanted, self._t.ovens.values()), key=lambda card: card.id))


class MemoryPromises(Room):
    """``Promises`` in memory."""

    async def of(self, oven_id: str) -> tuple[PromisedDay, ...]:
        """As they were told, in that order."""
        return self._t.promises.get(oven_id, ())

    async def replace(self, oven_id: str, days: Sequence[PromisedDay]) -> None:
        """These and no others."""
        self._needs_oven(oven_id)
        self._t.promises[oven_id] = tuple(days)

    async def of_builder(
        self, builder_id: str, first: date, last: date, limit: int | None = None
    ) -> tuple[tuple[str, PromisedDay], ...]:
        """Days of all ovens that this builder's team looks after."""
        found = [
            (oven_id, one)
            for oven_id, days in self._t.promises.items()
            for one in days
            if self._t.ovens[oven_id].builder == builder_id and first <= one.day <= last
        ]

        def place(pair: tuple[str, PromisedDay]) -> tuple[date, datetime, str]:
            return pair[1].day, pair[1].start or _LONG_AGO, pair[0]

        return tuple(sorted(found, key=place)[:limit])
