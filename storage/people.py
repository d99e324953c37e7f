"""Everybody we talk to."""

from collections.abc import Mapping, Sequence

from sqlalchemy import RowMapping, delete, exists, select
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.ports import Person
from storage import tables
from storage.upsert import put

_P = tables.people


class SqlPeople:
    """``People`` in a table."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def get(self, person_id: str) -> Person | None:
        """By id."""
        row = await self._connection.execute(select(_P).where(_P.c.id == person_id))
        return _person(row.mappings().first())

    async def at(self, channel: str, address: str) -> Person | None:
        """Who is reached there."""
        where = (_P.c.channel == channel) & (_P.c.address == address)
        row = await self._connection.execute(select(_P).where(where))
        return _person(row.mappings().first())

    async def belonging(self, channel: str, addresses: Sequence[str]) -> frozenset[str]:
        """Those addresses at which somebody is reached who tends an oven or is of a team."""
        tends = exists().where(tables.tenders.c.person == _P.c.id)
        rows = await self._connection.execute(
            select(_P.c.address)
            .where((_P.c.channel == channel) & _P.c.address.in_(set(addresses)))
            .where(_P.c.builder.is_not(None) | tends)
        )
        return frozenset(rows.scalars())

    async def put(self, person: Person) -> None:
        """Insert or replace by id."""
        await put(self._connection, _P, person.model_dump(), ["id"])

    async def team(self, builder_id: str) -> tuple[Person, ...]:
        """A builder's team, by id."""
        rows = await self._connection.execute(
            select(_P).where(_P.c.builder == builder_id).order_by(_P.c.id)
        )
        return tuple(Person.model_validate(dict(row)) for row in rows.mappings())

    async def forget(self, person_id: str) -> None:
        """Delete the row."""
        await self._connection.execute(delete(_P).where(_P.c.id == person_id))

    async def several(self, person_ids: Sequence[str]) -> Mapping[str, Person]:
        """Those of them that there are, by id."""
        rows = await self._connection.execute(select(_P).where(_P.c.id.in_(set(person_ids))))
        people = (Person.model_validate(dict(row)) for row in rows.mappings())
        return {person.id: person for person in people}

    async def builders(self) -> tuple[Person, ...]:
        """Everybody who belongs to any builder's team, by id."""
        rows = await self._connection.execute(
            select(_P).where(_P.c.builder.is_not(None)).order_by(_P.c.id)
        )
        return tuple(Person.model_validate(dict(row)) for row in rows.mappings())


def _person(row: RowMapping | None) -> Person | None:
    return None if row is None else Person.model_validate(dict(row))
