"""The builder's week in a picture: a row for each day, a bar for each fire from start to end."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from matplotlib.axes import Axes
from matplotlib.patches import FancyBboxPatch

from bot.pictures.look import DAYLIGHT, EDGE, Look, dress, heading, png, sheet, shorten

DAYS = 7
MOST_BARS = 9
"""Fires of one day that are drawn; how many more there are stands below them."""

BAR_IN, GAP_IN, EMPTY_IN = 0.27, 0.16, 0.22
FIRST_HOUR, LAST_HOUR = 6.0, 22.0
LABEL_H = 0.13
"""Hours of the day that one letter takes, at the size that is used."""


@dataclass(frozen=True, slots=True)
class FireOfWeek:
    """A fire of the week; ``start`` is local, None where it is not known."""

    oven: str
    day: date
    start: datetime | None
    session_h: float
    aim: str = ""


def draw_week(first: date, fires: Sequence[FireOfWeek], look: Look = DAYLIGHT) -> bytes:
    """Seven days from ``first`` as PNG."""
    days = [first + timedelta(days=number) for number in range(DAYS)]
    by_day = {day: [one for one in fires if one.day == day] for day in days}
    heights = [_height(len(by_day[day])) for day in days]
    height = 1.0 + sum(heights) + 0.30
    figure = sheet(look, height)
    count = sum(len(found) for found in by_day.values())
    heading(figure, look, "1 fire" if count == 1 else f"{count} fires", _under(days, by_day))
    top = 0.86
    low, high = _hours(fires)
    for day, tall in zip(days, heights, strict=True):
        bottom = 1 - (top + tall) / height
        axes = figure.add_axes((EDGE + 0.115, bottom, 0.80, (tall - 0.05) / height))
        _draw_day(axes, by_day[day], look, (low, high), tall - 0.05)
        weekend = day.weekday() >= 5
        figure.text(
            EDGE, bottom + (tall - 0.05) / height / 2, f"{day:%a}\n{day.day} {day:%b}",
            fontsize=10.5, va="center", color=look.ink if by_day[day] else look.quiet,
            fontweight="bold" if weekend else "normal", linespacing=1.25,
        )  # fmt: skip
        top += tall
    axes.set_xticks(_ticks(low, high), [f"{hour:.0f}:00" for hour in _ticks(low, high)])
    axes.tick_params(labelsize=9.5, labelcolor=look.quiet, length=0, pad=5)
    return png(figure)


def _draw_day(
    axes: Axes,
    fires: Sequence[FireOfWeek],
    look: Look,
    span: tuple[float, float],
    tall: float,
) -> None:
    dress(axes, look).set(xlim=span, ylim=(tall, 0))
    axes.set_yticks([])
    axes.set_xticks([])
    for hour in _ticks(*span):
        axes.axvline(hour, color=look.rule, lw=0.8, zorder=0)
    for place, fire in enumerate(fires[:MOST_BARS]):
        _draw_fire(axes, fire, look, span, 0.08 + place * BAR_IN)
    if (more := len(fires) - MOST_BARS) > 0:
        axes.text(
            span[0] + 0.15, 0.08 + MOST_BARS * BAR_IN + 0.1, f"and {more} more", fontsize=9.5,
            color=look.quiet, va="center",
        )  # fmt: skip


def _draw_fire(
    axes: Axes, fire: FireOfWeek, look: Look, span: tuple[float, float], top: float
) -> None:
    begin = span[0] if fire.start is None else _hour(fire.start)
    end = span[1] if fire.start is None else min(begin + fire.session_h, span[1])
    middle = top + BAR_IN / 2 - 0.02
    axes.add_patch(
        FancyBboxPatch(
            (begin, top), end - begin, BAR_IN - 0.05, boxstyle="round,pad=0,rounding_size=0.05",
            facecolor=look.aim, linewidth=0,
        )
    )  # fmt: skip
    axes.plot([begin, begin], [top, top + BAR_IN - 0.05], color=look.fire, lw=2.6)
    when = "hour open," if fire.start is None else f"{fire.start.hour}:{fire.start:%M}"
    said = f"{when} {fire.oven}" + (f" · {fire.aim}" if fire.aim else "")
    letters = int((span[1] - begin) / LABEL_H)
    axes.text(
        begin + 0.15, middle, shorten(said, max(8, letters)), fontsize=9.5, color=look.ink,
        va="center", clip_on=True,
    )  # fmt: skip


def _height(count: int) -> float:
    if not count:
        return EMPTY_IN + GAP_IN
    extra = BAR_IN if count > MOST_BARS else 0.0
    return min(count, MOST_BARS) * BAR_IN + extra + GAP_IN


def _hours(fires: Sequence[FireOfWeek]) -> tuple[float, float]:
    """From early to late, wide enough for every fire that has an hour."""
    starts = [_hour(one.start) for one in fires if one.start is not None]
    first = min([FIRST_HOUR, *(int(hour) for hour in starts)])
    return float(first), LAST_HOUR


def _ticks(low: float, high: float) -> list[float]:
    step = 4
    first = int(-(-low // step) * step)
    return [float(hour) for hour in range(first, int(high) + 1, step)]


def _hour(at: datetime) -> float:
    return at.hour + at.minute / 60


def _under(days: Sequence[date], by_day: dict[date, list[FireOfWeek]]) -> str:
    first, last = days[0], days[-1]
    busiest = max(days, key=lambda day: len(by_day[day]))
    said = f"{first:%a} {first.day} {first:%b} to {last:%a} {last.day} {last:%b}"
    if len(by_day[busiest]) > 1:
        said += f" · most on {busiest:%a}: {len(by_day[busiest])}"
    return said
