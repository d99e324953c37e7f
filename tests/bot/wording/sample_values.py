"""Values that many sample meanings share: aims, a plan, a firing as it went."""

from datetime import UTC, date, datetime, timedelta

from scheduling import meaning as said
from scheduling.firing.aim import Aim, Laying

NOW = datetime(2026, 6, 6, 9, 30, tzinfo=UTC)
TODAY = date(2026, 6, 6)
TOMORROW = TODAY + timedelta(days=1)
SOON = NOW + timedelta(minutes=30)


def aim(number: int = 2, plateau_c: float = 150.0, **known: object) -> Aim:
    """A firing to come."""
    small = plateau_c < 200
    values: dict[str, object] = {
        "number": number,
        "plateau_c": plateau_c,
        "low_c": plateau_c - 10,
        "high_c": plateau_c + 12,
        "climb_c_per_h": 50.0,
        "hold_h": 1.5,
        "session_h": 4.5,
        "stoke_minutes": 35.0,
        "wood_kg": 6.4 if small else 17.0,
        "lay_kg": 0.9 if small else 2.2,
        "charge_kg": 0.42 if small else 1.6,
        "charge_pieces": 3,
        "piece_mm": 30.0 if small else 60.0,
        "laying": Laying.SMALL_AT_MOUTH if small else Laying.TOP_LIT,
        "limited_by": "steam",
        "left": 5,
    }
    return Aim.model_validate(values | known)


EARLY = aim()
MIDDLE = aim(4, 260.0, piece_mm=45.0)
LAST = aim(6, 400.0, last=True, left=1)
WARM_UP = aim(4, 120.0, warm_up=True)


def plan_lines(count: int = 5) -> tuple[said.PlanLine, ...]:
    """A plan, one day after another."""
    return tuple(
        said.PlanLine(
            **aim(number, 90.0 + 60.0 * number).model_dump(),
            day=TOMORROW + timedelta(days=number),
            start=NOW + timedelta(days=number, hours=-2),
            poor=0.5 if number == 3 else 0.1,
        )
        for number in range(1, count + 1)
    )


def shown(ended: bool = True, of: Aim = EARLY, readings: int = 4) -> said.FiringShown:
    """A firing as it went."""
    return said.FiringShown(
        aim=of,
        lit_at=NOW - timedelta(hours=3),
        ended_at=NOW if ended else None,
        readings=tuple(
            said.ReadingShown(
                at=NOW - timedelta(minutes=150 - 40 * index),
                top_c=60.0 + 30 * index,
                believed=index != 1,
            )
            for index in range(readings)
        ),
        stokes=(
            said.StokeShown(at=NOW - timedelta(hours=2), pieces=3, kg=0.4),
            said.StokeShown(at=NOW - timedelta(hours=1), pieces=2),
        ),
        spans_held=((NOW - timedelta(hours=1), NOW),) if readings else (),
        held_h=1.1 if readings else 0.0,
        peak_c=156.0 if readings else None,
    )
