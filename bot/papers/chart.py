"""The picture of a fire on paper: vector, with the paper's own letters.

It shows what the picture in the chat shows: readings, the range aimed for, wood, hold and door.
Colours also differ in lightness and shape, so that a grey print reads as well.
"""

import math
from datetime import datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from reportlab.lib.colors import HexColor
from reportlab.platypus import Flowable

from bot.papers.firing_log import FiringLog
from bot.papers.typeface import BOLD, INK, MARK, QUIET, RULE, TEXT, width
from bot.wording.measures import Measures, held
from scheduling.firing.session import crown_c
from scheduling.journal import Measured

BAND: Final = "#EBD9B8"
CROWN: Final = "#B23A12"
SIDE: Final = "#C07A12"
WOOD: Final = "#6B4A2F"
PAPER: Final = "#FFFFFF"

SIZE: Final = 7.0
FLOOR: Final = 32.0
"""Below the axis: a lane for wood, then the clock, then the key (points)."""
HEAD: Final = 24.0
"""Above the grid: the bar of the hold with its figure, and room for the peak's under it."""
GUTTER: Final = 26.0
MARGIN: Final = timedelta(minutes=10)


class FiringChart(Flowable):  # type: ignore[misc]
    """One fire over its hours, in the reader's degrees and the oven's own time."""

    def __init__(self, log: FiringLog, m: Measures, wide: float, high: float = 168.0) -> None:
        super().__init__()
        self.width, self.height = wide, high
        self._log, self._m, self._zone = log, m, m.zone
        session = log.session
        instants = [session.lit_at, *(one.at for one in session.readings)]
        instants += [one.at for one in session.stokes]
        instants += [at for at in (log.door_on_at, log.ended and log.ended.at) if at]
        self._first = min(instants) - MARGIN
        self._last = max(max(instants), session.lit_at + timedelta(hours=1)) + MARGIN
        spots = [c for one in session.believed for c in (one.top_c, *one.sides_c) if c is not None]
        spots += [log.aim.high_c] if log.aim is not None else []
        self._step = _step(m.shown(max(spots, default=100.0)))
        self._top = math.ceil(m.shown(max(spots, default=100.0)) * 1.06 / self._step) * self._step

    def wrap(self, *_room: float) -> tuple[float, float]:
        """The room it takes, in points."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it where the page has come to."""
        self._grid()
        self._band()
        self._work()
        self._readings()
        self._key()

    # ------------------------------------------------------------ where things lie

    def _x(self, at: datetime) -> float:
        share = (at - self._first) / (self._last - self._first)
        return GUTTER + share * (self.width - GUTTER - 34)

    def _y(self, celsius: float) -> float:
        return self._level(self._m.shown(celsius))

    def _level(self, shown: float) -> float:
        share = max(0.0, shown) / self._top
        return FLOOR + share * (self.height - FLOOR - HEAD)

    # ------------------------------------------------------------ what is drawn

    def _ink(self, colour: str, line: float = 0.6, face: str = TEXT, size: float = SIZE) -> None:
        self.canv.setStrokeColor(HexColor(colour))
        self.canv.setFillColor(HexColor(colour))
        self.canv.setLineWidth(line)
        self.canv.setDash()
        self.canv.setFont(face, size)

    def _grid(self) -> None:
        right = self._x(self._last)
        for shown in range(0, self._top + 1, self._step):
            self._ink(RULE, 0.4)
            self.canv.line(GUTTER, self._level(shown), right, self._level(shown))
            self._ink(QUIET)
            self.canv.drawRightString(GUTTER - 4, self._level(shown) - 2.4, str(shown))
        self.canv.drawString(0, self.height - HEAD + 6, f"°{self._m.unit}")
        for hour in _hours(self._first, self._last, self._zone):
            self._ink(RULE, 0.4)
            self.canv.line(self._x(hour), FLOOR, self._x(hour), FLOOR - 3)
            self._ink(QUIET)
            self.canv.drawCentredString(self._x(hour), FLOOR - 20, f"{hour.hour}:00")

    def _band(self) -> None:
        aim, session = self._log.aim, self._log.session
        if aim is None:
            return
        begin, end = self._x(session.lit_at), self._x(self._last)
        low, high = self._y(aim.low_c), self._y(aim.high_c)
        self._ink(BAND)
        self.canv.rect(begin, low, end - begin, high - low, stroke=0, fill=1)
        self._ink(QUIET, 0.8)
        self.canv.setDash(4, 3)
        self.canv.line(GUTTER, self._y(aim.plateau_c), self._x(self._last), self._y(aim.plateau_c))
        self.canv.setDash()
        aimed = f"aim {self._m.about_degrees(aim.plateau_c).split()[0]}"
        self.canv.drawString(self._x(self._last) + 3, self._y(aim.plateau_c) - 2.4, aimed)

    def _work(self) -> None:
        """Wood in its lane under the axis, the hold above, the door as an upright line."""
        for stoke in self._log.session.stokes:
            self._ink(WOOD)
            self.canv.rect(self._x(stoke.at) - 2, FLOOR - 9, 4, 4, stroke=1, fill=stoke.advised)
        self._ink(WOOD)
        self.canv.rect(self._x(self._log.session.lit_at) - 2, FLOOR - 9, 4, 4, stroke=1, fill=1)
        level = self.height - 10
        spans = self._log.session.spans_held()
        for begin, end in spans:
            self._ink(INK, 2.0)
            self.canv.line(self._x(begin), level, self._x(end), level)
        if spans:
            self._ink(INK)
            words = f"held {held(self._log.held_h)}" + (" in all" if len(spans) > 1 else "")
            room = width(words, TEXT, SIZE)
            at = (self._x(spans[0][0]) + self._x(spans[-1][1])) / 2
            at = min(max(at, GUTTER + room / 2), self.width - room / 2)
            self.canv.drawCentredString(at, level + 3, words)
        if self._log.door_on_at is not None:
            self._ink(WOOD, 1.2)
            x = self._x(self._log.door_on_at)
            self.canv.line(x, FLOOR, x, self.height - HEAD)

    def _readings(self) -> None:
        session, m = self._log.session, self._m
        before = [session.start] if session.start and session.start.at >= self._first else []
        seen = [*before, *session.believed]
        self._track([(one.at, one.top_c) for one in seen if one.top_c is not None], CROWN)
        for one in seen:
            for side_c in one.sides_c:
                self._ink(SIDE)
                _triangle(self.canv, self._x(one.at), self._y(side_c))
        for one in session.readings:
            if not one.believed and one.top_c is not None:
                self._cross(one)
        if session.believed:
            hottest = max(session.believed, key=lambda one: crown_c(one) or 0.0)
            peak_c = crown_c(hottest) or 0.0
            self._figure(f"{m.shown(peak_c):.0f}", self._x(hottest.at), self._y(peak_c) + 5)

    def _figure(self, shown: str, x: float, y: float) -> None:
        """A figure on a white edge, so that no line runs through it."""
        self.canv.saveState()
        self._ink(INK, face=BOLD, size=8)
        self.canv.setStrokeColor(HexColor(PAPER))
        self.canv.setLineWidth(2.6)
        edge = self.canv.beginText(x - width(shown, BOLD, 8) / 2, y)
        edge.setFont(BOLD, 8)
        edge.setTextRenderMode(1)
        edge.textOut(shown)
        self.canv.drawText(edge)
        self.canv.restoreState()
        self._ink(INK, face=BOLD, size=8)
        self.canv.drawCentredString(x, y, shown)

    def _track(self, points: list[tuple[datetime, float]], colour: str) -> None:
        self._ink(colour, 1.1)
        path = self.canv.beginPath()
        for index, (at, celsius) in enumerate(points):
            step = path.lineTo if index else path.moveTo
            step(self._x(at), self._y(celsius))
        self.canv.drawPath(path)
        for at, celsius in points:
            self.canv.circle(self._x(at), self._y(celsius), 1.9, stroke=0, fill=1)

    def _cross(self, one: Measured) -> None:
        x, y = self._x(one.at), self._y(min(one.top_c or 0.0, self._celsius_at_top()))
        self._ink(MARK, 1.2)
        self.canv.line(x - 2.6, y - 2.6, x + 2.6, y + 2.6)
        self.canv.line(x - 2.6, y + 2.6, x + 2.6, y - 2.6)

    def _celsius_at_top(self) -> float:
        return self._top if self._m.unit == "C" else (self._top - 32) / 1.8

    def _key(self) -> None:
        """What the marks mean, in one row."""
        session = self._log.session
        marks = [
            ("dot", CROWN, "crown", bool(session.believed)),
            ("triangle", SIDE, "sides", any(one.sides_c for one in session.believed)),
            ("square", WOOD, "wood", True),
            ("hollow", WOOD, "wood not asked for", any(not one.advised for one in session.stokes)),
            ("area", BAND, "range to hold", self._log.aim is not None),
            ("cross", MARK, "read, not used", any(not one.believed for one in session.readings)),
            ("line", WOOD, "door on", self._log.door_on_at is not None),
        ]
        x, y = GUTTER, 3.0
        for mark, colour, words, drawn in marks:
            if not drawn:
                continue
            self._ink(colour, 1.0)
            match mark:
                case "dot":
                    self.canv.circle(x + 3, y + 2.4, 1.9, stroke=0, fill=1)
                case "triangle":
                    _triangle(self.canv, x + 3, y + 2.4)
                case "area":
                    self.canv.rect(x, y, 7, 5, stroke=0, fill=1)
                case "line":
                    self.canv.line(x + 3, y - 1, x + 3, y + 6)
                case "cross":
                    self.canv.line(x + 0.6, y, x + 5.4, y + 5)
                    self.canv.line(x + 0.6, y + 5, x + 5.4, y)
                case _:
                    self.canv.rect(x + 1, y + 0.4, 4, 4, stroke=1, fill=mark == "square")
            self._ink(QUIET)
            self.canv.drawString(x + 10, y, words)
            x += 24 + width(words, TEXT, SIZE)


def _triangle(canvas: object, x: float, y: float) -> None:
    path = canvas.beginPath()  # type: ignore[attr-defined]
    path.moveTo(x - 2.4, y - 1.8)
    path.lineTo(x + 2.4, y - 1.8)
    path.lineTo(x, y + 2.6)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)  # type: ignore[attr-defined]


def _step(top: float) -> int:
    """Degrees between two lines of the grid, so that there are four to seven of them."""
    return next((step for step in (20, 25, 50, 100, 200) if top / step <= 6.5), 250)


def _hours(first: datetime, last: datetime, zone: ZoneInfo) -> list[datetime]:
    """Full hours of the oven's own clock, seldom enough to be read."""
    span_h = (last - first) / timedelta(hours=1)
    every = next((hours for hours in (1, 2, 3, 6) if span_h / hours <= 11), 12)
    local = first.astimezone(zone)
    at = local.replace(minute=0, second=0, microsecond=0) + timedelta(hours=1)
    found: list[datetime] = []
    while at <= last:
        if at.hour % every == 0:
            found.append(at)
        at = (at.astimezone(first.tzinfo) + timedelta(hours=1)).astimezone(zone)
    return found
