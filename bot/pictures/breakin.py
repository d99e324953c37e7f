"""The picture of a plan: the fires, the wall and its water over the whole break-in."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

import numpy as np
import numpy.typing as npt
from matplotlib.axes import Axes
from matplotlib.figure import Figure

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
)

Floats = npt.NDArray[np.float64]

LABEL_SHARE = 0.085
"""Width of a temperature's label, as a share of the picture's days."""


@dataclass(frozen=True, slots=True)
class PlannedFire:
    """A firing of the plan: when it burns (local time), what it aims for (°C)."""

    number: int
    lit: datetime
    door_on: datetime
    plateau_c: float


@dataclass(frozen=True, slots=True)
class WallBand:
    """A layer as it is drawn: its name, and where it ends, in mm from the fire."""

    name: str
    outer_mm: float


@dataclass(frozen=True, slots=True)
class PlanCourse:
    """The expected course of a break-in.

    ``at`` (n local instants, ascending), ``depth_mm`` (m depths from the fire), ``wall_c`` (n, m)
    temperatures, ``surface_c`` (n,) of the hot face, ``water_l`` (n, 3) litres left in the shell
    as low, mid and high estimate.
    """

    oven: str
    fires: tuple[PlannedFire, ...]
    at: tuple[datetime, ...]
    depth_mm: Floats
    wall_c: Floats
    surface_c: Floats
    water_l: Floats
    layers: tuple[WallBand, ...]


def draw_plan(course: PlanCourse, look: Look = DAYLIGHT, *, fahrenheit: bool = False) -> bytes:
    """The plan as PNG: surface, wall, water, one below the other on one axis of days.

    Where nothing is known of the wall (no depths), the surface alone.
    """
    if course.depth_mm.size == 0:
        return _surface_alone(course, look, fahrenheit)
    figure = sheet(look, 6.9)
    heading(figure, look, course.oven, _under(course))
    grid = figure.add_gridspec(
        3,
        1,
        height_ratios=(3.2, 2.7, 2.2),
        left=0.125,
        right=0.955,
        top=0.845,
        bottom=0.075,
        hspace=0.34,
    )
    days = _days(course.at)
    surface, wall, water = (dress(figure.add_subplot(grid[row]), look) for row in range(3))
    _draw_surface(surface, course, days, look, fahrenheit)
    _draw_wall(figure, wall, course, days, look, fahrenheit)
    _draw_water(water, course, days, look)
    _day_axis((surface, wall, water), course, look)
    return png(figure)


def tell_plan(course: PlanCourse, *, fahrenheit: bool = False) -> str:
    """What the picture shows, for those who do not see it."""
    if not course.fires:
        return f"{course.oven}: no fires are planned."
    fires = "; ".join(
        f"{fire.number}, {fire.lit:%a} {fire.lit.day} {fire.lit:%b}, "
        f"{degrees(fire.plateau_c, fahrenheit=fahrenheit)}"
        for fire in course.fires
    )
    first, last = course.water_l[0], course.water_l[-1]
    return (
        f"{course.oven}: {_count(len(course.fires))} planned. {fires}. Water in the shell falls "
        f"from about {first[1]:.1f} to {last[1]:.1f} litres "
        f"(between {last[0]:.1f} and {last[2]:.1f})."
    )


def _surface_alone(course: PlanCourse, look: Look, fahrenheit: bool) -> bytes:
    figure = sheet(look, 3.9)
    heading(figure, look, course.oven, _under(course))
    axes = dress(figure.add_axes((0.125, 0.16, 0.83, 0.56)), look)
    _draw_surface(axes, course, _days(course.at), look, fahrenheit)
    _day_axis((axes,), course, look)
    return png(figure)


def _under(course: PlanCourse) -> str:
    if not course.fires:
        return "No fires planned"
    first, last = course.fires[0].lit, course.fires[-1].lit
    return f"{_count(len(course.fires))}, {_day(first)} to {_day(last)}"


def _count(number: int) -> str:
    return f"{number} fire" if number == 1 else f"{number} fires"


def _day(instant: datetime | date) -> str:
    return f"{instant.day} {instant:%b}"


def _shown(temperature_c: Floats | float, fahrenheit: bool) -> Floats:
    return np.asarray(temperature_c) * 1.8 + 32.0 if fahrenheit else np.asarray(temperature_c)


def _days(instants: Sequence[datetime]) -> Floats:
    """Days since the midnight before the first instant."""
    start = datetime.combine(instants[0].date(), datetime.min.time(), instants[0].tzinfo)
    return np.array([(instant - start) / timedelta(days=1) for instant in instants])


def _draw_surface(
    axes: Axes, course: PlanCourse, days: Floats, look: Look, fahrenheit: bool
) -> None:
    panel_title(axes, look, f"Dome surface, {'°F' if fahrenheit else '°C'}")
    calm_grid(axes, look)
    shown = _shown(course.surface_c, fahrenheit)
    axes.fill_between(days, shown, color=look.fire, alpha=0.16, linewidth=0)
    axes.plot(days, shown, color=look.fire, linewidth=2.0, solid_joinstyle="round")
    top = float(_shown(max((fire.plateau_c for fire in course.fires), default=100.0), fahrenheit))
    axes.set_ylim(0, top * 1.22)
    axes.locator_params(axis="y", nbins=5)
    clear_of_edge = float(days[0]) + LABEL_SHARE / 2 * float(days[-1] - days[0])
    for fire, (begin, end) in zip(course.fires, _spans(course), strict=True):
        peak = float(_shown(fire.plateau_c, fahrenheit))
        axes.text(
            max((begin + end) / 2, clear_of_edge),
            peak + top * 0.04,
            f"{peak:.0f}",
            ha="center",
            va="bottom",
            fontsize=12.5,
            fontweight="bold",
            color=look.ink,
        )


def _spans(course: PlanCourse) -> list[tuple[float, float]]:
    ends = [course.at[0]]
    for fire in course.fires:
        ends += [fire.lit, fire.door_on]
    days = _days(ends)[1:]
    return [(float(begin), float(end)) for begin, end in zip(days[::2], days[1::2], strict=True)]


def _draw_wall(
    figure: Figure, axes: Axes, course: PlanCourse, days: Floats, look: Look, fahrenheit: bool
) -> None:
    panel_title(axes, look, "Inside the wall, the fire below it")
    hottest = max(150.0, float(np.nanmax(course.wall_c)))
    drawn = axes.pcolormesh(
        days,
        course.depth_mm,
        course.wall_c.T,
        cmap=look.heat_map,
        vmin=0,
        vmax=hottest,
        shading="gouraud",
        rasterized=True,
    )
    if float(np.nanmax(course.wall_c)) > 100.0:
        axes.contour(
            days,
            course.depth_mm,
            course.wall_c.T,
            levels=[100.0],
            colors=look.water,
            linewidths=1.4,
        )
        axes.text(
            0.985,
            0.95,
            f"line: {degrees(100.0, fahrenheit=fahrenheit)}, water boils",
            transform=axes.transAxes,
            fontsize=9,
            color=look.water,
            ha="right",
            va="top",
        )
    inner = 0.0
    for band in course.layers:
        axes.axhline(band.outer_mm, color=look.ink, linewidth=0.7, alpha=0.55)
        axes.text(
            0.012,
            (inner + band.outer_mm) / 2,
            f"{band.name} {band.outer_mm - inner:.0f} mm",
            transform=axes.get_yaxis_transform(),
            fontsize=9,
            color=look.ink,
            va="center",
            bbox={"facecolor": look.ground, "alpha": 0.72, "edgecolor": "none", "pad": 1.6},
        )
        inner = band.outer_mm
    axes.set_ylim(0, inner)
    axes.set_yticks([])
    scale = figure.add_axes((0.70, axes.get_position().y1 + 0.014, 0.195, 0.009))
    bar = figure.colorbar(drawn, cax=scale, orientation="horizontal")
    bar.outline.set_visible(False)
    scale.set_xticks([])
    for place, at_c in ((-0.03, 0.0), (1.03, hottest)):
        scale.text(
            place,
            0.5,
            f"{float(_shown(at_c, fahrenheit)):.0f}°",
            transform=scale.transAxes,
            ha="right" if place < 0 else "left",
            va="center",
            fontsize=9,
            color=look.quiet,
        )


def _draw_water(axes: Axes, course: PlanCourse, days: Floats, look: Look) -> None:
    panel_title(axes, look, "Water left in the shell, litres, and how sure we are")
    calm_grid(axes, look)
    low, mid, high = course.water_l.T
    axes.fill_between(days, low, high, color=look.water, alpha=0.22, linewidth=0)
    axes.plot(days, mid, color=look.water, linewidth=2.0)
    top = float(np.max(high))
    axes.set_ylim(0, max(top * 1.15, 0.1))
    axes.locator_params(axis="y", nbins=4)
    axes.text(
        days[0],
        mid[0] + top * 0.03,
        f" {mid[0]:.1f} l",
        fontsize=12.5,
        fontweight="bold",
        color=look.water,
        va="bottom",
    )
    axes.text(
        days[-1],
        mid[-1] + top * 0.05,
        f"{mid[-1]:.1f} l ",
        fontsize=12.5,
        fontweight="bold",
        color=look.water,
        ha="right",
        va="bottom",
    )


def _day_axis(panels: Sequence[Axes], course: PlanCourse, look: Look) -> None:
    """One axis of days for all panels: firing days are named and numbered."""
    days = _days(course.at)
    spans = _spans(course)
    for axes in panels:
        axes.set_xlim(days[0], days[-1])
        axes.set_xticks([])
    for axes in panels[::2]:  # the wall between them is a picture of its own
        for begin, end in spans:
            axes.axvspan(begin, end, color=look.aim, alpha=0.55, linewidth=0, zorder=0)
    every = max(1, -(-len(spans) // 6))
    chosen = range(0, len(spans), every)
    panels[-1].set_xticks([sum(spans[i]) / 2 for i in chosen])
    panels[-1].set_xticklabels(
        [
            f"{course.fires[i].lit:%a} {course.fires[i].lit.day}\nfire {course.fires[i].number}"
            for i in chosen
        ],
        fontsize=9.5,
        linespacing=1.25,
    )
