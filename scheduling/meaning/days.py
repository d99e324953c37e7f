"""Meanings about days that slip."""

from datetime import date
from typing import Literal

from scheduling.meaning.base import DayChange, PlanLine, Said


class DaysProposed(Said):
    """What changes if this is so; nothing is done until confirmed.

    ``why``: ``unavailable``, ``wanted``, ``weather``, ``gale``, ``forecast``. A line with
    ``warm_up`` is a short fire after a long gap: a few small stokings, the door on overnight.
    """

    kind: Literal["days_proposed"] = "days_proposed"
    proposal: str
    why: str
    off: tuple[tuple[date, date], ...] = ()
    """Days, both inclusive, that nobody can tend a fire on; and those ``wanted``."""
    wanted: tuple[tuple[date, date], ...] = ()
    gales: tuple[date, ...] = ()
    poor: tuple[date, ...] = ()
    changes: tuple[DayChange, ...] = ()
    lines: tuple[PlanLine, ...] = ()
    done_by_before: date | None = None
    done_by_after: date | None = None


class DaysMoved(Said):
    """Done: the new days, with a calendar file. One tap undoes it (``undo``)."""

    kind: Literal["days_moved"] = "days_moved"
    why: str
    lines: tuple[PlanLine, ...]
    changes: tuple[DayChange, ...] = ()
    undo: bool = True


class DaysKept(Said):
    """Noted, and nothing changes. ``proposal``: what was proposed is left alone."""

    kind: Literal["days_kept"] = "days_kept"
    why: str = ""


class DaysRefused(Said):
    """A day that cannot be: ``why`` is a ``DateTrouble``, a ``Closed`` or ``nothing_free``."""

    kind: Literal["days_refused"] = "days_refused"
    why: str
    first: date | None = None
    last: date | None = None
    next_day: date | None = None


class WhichDay(Said):
    """A day is wanted; which? ``near`` are the next possible ones, as buttons."""

    kind: Literal["which_day"] = "which_day"
    near: tuple[date, ...] = ()
    why: str = ""


class DaysShown(Said):
    """The days as a short list with a calendar file."""

    kind: Literal["days_shown"] = "days_shown"
    lines: tuple[PlanLine, ...]
    ready_on: date | None = None


class NoDayFound(Said):
    """No day can be found in the weeks ahead, by weather or by the hours that are free."""

    kind: Literal["no_day_found"] = "no_day_found"
    needed_h: float | None = None


class SoakedNoted(Said):
    """The oven got wet through: what it means for the plan; ``lit``: for the fire now."""

    kind: Literal["soaked_noted"] = "soaked_noted"
    lit: bool = False
    aim_before_c: float | None = None
    aim_after_c: float | None = None
    finished: bool = False


class ForecastAgainst(Said):
    """Tomorrow's forecast speaks against the firing: a proposal to move follows or is in it."""

    kind: Literal["forecast_against"] = "forecast_against"
    day: date
    poor: float
    reasons: tuple[tuple[str, float], ...] = ()
    attribution: str | None = None
