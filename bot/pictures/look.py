"""How our pictures look: warm and calm, readable on a phone held at arm's length.

A picture is 1080 px wide; a phone shows it about 380 points wide, so type of 11 pt here is type
of 11 pt there. The ground is opaque, so a picture reads in light and dark chats alike. What a
colour says, a shape, a line or a word says too.
"""

import io
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.figure import Figure
from matplotlib.patches import Polygon, Wedge

WIDTH_IN = 5.4
DPI = 200
EDGE = 0.055


@dataclass(frozen=True, slots=True)
class Look:
    """Colours of a ground. Told apart also without red or green (deuteranopia, protanopia)."""

    ground: str
    panel: str
    ink: str
    quiet: str
    rule: str
    fire: str
    crown: str
    side: str
    water: str
    aim: str
    wood: str
    warn: str
    heat: tuple[str, ...]

    @property
    def heat_map(self) -> LinearSegmentedColormap:
        """Temperature as lightness, so that it also reads in grey."""
        return LinearSegmentedColormap.from_list("embers", self.heat)


DAYLIGHT = Look(
    ground="#FBF6EC",
    panel="#FFFDF8",
    ink="#2E2722",
    quiet="#7C6F63",
    rule="#E7DCCB",
    fire="#C2491D",
    crown="#B23A12",
    side="#D98B1F",
    water="#23689B",
    aim="#EBD9B8",
    wood="#6B4A2F",
    warn="#8F1D4B",
    heat=("#FFF9EE", "#F9DFAE", "#EDA550", "#CF5F26", "#8C2A1B", "#3E1014"),
)

EVENING = Look(
    ground="#1B1715",
    panel="#231E1B",
    ink="#F4EADB",
    quiet="#A99C8D",
    rule="#3A322C",
    fire="#F08A4B",
    crown="#F3703A",
    side="#F2C14E",
    water="#6FB6E8",
    aim="#4A3D2B",
    wood="#C79A6B",
    warn="#F08FB4",
    heat=("#231E1B", "#4A201B", "#8F3219", "#D4672A", "#F2AE4E", "#FFF0C2"),
)


def sheet(look: Look, height_in: float) -> Figure:
    """An empty figure on the ground of ``look``. Nothing global is touched: no pyplot, no rc."""
    figure = Figure(figsize=(WIDTH_IN, height_in), dpi=DPI, facecolor=look.ground)
    FigureCanvasAgg(figure)
    return figure


def dress(axes: Axes, look: Look) -> Axes:
    """Give a panel its ground and quiet ticks; the line below it is the only frame."""
    axes.set_facecolor(look.panel)
    for side, spine in axes.spines.items():
        spine.set_visible(side == "bottom")
        spine.set_color(look.rule)
    axes.tick_params(length=0, labelsize=10.5, labelcolor=look.quiet)
    return axes


def png(figure: Figure) -> bytes:
    """The figure as PNG, 1080 px wide."""
    buffer = io.BytesIO()
    figure.savefig(buffer, format="png", dpi=DPI, facecolor=figure.get_facecolor())
    return buffer.getvalue()


def heading(figure: Figure, look: Look, title: str, under: str = "") -> None:
    """Title, the line below it, and the mark: a dome with a fire in its mouth."""
    height = figure.get_figheight()
    figure.text(
        EDGE,
        1 - 0.20 / height,
        shorten(title, 30),
        fontsize=16,
        fontweight="bold",
        fontfamily="DejaVu Serif",
        color=look.ink,
        va="top",
    )
    figure.text(
        EDGE, 1 - 0.55 / height, shorten(under, 58), fontsize=10.5, color=look.quiet, va="top"
    )
    mark = figure.add_axes((0.845, 1 - 0.60 / height, 0.11, 0.42 / height))
    mark.set_axis_off()
    mark.set(xlim=(-1.45, 1.45), ylim=(-0.05, 1.25), aspect="equal")
    mark.add_patch(Wedge((0, 0), 1.2, 0, 180, facecolor=look.wood))
    mark.add_patch(Wedge((0, 0), 0.62, 0, 180, facecolor=look.ground))
    flame = [(-0.30, 0.02), (-0.34, 0.28), (-0.10, 0.33), (0.02, 0.56), (0.22, 0.34), (0.30, 0.02)]
    mark.add_patch(Polygon(flame, closed=True, facecolor=look.fire, joinstyle="round"))
    mark.plot([-1.4, 1.4], [0, 0], color=look.wood, linewidth=2.2, solid_capstyle="round")


def panel_title(axes: Axes, look: Look, words: str) -> None:
    """What a panel shows, above it and flush with the heading."""
    figure = axes.get_figure(root=True)
    if figure is None:
        return
    above = axes.get_position().y1 + 0.055 / figure.get_figheight()
    figure.text(EDGE, above, words, fontsize=10.5, color=look.quiet, va="bottom")


def calm_grid(axes: Axes, look: Look) -> None:
    """Faint level lines only."""
    axes.grid(visible=True, axis="y", color=look.rule, linewidth=0.8)
    axes.set_axisbelow(True)


def shorten(words: str, letters: int) -> str:
    """``words``, ending in an ellipsis if they are longer than ``letters``."""
    return words if len(words) <= letters else words[: letters - 1].rstrip() + "…"


def shown_degrees(temperature_c: float, *, fahrenheit: bool) -> float:
    """A temperature on the reader's scale."""
    return temperature_c * 1.8 + 32.0 if fahrenheit else temperature_c


def degrees(temperature_c: float, *, fahrenheit: bool) -> str:
    """A temperature in words on the reader's scale, to the degree."""
    return (
        f"{shown_degrees(temperature_c, fahrenheit=fahrenheit):.0f} °{'F' if fahrenheit else 'C'}"
    )
