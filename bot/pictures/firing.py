"""The picture after a firing: what was read, what was planned, wood, hold and door."""

from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
from matplotlib.axes import Axes
from matplotlib.lines import Line2D
from matplotlib.ticker import FuncFormatter

from bot.pictures.look import (
    DAYLIGHT,
    Look,
    calm_grid,
    degrees,
    dress,
    heading,
    panel_title,
    png,
    sheet,
    shown_degrees,
)
from bot.wording.measures import held


@dataclass(frozen=True, slots=True)
class ReadingDot:
    """What was read at an instant (local time), in °C."""

    at: datetime
    top_c: float | None = None
    sides_c: tuple[float, ...] = ()
    doubtful: bool = False


@dataclass(frozen=True, slots=True)
class Band:
    """The range in which the dome is to be held.

    How fast it comes there is nobody's to hurry: no course towards it is drawn, for whoever stays
    below one would look as if they had done wrong.
    """

    low_c: float
    high_c: float


@dataclass(frozen=True, slots=True)
class FiringDrawn:
    """A firing as it went, and as it was meant to go. Instants are local."""

    oven: str
    number: int
    of: int
    lit: datetime
    ended: datetime
    plateau_c: float
    readings: tuple[ReadingDot, ...]
    band: Band | None = None
    stokes: tuple[datetime, ...] = ()
    spans_held: tuple[tuple[datetime, datetime], ...] = ()
    held_h: float = 0.0
    """Hours in the range or above; of a fire that nobody read, by the clock."""
    door_on: datetime | None = None


def draw_firing(firing: FiringDrawn, look: Look = DAYLIGHT, *, fahrenheit: bool = False) -> bytes:
    """The firing as PNG."""
    figure = sheet(look, 5.0)
    heading(
        figure,
        look,
        f"Fire {firing.number} of {firing.of}",
        f"{firing.oven}, {firing.lit:%a} {firing.lit.day} {firing.lit:%b}",
    )
    axes = dress(figure.add_axes((0.125, 0.185, 0.775, 0.605)), look)
    panel_title(axes, look, f"Dome surface, {'°F' if fahrenheit else '°C'}")
    calm_grid(axes, look)
    _limits(axes, firing, fahrenheit)
    _draw_band(axes, firing, look, fahrenheit)
    _draw_readings(axes, firing, look, fahrenheit)
    _draw_work(axes, firing, look)
    _draw_key(axes, firing, look)
    return png(figure)


def tell_firing(firing: FiringDrawn, *, fahrenheit: bool = False) -> str:
    """What the picture shows, for those who do not see it."""

    def shown(temperature_c: float) -> str:
        return degrees(temperature_c, fahrenheit=fahrenheit)

    told = [
        f"Fire {firing.number} of {firing.of}, {firing.oven}, lit at {firing.lit:%H:%M}. "
        f"Aim {_about(firing.plateau_c, fahrenheit)} °{'F' if fahrenheit else 'C'}."
    ]
    tops = [(dot.top_c, dot.at) for dot in _believed(firing) if dot.top_c is not None]
    if tops:
        hottest_c, at = max(tops)
        told.append(
            f"{len(tops)} readings at the top, hottest {shown(hottest_c)} at {at:%H:%M}, "
            f"last {shown(tops[-1][0])} at {tops[-1][1]:%H:%M}."
        )
    else:
        told.append("No readings.")
    sides = [side_c for dot in _believed(firing) for side_c in dot.sides_c]
    if sides:
        told.append(f"Sides between {shown(min(sides))} and {shown(max(sides))}.")
    if doubtful := sum(dot.doubtful for dot in firing.readings):
        told.append(f"{doubtful} doubtful and not used.")
    if firing.stokes:
        told.append(f"Wood added at {', '.join(f'{at:%H:%M}' for at in firing.stokes)}.")
    if firing.held_h > 0:
        told.append(f"Held for {held(firing.held_h)}.")
    if firing.door_on:
        told.append(f"Door on at {firing.door_on:%H:%M}.")
    return " ".join(told)


def _about(temperature_c: float, fahrenheit: bool) -> int:
    """An aim to the nearest five, as every sentence tells it."""
    return round(shown_degrees(temperature_c, fahrenheit=fahrenheit) / 5) * 5


def _believed(firing: FiringDrawn) -> list[ReadingDot]:
    return [dot for dot in firing.readings if not dot.doubtful]


def _limits(axes: Axes, firing: FiringDrawn, fahrenheit: bool) -> None:
    spots = [firing.plateau_c, *([firing.band.high_c] if firing.band else [])]
    for dot in _believed(firing):
        spots += [spot for spot in (dot.top_c, *dot.sides_c) if spot is not None]
    # The peak's own figure stays clear of the bar of the hold above it.
    top = shown_degrees(max(spots), fahrenheit=fahrenheit) * 1.22
    axes.set_ylim(-0.085 * top, top)
    margin = timedelta(minutes=8)
    axes.set_xlim(_x(firing.lit - margin), _x(firing.ended + margin))
    hours = (firing.ended - firing.lit) / timedelta(hours=1)
    step = 1 if hours <= 7 else 2 if hours <= 14 else 4
    first = (firing.lit + timedelta(minutes=59)).replace(minute=0, second=0, microsecond=0)
    ticks = [
        first + timedelta(hours=hour)
        for hour in range(0, int(hours) + 2, step)
        if first + timedelta(hours=hour) <= firing.ended + margin
    ]
    axes.set_xticks([_x(tick) for tick in ticks], [f"{tick:%H:%M}" for tick in ticks])
    axes.locator_params(axis="y", nbins=6)
    axes.yaxis.set_major_formatter(FuncFormatter(lambda y, _: "" if y < 0 else f"{y:.0f}"))


