"""What an order for many ovens leaves to be reckoned with at each, when others have had their turn.

The order itself is written, told and obeyed at once; only what it does to the days to come, and to
the advice at a fire, is worked out here. To plan an oven anew takes up to a second.
"""

from datetime import timedelta
from zlib import crc32

from scheduling.advance.burning import advise
from scheduling.advance.promising import promise
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.journal import Entry, Forbidden, Moved, Order
from scheduling.record.fold import MOVES_PLAN
from scheduling.record.orders import closes
from scheduling.record.outlook import GAP_RECKONED_ANEW, gap_between, laid_over

RECKONED_WITHIN = timedelta(minutes=15)
"""Plans that an order for many changes are computed anew in this time (own choice)."""

SOON = timedelta(minutes=1)
"""What comes so soon after the order only lays days: a hundredth of the work."""


def moves_days(turn: Turn) -> bool:
    """Whether the order that was just written may change any of the days that were promised."""
    new = turn.record.live[-1]
    if not isinstance(new.entry, Forbidden | Moved):
        return True
    return any(closes(new, one.day) for one in turn.record.promise)


def reckon(turn: Turn) -> None:
    """An order for many came to this oven: its days are laid anew, with the fires as they were
    planned. Where those have to be planned anew as well it is done when there is time for it."""
    record = turn.record
    if record.session is not None:
        advise(turn)
        return
    given = next((one for one in reversed(record.entries) if _for_many(one)), None)
    if given is None or turn.now - given.at >= SOON:
        promise(turn, "order")
        return
    outlook = laid_over(record, turn.now)
    moved = gap_between(record.promise, outlook)
    promise(turn, "order", outlook)
    if moved > GAP_RECKONED_ANEW or isinstance(given, MOVES_PLAN) or not record.promise:
        turn.set(AlarmName.ORDERED, turn.now + SOON + _some_time(record.oven))


def _for_many(entry: Entry) -> bool:
    return isinstance(entry, Order) and bool(entry.together)


def _some_time(oven: str) -> timedelta:
    """Spread over ``RECKONED_WITHIN``, so that nobody's fire waits for a thousand plans."""
    return RECKONED_WITHIN * (crc32(oven.encode()) % 1000 / 1000)
