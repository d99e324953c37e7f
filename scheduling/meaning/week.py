"""Meanings of the week ahead: the fires of all of a builder's clients."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict

from scheduling.meaning.base import Said


class WeekFire(BaseModel):
    """A fire that an owner was promised; what is None is not known yet."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    oven_id: str
    oven: str
    place: str = ""
    firing: int
    day: date
    start: AwareDatetime | None = None
    session_h: float | None = None
    plateau_c: float | None = None
    hold_h: float | None = None
    warm_up: bool = False
    told_at: AwareDatetime


class WeekShown(Said):
    """The week that begins on ``first``. ``held`` are clients on hold, who have no fire meanwhile.
    ``later``: there are fires after it. ``clients``: there is anybody at all."""

    kind: Literal["week_shown"] = "week_shown"
    first: date
    fires: tuple[WeekFire, ...] = ()
    held: tuple[str, ...] = ()
    later: bool = False
    clients: bool = True


class CalendarShown(Said):
    """The calendar of all fires to come. ``address`` is shown this once; ``has_address``: one was
    made before. ``served``: this house can be reached from the web; else only the file is had."""

    kind: Literal["calendar_shown"] = "calendar_shown"
    fires: tuple[WeekFire, ...] = ()
    address: str = ""
    has_address: bool = False
    served: bool = False


class CalendarRevoked(Said):
    """The address opens nothing any more; ``none``: there was none."""

    kind: Literal["calendar_revoked"] = "calendar_revoked"
    none: bool = False
