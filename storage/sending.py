"""The statements by which letters are claimed and settled, built once.

They run for every letter, and to build one in Python takes as long as to run it.
"""

from sqlalchemy import bindparam, func, or_, select, text, update

from scheduling.outcome import FIRE_THREAD, Urgency
from scheduling.ports import OutboxState
from storage import tables
from storage.letters import RANK

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
_OVERTAKES = _L.c.rank == RANK[Urgency.DANGER]

_SENDING = _L.alias("sending")
_WRITTEN_TO = select(_SENDING.c.person).where(
    text("sending.state in ('todo', 'sending')"), _SENDING.c.state == SENDING
)
_IN_TURN = or_(
    _L.c.person.not_in(_WRITTEN_TO),
    _OVERTAKES & _L.c.person.not_in(_WRITTEN_TO.where(_SENDING.c.rank == RANK[Urgency.DANGER])),
)
"""Nobody is written two letters at once; a danger waits for no other kind."""

_FIRSTS = (
    select(
        _L.c.id,
        *_ORDER,
        func.row_number().over(partition_by=_L.c.person, order_by=_ORDER).label("turn"),
    )
    .where(OPEN, _L.c.state == TODO, _L.c.not_before <= bindparam("now"))
    .where(_L.c.rank <= bindparam("rank"), _IN_TURN)
    .where(_L.c.person.not_in(bindparam("held", expanding=True)))
    .subquery()
)

SENDABLE = (
    select(_FIRSTS.c.id)
    .where(_FIRSTS.c.turn == 1)
    .order_by(_FIRSTS.c.rank, _FIRSTS.c.created_at, _FIRSTS.c.seq)
    .limit(bindparam("most"))
)
"""The first letter of each person whose turn it is, most urgent first: ``now``, ``held`` (persons
to leave alone), ``rank`` (of the least urgent), ``most``."""

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
        first_tried_at=func.coalesce(_L.c.first_tried_at, bindparam("now", type_=tables.Instant())),
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

RENEW = (
    update(_L)
    .where(OPEN, _L.c.id.in_(bindparam("ids", expanding=True)), _L.c.state == SENDING)
    .values(lease_until=bindparam("lease"))
)
"""``ids``, ``lease``."""

HASTEN = (
    update(_L)
    .where(OPEN, _L.c.state == TODO, _L.c.attempts > 0, _L.c.not_before > bindparam("now"))
    .values(not_before=bindparam("now"))
)
"""``now``. A letter that was tried had come to its hour before."""

MAY_BE_SENT = or_(
    _L.c.state == SENDING,
    (_L.c.doubts > 0) & (_L.c.state != OutboxState.SENT.value),
)
"""One that nobody was sure of may turn out to have arrived, whatever was made of it since."""

SENT = (
    update(_L)
    .where(_L.c.id == bindparam("letter"), MAY_BE_SENT)
    .values(
        state=OutboxState.SENT.value,
        why="",
        lease_until=None,
        sent_at=bindparam("now"),
        ref=bindparam("its_ref"),
    )
)
"""``letter``, ``now``, ``its_ref``: the channel's own id of it."""

WAITING = (
    select(_L.c.person, func.min(_L.c.not_before).label("first"))
    .where(OPEN, _L.c.state == TODO, _IN_TURN)
    .group_by(_L.c.person)
)
"""Everybody with letters to come whose turn it may be, and from when on."""

LEASES_END = select(func.min(_L.c.lease_until)).where(
    OPEN, _L.c.state == SENDING, _L.c.id.not_in(bindparam("in_hand", expanding=True))
)
"""When the first lease runs out: ``in_hand`` (letters to leave out)."""

PAUSES = select(tables.pauses)
PAUSES_NOW = PAUSES.where(tables.pauses.c.until > bindparam("now"))
"""``now``."""

REPLACED = {"state": OutboxState.CANCELLED.value, "why": "replaced by a newer one"}

REPLACE_THREAD = (
    update(_L)
    .where(_L.c.person == bindparam("who"), _L.c.replaces == bindparam("thread"))
    .where(_L.c.state == TODO)
    .values(**REPLACED)
)
"""``who``, ``thread``."""

REPLACE_AT_FIRE = (
    update(_L)
    .where(_L.c.person == bindparam("who"), _L.c.replaces == FIRE_THREAD)
    .where(_L.c.oven == bindparam("about"), _L.c.state == TODO)
    .values(**REPLACED)
)
"""``who``, ``about`` (the oven)."""
