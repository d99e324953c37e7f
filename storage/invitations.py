"""Invitations."""

import json
from datetime import datetime

from sqlalchemy import ColumnElement, RowMapping, and_, delete, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.ports import Invitation
from storage import tables
from storage.upsert import put

_V = tables.invitations


class SqlInvitations:
    """``Invitations`` in a table."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def get(self, invitation_id: str) -> Invitation | None:
        """By id."""
        return await self._one(_V.c.id == invitation_id)

    async def by_digest(self, digest: str) -> Invitation | None:
        """The one whose code has this digest."""
        return await self._one(_V.c.digest == digest)

    async def put(self, invitation: Invitation) -> None:
        """Insert or replace by id."""
        given = json.dumps(invitation.given, ensure_ascii=False)
        values = invitation.model_dump() | {"opens": invitation.opens.value, "given": given}
        await put(self._connection, _V, values, ["id"])

    async def use(self, invitation_id: str, person_id: str, at: datetime) -> bool:
        """Mark it used; False, and no change, if it was no longer open."""
        return await self._close(invitation_id, at, used_at=at, used_by=person_id)

    async def revoke(self, invitation_id: str, person_id: str, at: datetime) -> bool:
        """Mark it revoked; False, and no change, if it was no longer open."""
        return await self._close(invitation_id, at, revoked_at=at, revoked_by=person_id)

    async def open_for_builder(self, builder_id: str, now: datetime) -> tuple[Invitation, ...]:
        """A builder's open invitations, the oldest first."""
        return await self._all(and_(_V.c.builder == builder_id, _open(now)))

    async def open_for_oven(self, oven_id: str, now: datetime) -> tuple[Invitation, ...]:
        """Open invitations to tend an oven, the oldest first."""
        return await self._all(and_(_V.c.oven == oven_id, _open(now)))

    async def with_phones(self) -> tuple[Invitation, ...]:
        """Those that keep somebody's phone number, the oldest first."""
        return await self._all(_V.c.phone != "")

    async def with_letters(self) -> tuple[Invitation, ...]:
        """Those whose code may still be read in a letter, the oldest first."""
        return await self._all(_V.c.letter.is_not(None))

    async def forget(self, person_id: str) -> tuple[str, ...]:
        """Delete those this person used; of those they made, forget who made them."""
        used = await self._all(_V.c.used_by == person_id)
        await self._connection.execute(delete(_V).where(_V.c.used_by == person_id))
        for column, nobody in ((_V.c.made_by, ""), (_V.c.revoked_by, None)):
            await self._connection.execute(
                update(_V).where(column == person_id).values({column: nobody})
            )
        return tuple(one.name for one in used if one.name)

    async def _close(self, invitation_id: str, at: datetime, **values: object) -> bool:
        # One statement, so that of two who come at once the second finds it closed.
        closed = await self._connection.execute(
            update(_V).where(_V.c.id == invitation_id, _open(at)).values(given="[]", **values)
        )
        return bool(closed.rowcount)

    async def _one(self, which: ColumnElement[bool]) -> Invitation | None:
        row = (await self._connection.execute(select(_V).where(which))).mappings().first()
        return None if row is None else _invitation(row)

    async def _all(self, which: ColumnElement[bool]) -> tuple[Invitation, ...]:
        rows = await self._connection.execute(
            select(_V).where(which).order_by(_V.c.made_at, _V.c.id)
        )
        return tuple(_invitation(row) for row in rows.mappings())


def _open(now: datetime) -> ColumnElement[bool]:
    return and_(_V.c.used_at.is_(None), _V.c.revoked_at.is_(None), _V.c.expires_at > now)


def _invitation(row: RowMapping) -> Invitation:
    return Invitation.model_validate(dict(row) | {"given": json.loads(row["given"])})
