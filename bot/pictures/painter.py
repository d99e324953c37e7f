"""Draws attachments by their kind, from the plain data that a stored message carries.

``plan``      {"lines": [PlanLine], "zone", "unit", "oven", "course": optional}
``firing``    {"shown": FiringShown, "of": fires in all, "zone", "unit", "oven"}
``qr``        {"content"}: a code to scan
``week``      {"first", "fires": [FireInWeek], "zone"}
``board``     {"fires": [FireOnBoard], "total", "now", "zone", "unit"}

Instants are ISO texts; ``zone``, ``unit`` and ``oven`` may be left out.
"""

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Annotated, Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np
from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError

from bot.pictures.board import FireNow, Need, draw_board
from bot.pictures.breakin import PlanCourse, PlannedFire, WallBand, draw_plan
from bot.pictures.firing import Band, FiringDrawn, ReadingDot, draw_firing
from bot.pictures.qr import draw_qr
from bot.pictures.week import FireOfWeek, draw_week
from scheduling.meaning import FiringShown, PlanLine

NAMELESS = "Your oven"
COLD_C = 15.0
USUAL_SESSION_H = 6.0
COOLING_H = 14.0
"""Time constant of a dome behind its door, for the look of the picture only (own choice)."""


class _Data(BaseModel):
    model_config = ConfigDict(frozen=True, extra="ignore")

    zone: str = "UTC"
    unit: Literal["C", "F"] = "C"
    oven: str = ""

    @property
    def fahrenheit(self) -> bool:
        return self.unit == "F"

    @property
    def local(self) -> ZoneInfo:
        try:
            return ZoneInfo(self.zone)
        except (ZoneInfoNotFoundError, ValueError):
            return ZoneInfo("UTC")

    @property
    def title(self) -> str:
        return self.oven or NAMELESS


class Course(BaseModel):
    """The wall's expected course: shapes as in ``PlanCourse``."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    at: tuple[AwareDatetime, ...]
    depth_mm: tuple[float, ...]
    wall_c: tuple[tuple[float, ...], ...]
    surface_c: tuple[float, ...]
    water_l: tuple[tuple[float, float, float], ...]
    layers: tuple[tuple[str, float], ...]


class _Plan(_Data):
    lines: tuple[PlanLine, ...]
    course: Course | None = None


class _Firing(_Data):
    shown: FiringShown
    of: int = 0


class FireOnBoard(BaseModel):
    """A fire that burns now, for the builder's board."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    oven: str
    number: int = 1
    need: Annotated[int, Field(ge=0, le=2)] = 2
    state: str = ""
    aim_c: float
    track: tuple[tuple[AwareDatetime, float], ...] = ()


