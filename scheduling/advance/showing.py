"""Facts of a record as meanings show them."""

from collections.abc import Mapping, Sequence
from datetime import date

from scheduling.firing.session import Session, crown_c
from scheduling.journal import Capped, Forbidden, Moved, Order, PromisedFiring, RepeatOrdered
from scheduling.meaning import (
    DayChange,
    FiringShown,
    JournalLine,
    PlanLine,
    ReadingShown,
    StokeShown,
)
from scheduling.record.calendar import Dated
from scheduling.record.facts import Facts
from scheduling.record.live import Numbered
from scheduling.record.outlook import Outlook


def lines(outlook: Outlook) -> tuple[PlanLine, ...]:
    """The plan, firing by firing."""
    return tuple(line(one) for one in outlook.dated)


def line(one: Dated) -> PlanLine:
    """One firing with its day."""
    return PlanLine(**one.aim.model_dump(), day=one.day, start=one.start, poor=round(one.poor, 3))


def firing(session: Session) -> FiringShown | None:
    """A firing with its readings and stokes; None for a fire that nobody planned."""
    if session.aim is None:
        return None
    return FiringShown(
        aim=session.aim,
        lit_at=session.lit_at,
        ended_at=None if session.ended is None else session.ended.at,
        readings=tuple(
            ReadingShown(
                at=one.at,
                top_c=crown_c(one),
                sides_c=one.sides_c,
                hearth_c=one.hearth_c,
                believed=one.believed,
            )
            for one in session.readings
        ),
        stokes=tuple(StokeShown(at=one.at, pieces=one.pieces, kg=one.kg) for one in session.stokes),
        spans_held=session.spans_held(),
        held_h=session.held_h(),
        peak_c=session.peak_c,
    )


def promised_lines(promise: Sequence[PromisedFiring]) -> tuple[PlanLine, ...]:
    """Days as they were promised, whatever would be chosen now."""
    return tuple(PlanLine(**one.model_dump()) for one in promise)


def order_line(one: Numbered) -> JournalLine:
    """A builder's order with what it is about. Raises ValueError for any other entry."""
    entry = one.entry
    told: dict[str, object] = {}
    match entry:
        case Capped(cap_c=cap_c) | RepeatOrdered(cap_c=cap_c):
            told = {"value": cap_c}
        case Forbidden(first=first, last=last):
            told = {"day": first, "last": last}
        case Moved(not_before=day):
            told = {"day": day}
        case Order():
            pass
        case _:
            raise ValueError(f"entry {one.seq} is no order")
    known = {"seq": one.seq, "at": entry.at, "what": entry.kind, "text": entry.why}
    return JournalLine.model_validate(known | told)


def changes(record: Facts, outlook: Outlook) -> tuple[DayChange, ...]:
    """What differs between what was promised and what would now be, firing by firing."""
    after = {one.aim.number: (one.day, one.aim.plateau_c) for one in outlook.dated}
    return _between(_by_number(record.promise), after)


def between(
    before: Sequence[PromisedFiring], after: Sequence[PromisedFiring]
) -> tuple[DayChange, ...]:
    """What differs between two promises, firing by firing."""
    return _between(_by_number(before), _by_number(after))


_Numbered = Mapping[int, tuple[date | None, float]]
"""Day and plateau by the firing's number."""


def _by_number(promise: Sequence[PromisedFiring]) -> _Numbered:
    return {one.number: (one.day, one.plateau_c) for one in promise}


def _between(before: _Numbered, after: _Numbered) -> tuple[DayChange, ...]:
    found: list[DayChange] = []
    for number in sorted(before.keys() | after.keys()):
        day_before, aim_before_c = before.get(number, (None, None))
        day_after, aim_after_c = after.get(number, (None, None))
        if day_before != day_after:
            found.append(
                DayChange(
                    number=number,
                    before=day_before,
                    after=day_after,
                    aim_before_c=aim_before_c,
                    aim_after_c=aim_after_c,
                )
            )
    return tuple(found)
