"""Which of a builder's orders still stand, and which of them close a day."""

from datetime import date, datetime

from scheduling.journal import (
    Capped,
    FiringEnded,
    Forbidden,
    Held,
    LimitsSet,
    Moved,
    Order,
    RepeatOrdered,
)
from scheduling.record.facts import Facts
from scheduling.record.live import Numbered


def standing_orders(record: Facts, now: datetime) -> tuple[Numbered, ...]:
    """The orders that still change something, the oldest first."""
    today = record.today(now)
    found = [one for one in record.live if isinstance(one.entry, Order)]
    last: dict[type, Numbered] = {type(one.entry): one for one in found}

    def counts(one: Numbered) -> bool:
        match one.entry:
            case Forbidden(last=day):
                return day >= today
            case Moved(not_before=day):
                return last[Moved] is one and day > today
            case Held():
                return record.held is one.entry
            case Capped():
                return last[Capped] is one and one.entry.cap_c is not None
            case RepeatOrdered(at=at):
                done = any(e.at > at and e.completed for e in record.all_of(FiringEnded))
                return last[RepeatOrdered] is one and not done
            case LimitsSet():
                return True
            case _:
                return False

    return tuple(one for one in found if counts(one))


def closes(one: Numbered, day: date) -> bool:
    """Whether that order lets no fire be lit on that day."""
    match one.entry:
        case Forbidden(first=first, last=last):
            return first <= day <= last
        case Moved(not_before=not_before):
            return day < not_before
        case Held():
            return True
        case _:
            return False
