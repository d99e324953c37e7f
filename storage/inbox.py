"""What came in, as it came."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Row, delete, func, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.ports import InboxHead, InboxRow, InboxState, SetAside
from storage import tables
from storage.blotting import blotted_text, named_in
from storage.upsert import put_if_new

_I = tables.inbox


class SqlInbox:
    """``Inbox`` in a table."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def store(self, row: InboxRow) -> bool:
        """True if new; False if the key was stored before."""
        values = {
            "channel": row.channel,
            "key": row.key,
            "chat": row.chat,
            "body": row.body,
            "received_at": row.received_at,
            "state": InboxState.WAITING.value,
            "attempts": row.attempts,
            "why": "",
        }
        return await put_if_new(self._connection, _I, values, ["channel", "key"])

    async def waiting(self, channel: str, limit: int = 100) -> tuple[InboxRow, ...]:
        """In order of arrival."""
        rows = await self._connection.execute(
            select(_I)
            .where((_I.c.channel == channel) & (_I.c.state == InboxState.WAITING.value))
            .order_by(_I.c.seq)
            .limit(limit)
        )
        return tuple(_row(r) for r in rows)

    async def heads(self, channel: str, after: int = 0, limit: int = 1000) -> tuple[InboxHead, ...]:
        """Of rows that wait and came after number ``after``, in order of arrival."""
        waiting = (_I.c.channel == channel) & (_I.c.state == InboxState.WAITING.value)
        rows = await self._connection.execute(
            select(_I.c.seq, _I.c.key, _I.c.chat)
            .where(waiting & (_I.c.seq > after))
            .order_by(_I.c.seq)
            .limit(limit)
        )
        return tuple(InboxHead(r.seq, r.key, r.chat) for r in rows)

    async def get(self, channel: str, key: str) -> InboxRow | None:
        """The row, if it still waits."""
        waiting = _I.c.state == InboxState.WAITING.value
        rows = await self._connection.execute(
            select(_I).where((_I.c.channel == channel) & (_I.c.key == key) & waiting)
        )
        row = rows.first()
        return None if row is None else _row(row)

    async def set_aside(self, limit: int = 100) -> tuple[SetAside, ...]:
        """What could not be worked on, over any channel, the newest first."""
        rows = await self._connection.execute(
            select(_I)
            .where(_I.c.state == InboxState.SET_ASIDE.value)
            .order_by(_I.c.seq.desc())
            .limit(limit)
        )
        return tuple(SetAside(_row(r), r.why) for r in rows)

    async def count_set_aside(self) -> int:
        """How many rows those are."""
        aside = _I.c.state == InboxState.SET_ASIDE.value
        counted = await self._connection.execute(select(func.count()).where(aside))
        return int(counted.scalar_one())

    async def done(self, channel: str, key: str) -> bool:
        """Mark done in this unit; False if it was done already, set aside or never stored."""
        return await self._move(channel, key, state=InboxState.DONE.value)

    async def forget(self, channel: str, chat: str) -> None:
        """Delete all rows of a chat but those that still wait."""
        of_chat = (_I.c.channel == channel) & (_I.c.chat == chat)
        where = of_chat & (_I.c.state != InboxState.WAITING.value)
        await self._connection.execute(delete(_I).where(where))

    async def blot(self, words: Sequence[str]) -> None:
        """Take words that name somebody out of all rows that wait no more."""
        named = named_in(_I.c.body, words) | named_in(_I.c.why, words)
        where = (_I.c.state != InboxState.WAITING.value) & named
        rows = await self._connection.execute(select(_I.c.seq, _I.c.body, _I.c.why).where(where))
        for seq, body, why in rows.all():
            values = {"body": blotted_text(body, words), "why": blotted_text(why, words)}
            await self._connection.execute(update(_I).where(_I.c.seq == seq).values(**values))

    async def failed(self, channel: str, key: str, why: str, set_aside: bool) -> bool:
        """Count an attempt; a row set aside waits no more. False for one that waited no more:
        what is done stays done."""
        state = InboxState.SET_ASIDE if set_aside else InboxState.WAITING
        return await self._move(
            channel, key, state=state.value, why=why[:2000], attempts=_I.c.attempts + 1
        )

    async def _move(self, channel: str, key: str, **values: object) -> bool:
        moved = await self._connection.execute(
            update(_I)
            .where(
                (_I.c.channel == channel)
                & (_I.c.key == key)
                & (_I.c.state == InboxState.WAITING.value)
            )
            .values(**values)
        )
        return bool(moved.rowcount)


def _row(r: Row[Any]) -> InboxRow:
    return InboxRow(r.channel, r.key, r.chat, r.body, r.received_at, r.attempts)
