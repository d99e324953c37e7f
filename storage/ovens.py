"""Ovens: whose they are, and their journals."""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from pydantic import TypeAdapter, ValidationError
from sqlalchemy import Select, bindparam, delete, func, insert, or_, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.journal import Entry, Taught
from scheduling.ports import (
    Called,
    Conflict,
    Journaled,
    OpenedOven,
    OvenCard,
    Pages,
    Roster,
    RosterPage,
)
from storage import tables
from storage.faults import Damaged
from storage.roster import count, page, plain
from storage.upsert import put, put_each

_O, _T, _J, _B = tables.ovens, tables.tenders, tables.journal, tables.beliefs
_ENTRY: TypeAdapter[Entry] = TypeAdapter(Entry)
_CARD = [column for column in _O.c if column.name not in ("entries", "find", "find_place")]

TAUGHT = '"kind":"taught"'


class SqlOvens:
    """``Ovens`` in tables."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def get(self, oven_id: str) -> OvenCard | None:
        """By id."""
        cards = await self._cards(select(*_CARD).where(_O.c.id == oven_id))
        return cards[0] if cards else None

    async def several(self, oven_ids: Sequence[str]) -> Mapping[str, OvenCard]:
        """Those of them that there are, by id."""
        cards = await self._cards(select(*_CARD).where(_O.c.id.in_(list(oven_ids))))
        return {card.id: card for card in cards}

    async def open(self, known: Mapping[str, int]) -> Mapping[str, OpenedOven]:
        """Those of these ovens that there are, each with its journal behind the number known."""
        cards = await self.several(list(known))
        new = [oven_id for oven_id in cards if not known[oven_id]]
        newer = await self._journals(new)
        ends = await self._ends([oven_id for oven_id in cards if known[oven_id]])
        for oven_id, end in ends.items():
            if end > known[oven_id]:
                newer[oven_id] = await self.journal(oven_id, known[oven_id])
        beliefs = await self._beliefs(new)
        return {
            oven_id: OpenedOven(
                card,
                tuple(one.entry for one in newer.get(oven_id, ())),
                beliefs.get(oven_id),
            )
            for oven_id, card in cards.items()
        }

    async def put(self, card: OvenCard) -> None:
        """Insert or replace the card; the journal stays."""
        await self.put_each([card])

    async def put_each(self, cards: Sequence[OvenCard]) -> None:
        """The same for several, of different ovens."""
        if not cards:
            return
        tending = {one for card in cards for one in card.owners}
        people = tables.people.c
        known = await self._connection.execute(
            select(people.id, people.name).where(people.id.in_(sorted(tending)))
        )
        names = {row.id: row.name for row in known}
        rows = []
        for card in cards:
            theirs = sorted(names[one] for one in card.owners if one in names)
            find = {
                "find": plain(card.name, *theirs, card.place),
                "find_place": plain(card.place),
            }
            rows.append(card.model_dump(exclude={"owners"}) | find)
        await put_each(self._connection, _O, rows, ["id"])
        await self._put_tenders(cards)

    async def _put_tenders(self, cards: Sequence[OvenCard]) -> None:
        known: dict[str, list[str]] = {card.id: [] for card in cards}
        found = await self._connection.execute(
            select(_T.c.oven, _T.c.person)
            .where(_T.c.oven.in_(list(known)))
            .order_by(_T.c.oven, _T.c.position)
        )
        for oven, person in found:
            known[oven].append(person)
        changed = [card for card in cards if tuple(known[card.id]) != card.owners]
        if not changed:
            return
        await self._connection.execute(
            delete(_T).where(_T.c.oven.in_([card.id for card in changed]))
        )
        people = [
            {"oven": card.id, "position": position, "person": person}
            for card in changed
            for position, person in enumerate(card.owners)
        ]
        if people:
            await self._connection.execute(insert(_T), people)

    async def of_person(self, person_id: str) -> tuple[OvenCard, ...]:
        """The ovens this person owns or tends, by id."""
        theirs = select(_T.c.oven).where(_T.c.person == person_id)
        return await self._cards(select(*_CARD).where(_O.c.id.in_(theirs)))

    async def of_builder(self, builder_id: str) -> tuple[OvenCard, ...]:
        """The ovens that builder's team looks after, by id."""
        return await self._cards(select(*_CARD).where(_O.c.builder == builder_id))

    async def roster(self, wanted: Roster) -> RosterPage:
        """One page of a builder's clients."""
        total = (await self._connection.execute(count(wanted))).scalar_one()
        return RosterPage(cards=await self._in_order(page(_CARD, wanted)), total=total)

    async def called(self, builder_id: str, words: Sequence[str]) -> tuple[Called, ...]:
        """That builder's clients in whose names or place any of these words occurs, by id."""
        if not words:
            return ()
        which = or_(*(_O.c.find.contains(word, autoescape=True) for word in words))
        rows = await self._connection.execute(
            select(_O.c.id, _O.c.name, _O.c.place, tables.people.c.name.label("person"))
            .outerjoin(_T, _T.c.oven == _O.c.id)
            .outerjoin(tables.people, tables.people.c.id == _T.c.person)
            .where(_O.c.builder == builder_id, which)
            .order_by(_O.c.id, _T.c.position)
        )
        found: dict[str, tuple[str, str, list[str]]] = {}
        for row in rows:
            people = found.setdefault(row.id, (row.name, row.place, []))[2]
            people += [row.person] if row.person is not None else []
        return tuple(
            Called(id=oven_id, name=name, place=place, people=tuple(people))
            for oven_id, (name, place, people) in found.items()
        )

    async def tally(self, builder_id: str) -> Mapping[tuple[str, int], int]:
        """How many clients of that builder stand in each state and at each rank."""
        rows = await self._connection.execute(
            select(_O.c.state, _O.c.rank, func.count())
            .where(_O.c.builder == builder_id)
            .group_by(_O.c.state, _O.c.rank)
        )
        return {(row[0], row[1]): row[2] for row in rows}

    async def in_states(self, states: Sequence[str]) -> tuple[OvenCard, ...]:
        """The ovens whose card is in one of these states, by id."""
        return await self._cards(select(*_CARD).where(_O.c.state.in_(list(states))))

    async def journal(self, oven_id: str, after: int = 0) -> tuple[Journaled, ...]:
        """Entries behind number ``after``. Raises Damaged for one that cannot be read."""
        rows = await self._connection.execute(
            select(_J.c.seq, _J.c.entry)
            .where((_J.c.oven == oven_id) & (_J.c.seq > after))
            .order_by(_J.c.seq)
        )
        return tuple(_journaled(oven_id, seq, entry) for seq, entry in rows)

    async def append(self, oven_id: str, after: int, entries: Sequence[Entry]) -> int:
        """Append behind number ``after``. Raises Conflict."""
        await self.append_each([Pages(oven_id, after, entries)])
        return after + len(entries)

    async def ends(self, oven_ids: Sequence[str]) -> Mapping[str, int]:
        """The last number in the journal of each oven that there is."""
        return await self._ends(oven_ids, lock=True)

    async def append_each(self, pages: Sequence[Pages]) -> None:
        """Append to the journals of different ovens. Raises Conflict."""
        if not pages:
            return
        # This update is also the lock on the oven: a second writer waits here, then finds
        # another number and begins anew.
        this = (_O.c.id == bindparam("oven")) & (_O.c.entries == bindparam("known"))
        ends = [
            {"oven": one.oven, "known": one.after, "end": one.after + len(one.entries)}
            for one in pages
        ]
        moved = await self._connection.execute(
            update(_O).where(this).values(entries=bindparam("end")), ends
        )
        if moved.rowcount != len(pages):
            raise Conflict("a journal does not end where it was read")
        rows = [
            {"oven": one.oven, "seq": seq, "entry": _ENTRY.dump_json(entry).decode()}
            for one in pages
            for seq, entry in enumerate(one.entries, one.after + 1)
        ]
        if rows:
            await self._connection.execute(insert(_J), rows)

    async def rewrite(self, oven_id: str, entries: Sequence[Entry]) -> None:
        """Put these entries in place of the whole journal."""
        rows = [
            {"oven": oven_id, "seq": seq, "entry": _ENTRY.dump_json(entry).decode()}
            for seq, entry in enumerate(entries, 1)
        ]
        moved = await self._connection.execute(
            update(_O)
            .where((_O.c.id == oven_id) & (_O.c.entries <= len(rows)))
            .values(entries=len(rows))
        )
        if moved.rowcount != 1:
            raise Conflict(f"the journal of {oven_id} is longer than {len(rows)}")
        await self._connection.execute(delete(_J).where(_J.c.oven == oven_id))
        if rows:
            await self._connection.execute(insert(_J), rows)

    async def written_by(self, person_id: str) -> tuple[str, ...]:
        """Ids of ovens whose journal names this person."""
        named = _J.c.entry.contains(f'"{person_id}"', autoescape=True)
        rows = await self._connection.execute(
            select(_J.c.oven).where(named).distinct().order_by(_J.c.oven)
        )
        return tuple(rows.scalars())

    async def taught(self, builder_id: str) -> tuple[Taught, ...]:
        """What the finished ovens of that builder taught, by id of the oven."""
        # Quotation marks within anybody's words are escaped, so that no words look like this.
        rows = await self._connection.execute(
            select(_J.c.oven, _J.c.seq, _J.c.entry)
            .join(_O, _O.c.id == _J.c.oven)
            .where(_O.c.builder == builder_id, _J.c.entry.contains(TAUGHT))
            .order_by(_J.c.oven, _J.c.seq)
        )
        told = [_journaled(*row).entry for row in rows]
        return tuple(entry for entry in told if isinstance(entry, Taught))

    async def erase(self, oven_id: str) -> None:
        """Delete the oven with its journal and all that belongs to it but letters."""
        await self._connection.execute(delete(_J).where(_J.c.oven == oven_id))
        # The rest goes with it by its foreign keys.
        await self._connection.execute(delete(_O).where(_O.c.id == oven_id))

    async def keep_belief(self, oven_id: str, seq: int, packed: bytes) -> None:
        """Keep the ensemble as it was after entry ``seq``."""
        await put(self._connection, _B, {"oven": oven_id, "seq": seq, "packed": packed}, ["oven"])

    async def belief(self, oven_id: str) -> tuple[int, bytes] | None:
        """The kept ensemble and its number."""
        return (await self._beliefs([oven_id])).get(oven_id)

    async def count(self) -> int:
        """How many ovens there are."""
        every = select(func.count()).select_from(_O)
        return int((await self._connection.execute(every)).scalar_one())

    async def _journals(self, oven_ids: Sequence[str]) -> dict[str, Sequence[Journaled]]:
        found: dict[str, list[Journaled]] = defaultdict(list)
        if oven_ids:
            rows = await self._connection.execute(
                select(_J).where(_J.c.oven.in_(oven_ids)).order_by(_J.c.oven, _J.c.seq)
            )
            for row in rows:
                found[row.oven].append(_journaled(row.oven, row.seq, row.entry))
        return dict(found)

    async def _ends(self, oven_ids: Sequence[str], lock: bool = False) -> Mapping[str, int]:
        if not oven_ids:
            return {}
        # In one order, so that no two wait for each other.
        which = select(_O.c.id, _O.c.entries).where(_O.c.id.in_(oven_ids)).order_by(_O.c.id)
        rows = await self._connection.execute(which.with_for_update() if lock else which)
        return {row.id: row.entries for row in rows}

    async def _beliefs(self, oven_ids: Sequence[str]) -> Mapping[str, tuple[int, bytes]]:
        if not oven_ids:
            return {}
        rows = await self._connection.execute(select(_B).where(_B.c.oven.in_(oven_ids)))
        return {row.oven: (row.seq, row.packed) for row in rows}

    async def _cards(self, which: Select[tuple[object, ...]]) -> tuple[OvenCard, ...]:
        return await self._in_order(which.order_by(_O.c.id))

    async def _in_order(self, which: Select[tuple[object, ...]]) -> tuple[OvenCard, ...]:
        rows = (await self._connection.execute(which)).mappings().all()
        if not rows:
            return ()
        owners: dict[str, list[str]] = {row["id"]: [] for row in rows}
        found = await self._connection.execute(
            select(_T.c.oven, _T.c.person)
            .where(_T.c.oven.in_(list(owners)))
            .order_by(_T.c.oven, _T.c.position)
        )
        for oven, person in found:
            owners[oven].append(person)
        return tuple(
            OvenCard.model_validate({**row, "owners": tuple(owners[row["id"]])}) for row in rows
        )


def _journaled(oven_id: str, seq: int, entry: str) -> Journaled:
    try:
        return Journaled(seq=seq, entry=_ENTRY.validate_json(entry))
    except ValidationError as error:
        raise Damaged(
            f"entry {seq} of oven {oven_id} cannot be read; was it written by a newer stokewatch? "
            f"({error.errors()[0]['msg']})"
        ) from error
