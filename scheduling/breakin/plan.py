"""A plan: the firings that remain, each with its reason as data."""

from datetime import datetime
from enum import StrEnum

from pydantic import BaseModel, ConfigDict


class LimitedBy(StrEnum):
    """Which limit bound a firing's plateau."""

    STEAM = "steam"
    STEP = "step"
    CLIMB = "climb"
    """No slower climb would reach more in the time that somebody can stay."""
    SESSION = "session"
    INSTRUMENT = "instrument"
    BUILDER = "builder"
    SOOT = "soot"
    """It is the last: hot enough to burn the soot off."""


class Unfinished(StrEnum):
    """Why a plan does not end with a finished oven."""

    INSTRUMENT = "instrument"
    """The thermometer ends before the soot clears."""
    BUILDER = "builder"
    """The builder's cap lies below."""
    SESSION = "session"
    """Nobody stays long enough to get there."""
    STILL_WET = "still_wet"
    """Water is left after as many firings as anybody should be asked for."""
    NOT_STRONG = "not_strong"
    """The mortar is not ready; the firings begin when it is."""


class _Value(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Litres(_Value):
    """Water, as low, middle and high estimate (5, 50, 95 %)."""

    low: float
    mid: float
    high: float


class Reason(_Value):
    """Why this plateau and no other.

    ``allowed_c`` gives the plateau that each limit by itself would allow; ``built_on_c`` is the
    plateau that the step was taken from (None: first fire); ``dry`` if no water is left in the
    shell at the start, in as many members as the limits ask for.
    """

    allowed_c: dict[LimitedBy, float]
    built_on_c: float | None = None
    dry: bool = False
    idle_d: float | None = None


class Pieces(_Value):
    """Split wood as data, for everyday words: one charge of it."""

    count: int
    thickness_mm: float
    length_mm: float
    kg: float


class Firing(_Value):
    """One firing to come. Instants in UTC, temperatures in °C.

    ``plateau_c`` is held for ``hold_h`` after a climb of ``climb_c_per_h`` from ``start_c``.
    ``steam_share`` is the highest steam pressure over its limit, in 95 % of members.
    ``wood_range_kg`` holds the wood in 90 % of members, ``wood_kg`` is their middle.
    ``morning_c`` is the crown sixteen hours after the fire, or when the next one is lit.
    """

    number: int
    start: datetime
    end: datetime
    start_c: float
    plateau_c: float
    climb_c_per_h: float
    hold_h: float
    stoke_minutes: float
    wood_kg: float
    wood_range_kg: tuple[float, float]
    charge: Pieces
    water_left_l: Litres
    steam_share: float
    morning_c: float
    limited_by: LimitedBy
    reason: Reason
    last: bool = False
    warm_up: bool = False

    @property
    def session_h(self) -> float:
        """Hours from the match to the end of the hold."""
        return (self.end - self.start).total_seconds() / 3600.0


class Moment(_Value):
    """A point of the expected course.

    ``surface_c`` and ``side_c`` are low, middle and high; ``wall_c`` the crown's middle
    temperatures at the course's depths.
    """

    at: datetime
    surface_c: tuple[float, float, float]
    side_c: tuple[float, float, float]
    wall_c: tuple[float, ...]
    water_l: Litres


class Course(_Value):
    """What is expected to happen inside the wall, for pictures. ``depth_mm`` from the fire."""

    depth_mm: tuple[float, ...]
    moments: tuple[Moment, ...]


class Plan(_Value):
    """The firings that remain. Empty, with ``finished``, when nothing is left to do."""

    at: datetime
    firings: tuple[Firing, ...]
    finished: bool
    """Whether the plan ends with a dry oven that burnt its soot off."""
    unfinished: Unfinished | None = None
    water_left_l: Litres
    """As believed at the start."""
    course: Course | None = None
