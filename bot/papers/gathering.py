"""What a record needs beyond its message, gathered when it is sent: journal, names, photos."""

import asyncio
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Final

from bot.channels.painter import SentFiles, no_files
from bot.papers.letterhead import Letterhead
from bot.papers.record import OvenRecord, People, record_of
from bot.ways.applying import ways_in
from scheduling.journal import CrackSeen, Entry, Joined, Left, Noted, TalkSaid
from scheduling.ports import Attachment, Builder, OvenCard, Store, UnitOfWork
from scheduling.record import Record

RECORD: Final = "record"
GATHERED: Final = "gathered"
"""Where in an attachment's data it is put."""

MOST_PHOTOS: Final = 24
PHOTOS_WITHIN_S: Final = 20.0
"""A record is sent without photos that take longer: they stay in the chat."""


@dataclass(frozen=True, slots=True)
class Gathered:
    """An oven with its whole journal, the names in it, and the photos that are at hand."""

    card: OvenCard
    entries: tuple[Entry, ...]
    people: People
    letterhead: Letterhead = field(default_factory=Letterhead)
    photos: Mapping[str, bytes] = field(default_factory=dict)

    def paper(self, as_of: datetime, unit: str | None = None) -> OvenRecord:
        """What the record holds, in ``unit`` or as its people read. Raises ValueError for an
        oven whose journal is empty."""
        latest = max((entry.at for entry in self.entries), default=as_of)
        return record_of(
            Record(self.entries, self.card.id, members=0),
            self.people,
            max(as_of, latest),
            oven=self.card.name,
            place=self.card.place,
            letterhead=self.letterhead,
            unit=unit,
        )


class RecordGathering:
    """The ``Gather`` of the house: records get their journal, all else stays as it is."""

    def __init__(self, store: Store, photos: SentFiles = no_files) -> None:
        self._store = store
        self._photos = photos

    async def __call__(self, attachment: Attachment) -> Attachment:
        """The attachment with its ``Gathered``. Raises ValueError for an oven that is gone."""
        if attachment.kind != RECORD:
            return attachment
        pictured = attachment.data.get("form", "pdf") == "pdf"
        whole = await self.gathered(str(attachment.data.get("oven_id", "")), pictured=pictured)
        builder = attachment.data.get("builder")
        if not builder:
            whole = replace(whole, people=replace(whole.people, phones={}))
        elif whole.card.builder != builder:
            # It was told of before its owner decided what that builder may keep.
            raise ValueError("the oven of this record is no longer theirs to see")
        return attachment.model_copy(update={"data": attachment.data | {GATHERED: whole}})

    async def gathered(self, oven_id: str, *, pictured: bool = True) -> Gathered:
        """An oven with all that its record needs, its photos too if it is to be ``pictured``.
        Raises ValueError for one that is gone."""
        async with self._store.read() as unit:
            found = await gather(unit, oven_id)
        if not pictured:
            return found
        return replace(found, photos=await self._fetched(found))

    async def _fetched(self, found_of: Gathered) -> dict[str, bytes]:
        entries, logo = found_of.entries, found_of.letterhead.logo
        pictured = (one for one in entries if isinstance(one, CrackSeen | Noted | TalkSaid))
        wanted = dict.fromkeys([logo] if logo else [])
        wanted |= dict.fromkeys(one.photo for one in pictured if one.photo)
        found: dict[str, bytes] = {}
        try:
            async with asyncio.timeout(PHOTOS_WITHIN_S):
                for reference in list(wanted)[:MOST_PHOTOS]:
                    content = await self._photos(reference)
                    if content is not None:
                        found[reference] = content
        except TimeoutError:
            pass  # what is at hand by now is shown, the rest is named
        return found


async def gather(unit: UnitOfWork, oven_id: str) -> Gathered:
    """An oven with its journal and its people's names, without photos. Raises ValueError."""
    card = await unit.ovens.get(oven_id)
    if card is None:
        raise ValueError("the oven of this record is no longer kept")
    entries = tuple(one.entry for one in await unit.ovens.journal(oven_id))
    builder = await unit.builders.get(card.builder) if card.builder else None
    team = await unit.people.team(card.builder) if card.builder else ()
    names = {one.id: one.name for one in team}
    for person_id in _named(entries) - names.keys():
        person = await unit.people.get(person_id)
        if person is not None:
            names[person_id] = person.name
    tending = await unit.people.several(card.owners)
    phones = {one.id: one.phone for one in tending.values() if one.phone}
    people = People(names, frozenset(one.id for one in team), phones)
    head = Letterhead() if builder is None else await _letterhead(unit, builder)
    return Gathered(card, entries, people, head)


async def _letterhead(unit: UnitOfWork, builder: Builder) -> Letterhead:
    """The head of a builder's papers, by their own ways; else their team's name alone."""
    own = ways_in(await unit.ways.latest(builder.id)).paper
    return Letterhead(own.name or builder.name, own.address, own.logo or None)


def _named(entries: Iterable[Entry]) -> set[str]:
    """Everybody that a journal tells of."""
    found: set[str] = set()
    for entry in entries:
        found.add(entry.by)
        if isinstance(entry, Joined | Left):
            found.add(entry.person)
    return found - {""}
