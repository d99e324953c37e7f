"""The builder's picture: every fire that burns now, those that need somebody first."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import IntEnum

from matplotlib.axes import Axes

from bot.pictures.look import DAYLIGHT, Look, dress, heading, png, sheet, shorten, shown_degrees
from scheduling.meaning.office import BOARD_HOLDS

COLUMNS = 3


class Need(IntEnum):
    """How much a fire needs somebody."""

    DANGER = 0
    LOOK = 1
    WELL = 2


@dataclass(frozen=True, slots=True)
class FireNow:
    """A fire that burns now. ``track`` are believed readings at the crown, oldest first."""

    oven: str
    number: int
    need: Need
    state: str
    """A few words: holding, climbing, no answer for 50 min."""
    aim_c: float
    track: tuple[tuple[datetime, float], ...]


def order(fires: Sequence[FireNow]) -> list[FireNow]:
    """Those that need somebody first; among equals by name."""
    return sorted(fires, key=lambda fire: (fire.need, fire.oven.casefold()))


def draw_board(
    fires: Sequence[FireNow],
    now: datetime,
    look: Look = DAYLIGHT,
    *,
    fahrenheit: bool = False,
    total: int = 0,
) -> bytes:
    """All fires as PNG, at most ``BOARD_HOLDS``; ``now`` is local. ``total`` counts those that
    burn besides, where not all are handed in."""
    shown = order(fires)[:BOARD_HOLDS]
    rows = max(1, -(-len(shown) // COLUMNS))
    height = 1.0 + 1.55 * rows
    figure = sheet(look, height)
    count = max(total, len(fires))
    heading(figure, look, _title(count), _under(fires, count, now))
    for place, fire in enumerate(shown):
        row, column = divmod(place, COLUMNS)
        axes = figure.add_axes(
            (
                0.055 + column * 0.307,
                1 - (0.93 + 1.55 * (row + 1) - 0.13) / height,
                0.276,
                1.40 / height,
            )
        )
        _draw_fire(axes, fire, now, look, fahrenheit)
    return png(figure)


def tell_board(fires: Sequence[FireNow], now: datetime, *, fahrenheit: bool = False) -> str:
    """What the picture shows, for those who do not see it."""
    if not fires:
        return f"No fires burning at {now:%H:%M}."
    lines = [f"{_title(len(fires))} at {now:%H:%M}."]
    for fire in order(fires)[:BOARD_HOLDS]:
        last = ""
        if fire.track:
            at, top_c = fire.track[-1]
            value = shown_degrees(top_c, fahrenheit=fahrenheit)
            last = f", {value:.0f}° {_minutes(now - at)} ago"
        aim = shown_degrees(fire.aim_c, fahrenheit=fahrenheit)
        lines.append(f"{fire.oven}, fire {fire.number}: {fire.state}{last}, aim {aim:.0f}°.")
    if (more := len(fires) - BOARD_HOLDS) > 0:
        lines.append(f"And {more} more.")
    return " ".join(lines)


def _title(count: int) -> str:
    if not count:
        return "No fires burning"
    return "1 fire burning" if count == 1 else f"{count} fires burning"


def _under(fires: Sequence[FireNow], count: int, now: datetime) -> str:
    needy = sum(fire.need is not Need.WELL for fire in fires)
    said = f"{now:%a} {now.day} {now:%b}, {now:%H:%M}"
    if needy:
        said += f" · {needy} to look at"
    if (more := count - min(len(fires), BOARD_HOLDS)) > 0:
        said += f" · {more} calm ones not drawn"
    return said


def _draw_fire(axes: Axes, fire: FireNow, now: datetime, look: Look, fahrenheit: bool) -> None:
    dress(axes, look).set_xticks([])
    axes.set_yticks([])
    pressing = fire.need is not Need.WELL
    for spine in axes.spines.values():
        spine.set_visible(True)
        spine.set_color(look.warn if pressing else look.rule)
        spine.set_linewidth(2.6 if fire.need is Need.DANGER else 1.6 if pressing else 1.0)
    axes.set(xlim=(-3.0, 0.0), ylim=(0, 1))
    axes.text(
        0.05, 0.95, shorten(fire.oven, 16), transform=axes.transAxes, fontsize=10, va="top",
        fontweight="bold", color=look.ink,
    )  # fmt: skip
    mark = {Need.DANGER: "!! ", Need.LOOK: "! ", Need.WELL: ""}[fire.need]
    axes.text(
        0.05, 0.80, mark + shorten(fire.state, 18), transform=axes.transAxes, fontsize=9, va="top",
        color=look.warn if pressing else look.quiet,
    )  # fmt: skip
    _draw_track(axes, fire, now, look)
    if fire.track:
        at, top_c = fire.track[-1]
        value = shown_degrees(top_c, fahrenheit=fahrenheit)
        axes.text(
            0.05, 0.05, f"{value:.0f}°", transform=axes.transAxes, fontsize=15, fontweight="bold",
            color=look.crown,
        )  # fmt: skip
        axes.text(
            0.95, 0.06, _minutes(now - at), transform=axes.transAxes, fontsize=9, ha="right",
            color=look.quiet,
        )  # fmt: skip
        aim = shown_degrees(fire.aim_c, fahrenheit=fahrenheit)
        axes.text(
            0.95, 0.18, f"aim {aim:.0f}°", transform=axes.transAxes, fontsize=9, ha="right",
            color=look.quiet,
        )  # fmt: skip
    else:
        axes.text(
            0.05, 0.06, "no reading", transform=axes.transAxes, fontsize=9, color=look.quiet
        )  # fmt: skip


def _draw_track(axes: Axes, fire: FireNow, now: datetime, look: Look) -> None:
    """The last three hours in the middle of the tile; the aim as a dashed line."""
    hottest = max([fire.aim_c, *(top_c for _, top_c in fire.track)]) * 1.08
    coolest = min([fire.aim_c, *(top_c for _, top_c in fire.track)]) * 0.9

    def level(top_c: float) -> float:
        return 0.33 + 0.33 * (top_c - coolest) / max(hottest - coolest, 1.0)

    axes.plot([-3, 0], [level(fire.aim_c)] * 2, color=look.quiet, lw=1.0, ls=(0, (4, 3)))
    recent = [
        ((at - now) / timedelta(hours=1), level(top_c))
        for at, top_c in fire.track
        if now - at <= timedelta(hours=3)
    ]
    if recent:
        axes.plot(*zip(*recent, strict=True), color=look.crown, lw=1.8)
        axes.plot(*recent[-1], "o", color=look.crown, ms=6, mec=look.panel, clip_on=False)


def _minutes(span: timedelta) -> str:
    minutes = round(span / timedelta(minutes=1))
    return f"{minutes} min" if minutes < 100 else f"{minutes / 60:.0f} h"
