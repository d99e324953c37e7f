"""Facts of a record as meanings show them."""

from scheduling.firing.session import Session, crown_c
from scheduling.meaning import DayChange, FiringShown, PlanLine, ReadingShown, StokeShown
from scheduling.record.calendar import Dated
from scheduling.record.facts import Facts
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
        hold=session.hold(),
        held_h=round(session.held_h(session.heard_at), 2),
        peak_c=session.peak_c,
    )


def changes(record: Facts, outlook: Outlook) -> tuple[DayChange, ...]:
    """What differs between what was promised and what would now be, firing by firing."""
    before = {one.number: one for one in record.promise}
    after = {one.aim.number: one for one in outlook.dated}
    found: list[DayChange] = []
    for number in sorted(before.keys() | after.keys()):
        was, now = before.get(number), after.get(number)
        day_before = was.day if was is not None else None
        day_after = now.day if now is not None else None
        if day_before != day_after:
            found.append(
                DayChange(
                    number=number,
                    before=day_before,
                    after=day_after,
                    aim_before_c=was.plateau_c if was is not None else None,
                    aim_after_c=now.aim.plateau_c if now is not None else None,
                )
            )
    return tuple(found)
