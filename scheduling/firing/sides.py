"""When the coldest side is asked for beside the crown.

The sides hold their water a firing longer than the crown; what is not read of them is only
believed, and widely. So they are asked for at least twice a fire: once it burns evenly, and
before its hold is over, which is before anything can be called dry.
"""

from datetime import datetime, timedelta

from scheduling.firing.session import Session

FIRST_FROM, FIRST_UNTIL = timedelta(minutes=60), timedelta(minutes=120)
"""After the match: by then the fire burns evenly (own choice)."""

SECOND_FROM = 0.4
"""Of the hold: from then on a side has warmed as far as it will (own choice)."""

COUNTS_FOR = timedelta(minutes=60)
"""A side read so lately is not asked for again."""


def side_wanted(session: Session, now: datetime) -> bool:
    """Whether the next reading should name the coldest side too."""
    aim = session.aim
    if aim is None or session.ending or session.died_at is not None:
        return False
    read = [one.at for one in session.believed if one.sides_c]
    if read and now - read[-1] < COUNTS_FOR:
        return False
    burning = now - session.lit_at
    if FIRST_FROM <= burning <= FIRST_UNTIL:
        return True
    return session.held_h(now) >= SECOND_FROM * aim.hold_h
