"""A plan as a table for a terminal of 80 columns, made from the plan's own JSON."""

import textwrap
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from bot.wording.plans import ADVICE

WIDTH = 80

COLUMNS = (  # head, unit, width; the day and the water stand to the left
    ("fire", "", 5),
    ("day", "", -10),
    ("aim", "°C", 5),
    ("climb", "°C/h", 7),
    ("hold", "h", 6),
    ("stoke", "min", 7),
    ("wood", "kg", 6),
    ("water left", "litres", -16),
    ("steam", "%", 5),
    ("morning", "°C", 8),
)


def table(plan: Mapping[str, Any], oven: str) -> str:
    """The plan as lines of at most 80 columns. ``plan`` is what ``plan --json`` prints."""
    lines = [oven, "-" * min(len(oven), WIDTH), *_wrapped(_opening(plan)), ""]
    if plan["firings"]:
        lines += [_line([head for head, _, _ in COLUMNS]), _line([unit for _, unit, _ in COLUMNS])]
        for firing in plan["firings"]:
            lines += [_row(firing), *_wrapped(str(firing["reason"]), indent=7)]
        lines += [
            "",
            *_wrapped(
                "Water left is in the shell, by the low and high estimate; steam is the 95 % "
                "estimate in percent of its limit; morning is what to expect the day after."
            ),
            "",
        ]
    if beside := plan.get("beside_sheet"):
        lines += [*_wrapped(str(beside)), ""]
    return "\n".join([*lines, *_wrapped(ADVICE)]) + "\n"


def _opening(plan: Mapping[str, Any]) -> str:
    said = []
    ready_on = plan.get("ready_on")
    if ready_on:
        past = str(ready_on) <= str(plan.get("at", ""))[:10]
        verb = (
            "has been ready for its first fire since" if past else "is ready for its first fire on"
        )
        said.append(f"The mortar {verb} {_day(ready_on)}.")
    else:
        said.append("No day can be given for the first fire.")
    if why := plan.get("reason"):
        said.append(str(why))
    if not plan["firings"]:
        said.append("No fires are planned.")
    return " ".join([*said, *plan.get("notes", ())])


def _row(firing: Mapping[str, Any]) -> str:
    water = firing["water_left_l"]
    return _line(
        [
            f"{firing['number']}",
            _short_day(firing.get("day")),
            f"{firing['plateau_c']:.0f}",
            f"{firing['climb_c_per_h']:.0f}",
            f"{firing['hold_h']:.1f}",
            f"{firing['stoke_minutes']:.0f}",
            f"{firing['wood_kg']:.1f}",
            f"{water['mid']:.1f} ({water['low']:.1f}-{water['high']:.1f})",
            f"{100 * firing['steam_share']:.0f}",
            f"{firing['morning_c']:.0f}",
        ]
    )


def _line(cells: Sequence[str]) -> str:
    """Cells set to the columns' widths: numbers to the right, words to the left after a gap."""
    set_cells = (
        f"{cell:>{width}}" if width > 0 else f"  {cell:<{-width}}"
        for cell, (_, _, width) in zip(cells, COLUMNS, strict=True)
    )
    return "".join(set_cells).rstrip()


def _day(told: str) -> str:
    day = date.fromisoformat(told[:10])
    return f"{day:%a} {day.day} {day:%b %Y}"


def _short_day(told: str | None) -> str:
    if not told:
        return ""
    day = date.fromisoformat(told[:10])
    return f"{day:%a} {day.day} {day:%b}"


def _wrapped(words: str, indent: int = 0) -> list[str]:
    space = " " * indent
    return textwrap.wrap(words, WIDTH, initial_indent=space, subsequent_indent=space)
