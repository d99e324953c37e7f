"""Whom we have written to so often that a pause is due, read from the outbox."""

from datetime import datetime, timedelta

from sqlalchemy import func, literal, select
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.pacing import Pacing
from storage import tables

_L, _P = tables.outbox, tables.people


async def tried(connection: AsyncConnection, now: datetime) -> int:
    """How many letters were tried in the last second."""
    counted = await connection.execute(
        select(func.count()).where(_L.c.tried_at > now - timedelta(seconds=1))
    )
    return int(counted.scalar_one())


async def out_of_breath(connection: AsyncConnection, now: datetime, pacing: Pacing) -> set[str]:
    """Those who were written to as often as their chat allows."""
    in_chats = (
        select(_L.c.person)
        .where(_L.c.tried_at > now - timedelta(seconds=1))
        .group_by(_L.c.person)
        .having(func.count() >= literal(pacing.chat_per_second))
    )
    in_groups = (
        select(_L.c.person)
        .join(_P, _P.c.id == _L.c.person)
        .where(_P.c.group, _L.c.tried_at > now - timedelta(minutes=1))
        .group_by(_L.c.person)
        .having(func.count() >= literal(pacing.group_per_minute))
    )
    chats = await connection.execute(in_chats)
    groups = await connection.execute(in_groups)
    return {*chats.scalars(), *groups.scalars()}
