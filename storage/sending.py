"""The statements by which letters are claimed and settled, built once.

They run for every letter, and to build one in Python takes as long as to run it.
"""

from sqlalchemy import bindparam, func, select, text, update

from scheduling.ports import OutboxState
from storage import tables

_L = tables.outbox

TODO, SENDING = OutboxState.TODO.value, OutboxState.SENDING.value

OPEN = text("outbox.state in ('todo', 'sending')")
"""Written out as the partial index has it, or SQLite would not use that."""

EXPIRE = (
    update(_L)
    .where(OPEN, _L.c.state == TODO, _L.c.expires <= bindparam("now"))
    .values(state=OutboxState.EXPIRED.value, why="no longer worth saying")
)
"""``now``."""

_ORDER = (_L.c.rank, _L.c.created_at, _L.c.seq)
_FIRSTS = (
    select(
        _L.c.id,
        *_ORDER,
        func.row_number().over(partition_by=_L.c.person, order_by=_ORDER).label("turn"),
    )
    .where(OPEN, _L.c.state == TODO, _L.c.not_before <= bindparam("now"))
    .where(_L.c.person.not_in(select(_L.c.person).where(OPEN, _L.c.state == SENDING)))
    .where(_L.c.person.not_in(bindparam("held", expanding=True)))
    .subquery()
)

SENDABLE = (
    select(_FIRSTS.c.id)
    .where(_FIRSTS.c.turn == 1)
    .order_by(_FIRSTS.c.rank, _FIRSTS.c.created_at, _FIRSTS.c.seq)
    .limit(bindparam("most"))
)
"""The first letter of each person who is not being written to, most urgent first: ``now``,
``held`` (persons to leave alone), ``most``."""

CLAIM = (
    update(_L)
    .where(
        _L.c.id.in_(
            select(_L.c.id)
            .where(_L.c.id.in_(bindparam("ids", expanding=True)), _L.c.state == TODO)
            .with_for_update(skip_locked=True)
        )
    )
    .values(
        state=SENDING,
        lease_until=bindparam("lease"),
        tried_at=bindparam("now"),
        attempts=_L.c.attempts + 1,
    )
    .returning(_L)
)
"""``ids``, ``now``, ``lease`` (until when they are ours)."""

LAPSED = (
    select(_L)
    .where(OPEN, _L.c.state == SENDING, _L.c.lease_until <= bindparam("now"))
    .order_by(_L.c.seq)
)
"""``now``."""

SENT = (
    update(_L)
    .where(
        _L.c.id == bindparam("letter"),
        (_L.c.state == SENDING) | (_L.c.state == OutboxState.UNKNOWN.value),
    )
    .values(
        state=OutboxState.SENT.value,
        why="",
        lease_until=None,
        sent_at=bindparam("now"),
        ref=bindparam("its_ref"),
    )
)
"""``letter``, ``now``, ``its_ref``: the channel's own id of it."""

_SENDING = _L.alias("sending")

WAITING = (
    select(_L.c.person, func.min(_L.c.not_before).label("first"))
    .where(OPEN, _L.c.state == TODO)
    .where(
        _L.c.person.not_in(
            select(_SENDING.c.person).where(
                text("sending.state in ('todo', 'sending')"), _SENDING.c.state == SENDING
            )
        )
    )
    .group_by(_L.c.person)
)
"""Everybody with letters to come, and from when on, but for those being written to."""

LEASES_END = select(func.min(_L.c.lease_until)).where(OPEN, _L.c.state == SENDING)
"""When the first lease runs out."""

PAUSES = select(tables.pauses)
PAUSES_NOW = PAUSES.where(tables.pauses.c.until > bindparam("now"))
"""``now``."""