class FireInWeek(BaseModel):
    """A fire of the week ahead."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    oven: str
    day: date
    start: AwareDatetime | None = None
    session_h: float | None = None
    aim: str = ""


class _Week(_Data):
    first: date
    fires: tuple[FireInWeek, ...]


class _Qr(_Data):
    content: str


class _Board(_Data):
    fires: tuple[FireOnBoard, ...]
    now: AwareDatetime
    total: int = 0


def paint(kind: str, data: Mapping[str, object]) -> bytes:
    """The attachment as PNG. Raises ValueError for a kind or data that is not known here."""
    try:
        match kind:
            case "plan":
                return _plan(_Plan.model_validate(data))
            case "firing":
                return _firing(_Firing.model_validate(data))
            case "qr":
                return draw_qr(_Qr.model_validate(data).content)
            case "week":
                return _week(_Week.model_validate(data))
            case "board":
                return _board(_Board.model_validate(data))
    except ValidationError as error:
        raise ValueError(f"the {kind} cannot be drawn: {error}") from error
    raise ValueError(f"no attachment is of the kind {kind!r}")


def _plan(told: _Plan) -> bytes:
    fires = tuple(
        PlannedFire(
            line.number,
            line.start.astimezone(told.local),
            (line.start + timedelta(hours=line.session_h)).astimezone(told.local),
            line.plateau_c,
        )
        for line in told.lines
        if line.start is not None
    )
    if not fires:
        raise ValueError("no fire of this plan has a day yet")
    course = told.course
    if course is not None:
        drawn = PlanCourse(
            told.title,
            fires,
            tuple(at.astimezone(told.local) for at in course.at),
            np.array(course.depth_mm),
            np.array(course.wall_c),
            np.array(course.surface_c),
            np.array(course.water_l),
            tuple(WallBand(name, outer_mm) for name, outer_mm in course.layers),
        )
    else:
        at, surface_c = _by_aims(fires, {line.number: line for line in told.lines})
        nothing = np.zeros((len(at), 0))
        drawn = PlanCourse(
            told.title, fires, at, np.zeros(0), nothing, surface_c, np.zeros((len(at), 3)), ()
        )
    return draw_plan(drawn, fahrenheit=told.fahrenheit)


def _by_aims(
    fires: tuple[PlannedFire, ...], lines: Mapping[int, PlanLine]
) -> tuple[tuple[datetime, ...], np.ndarray]:
    """The dome as the aims have it: climb, hold, and a slow fall behind the door."""
    begin = fires[0].lit - timedelta(hours=12)
    end = fires[-1].door_on + timedelta(hours=20)
    steps = int((end - begin) / timedelta(minutes=20)) + 1
    at = tuple(begin + timedelta(minutes=20) * step for step in range(steps))
    surface_c = np.full(steps, COLD_C)
    for index, instant in enumerate(at):
        fire = next((one for one in reversed(fires) if one.lit <= instant), None)
        before = surface_c[index - 1] if index else COLD_C
        if fire is not None and instant <= fire.door_on:
            climbed = before + lines[fire.number].climb_c_per_h / 3
            surface_c[index] = min(climbed, fire.plateau_c)
        else:
            surface_c[index] = COLD_C + (before - COLD_C) * np.exp(-1 / (3 * COOLING_H))
    return at, surface_c


def _firing(told: _Firing) -> bytes:
    shown, zone = told.shown, told.local
    lit = shown.lit_at.astimezone(zone)
    ended = (shown.ended_at or _last(shown)).astimezone(zone)
    aim = shown.aim
    return draw_firing(
        FiringDrawn(
            told.title,
            aim.number,
            max(told.of, aim.number + aim.left - 1),
            lit,
            max(ended, lit + timedelta(minutes=30)),
            aim.plateau_c,
            tuple(
                ReadingDot(r.at.astimezone(zone), r.top_c, r.sides_c, not r.believed)
                for r in shown.readings
            ),
            Band(aim.low_c, aim.high_c),
            tuple(stoke.at.astimezone(zone) for stoke in shown.stokes),
            tuple(
                (begin.astimezone(zone), end.astimezone(zone)) for begin, end in shown.spans_held
            ),
            shown.held_h,
        ),
        fahrenheit=told.fahrenheit,
    )


def _last(shown: FiringShown) -> datetime:
    return max([shown.lit_at, *(r.at for r in shown.readings), *(s.at for s in shown.stokes)])


def _week(told: _Week) -> bytes:
    fires = [
        FireOfWeek(
            fire.oven or "A client",
            fire.day if fire.start is None else fire.start.astimezone(told.local).date(),
            None if fire.start is None else fire.start.astimezone(told.local),
            fire.session_h or USUAL_SESSION_H,
            fire.aim,
        )
        for fire in told.fires
    ]
    return draw_week(told.first, fires)


def _board(told: _Board) -> bytes:
    fires = [
        FireNow(
            fire.oven,
            fire.number,
            Need(fire.need),
            fire.state,
            fire.aim_c,
            tuple((at.astimezone(told.local), top_c) for at, top_c in fire.track),
        )
        for fire in told.fires
    ]
    now = told.now.astimezone(told.local)
    return draw_board(fires, now, fahrenheit=told.fahrenheit, total=told.total)