def _draw_band(axes: Axes, firing: FiringDrawn, look: Look, fahrenheit: bool) -> None:
    if firing.band:
        low, high = (
            shown_degrees(one_c, fahrenheit=fahrenheit)
            for one_c in (firing.band.low_c, firing.band.high_c)
        )
        axes.axhspan(low, high, color=look.aim, linewidth=0, alpha=0.85)
    aim = shown_degrees(firing.plateau_c, fahrenheit=fahrenheit)
    axes.axhline(aim, color=look.quiet, linewidth=1.2, linestyle=(0, (4, 3)))
    axes.text(
        1.012,
        aim,
        f"aim\n{_about(firing.plateau_c, fahrenheit)}",
        transform=axes.get_yaxis_transform(),
        fontsize=10,
        color=look.quiet,
        va="center",
        linespacing=1.05,
    )


def _draw_readings(axes: Axes, firing: FiringDrawn, look: Look, fahrenheit: bool) -> None:
    def shown(temperature_c: float) -> float:
        return shown_degrees(temperature_c, fahrenheit=fahrenheit)

    dots = _believed(firing)
    sides = [(_x(dot.at), np.mean(dot.sides_c)) for dot in dots if dot.sides_c]
    tops = [(_x(dot.at), dot.top_c) for dot in dots if dot.top_c is not None]
    for points, marker, colour in ((sides, "^", look.side), (tops, "o", look.crown)):
        if not points:
            continue
        at, values = [point[0] for point in points], [shown(float(point[1])) for point in points]
        axes.plot(
            at,
            values,
            marker=marker,
            markersize=7,
            color=colour,
            linewidth=1.8,
            markeredgecolor=look.panel,
            markeredgewidth=1.0,
        )
    edge = axes.get_ylim()[1] * 0.98
    for dot in firing.readings:
        if dot.doubtful and dot.top_c is not None:
            # The key says what a cross is: words beside each would lie upon each other.
            axes.plot(_x(dot.at), min(shown(dot.top_c), edge), "x", color=look.warn, ms=9, mew=2.2)
    if tops:
        x, hottest_c = max(tops, key=lambda point: point[1] or 0.0)
        axes.annotate(
            f"{shown(float(hottest_c or 0)):.0f}",
            (x, shown(float(hottest_c or 0))),
            xytext=(0, 9),
            textcoords="offset points",
            fontsize=13,
            fontweight="bold",
            color=look.ink,
            ha="center",
        )


def _draw_key(axes: Axes, firing: FiringDrawn, look: Look) -> None:
    """What the marks mean, in one row below the clock."""
    dots = _believed(firing)
    marks = [
        ("o", look.crown, "top", any(dot.top_c is not None for dot in dots)),
        ("^", look.side, "sides", any(dot.sides_c for dot in dots)),
        ("s", look.wood, "wood", True),
        ("s", look.aim, "range", firing.band is not None),
        ("x", look.warn, "not used", any(dot.doubtful for dot in firing.readings)),
    ]
    handles = [
        Line2D([], [], marker=shape, color=colour, linestyle="", markersize=8, label=word)
        for shape, colour, word, drawn in marks
        if drawn
    ]
    axes.legend(
        handles=handles,
        loc="upper left",
        bbox_to_anchor=(-0.03, -0.09),
        ncols=len(handles),
        frameon=False,
        fontsize=10.5,
        labelcolor=look.ink,
        handletextpad=0.1,
        columnspacing=1.4,
    )


def _draw_work(axes: Axes, firing: FiringDrawn, look: Look) -> None:
    """Wood on the floor of the panel, the hold above it, the door as an upright line."""
    floor = axes.get_ylim()[0]
    lane = floor / 2
    for at in (firing.lit, *firing.stokes):
        axes.plot(_x(at), lane, marker="s", markersize=8, color=look.wood, clip_on=False)
    axes.axhline(0, color=look.rule, linewidth=1.0)
    top = axes.get_ylim()[1]
    if firing.spans_held:
        level = top * 0.955
        for instants in firing.spans_held:
            begin, end = (_x(instant) for instant in instants)
            axes.plot([begin, end], [level, level], color=look.ink, linewidth=2.4)
            for place in (begin, end):
                reach = top * 0.018
                axes.plot([place, place], [level - reach, level + reach], color=look.ink)
        axes.text(
            (_x(firing.spans_held[0][0]) + _x(firing.spans_held[-1][1])) / 2,
            level + top * 0.03,
            f"held {held(firing.held_h)}",
            ha="center",
            va="bottom",
            fontsize=10.5,
            color=look.ink,
            clip_on=False,
        )
    if firing.door_on:
        axes.axvline(_x(firing.door_on), color=look.wood, linewidth=2.4)
        axes.annotate(
            "door on",
            (_x(firing.door_on), 0),
            xytext=(-5, 8),
            textcoords="offset points",
            fontsize=10.5,
            color=look.wood,
            rotation=90,
            ha="right",
            va="bottom",
        )


def _x(instant: datetime) -> float:
    """A local instant on the axis in days, so that the clock on it is the local one."""
    return (
        instant.toordinal() + (instant.hour * 3600 + instant.minute * 60 + instant.second) / 86400
    )
