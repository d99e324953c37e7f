"""Departures in words: in a clause beside the fire, and all of a kind in a line of the first page.

Nothing here calls anybody wrong. What somebody did is told by what had been asked; what a fire did
on the wood that was asked for is told as that.
"""

from collections.abc import Sequence
from typing import Final

from bot.papers.departures import Departure, What
from bot.wording.measures import Measures, counted, held, listed, times

FIRES_IN_FULL: Final = 4
"""Of a kind that more fires share, the first page gives their numbers alone."""

KINDS: Final[dict[What, str]] = {
    What.AGAINST_ADVICE: "Lit though it was told to wait",
    What.UNPLANNED: "Lit, and not of the plan",
    What.UNASKED_WOOD: "Wood put on that was not asked for",
    What.MORE_WOOD: "More wood put on than was asked for",
    What.TOO_FAST: "Climb over its limit on such wood",
    What.UNANSWERED: "Asked, and no answer for a while",
    What.OTHER_DAY: "Lit on another day than was told",
    What.STOPPED: "Stopped before its time, as advised",
    What.SHORT: "Hold shorter than planned",
    What.OVER: "Peak above its range",
    What.UNDER: "Range not reached",
}


def in_a_line(what: What, fires: Sequence[tuple[int, Departure]], m: Measures) -> str:
    """All fires of one kind: ``Peak above its range: fire 3 (by 38 °C)``."""
    if len(fires) > FIRES_IN_FULL:
        return f"{KINDS[what]}: {fire_numbers([number for number, _ in fires])}."
    each = [f"fire {number}{_in_brackets(figure(one, m))}" for number, one in fires]
    return f"{KINDS[what]}: {listed(each)}."


def figure(one: Departure, m: Measures) -> str:
    """How far, in a few words; "" where there is no more to tell."""
    unit, scale = f"°{m.unit}", 1.0 if m.unit == "C" else 1.8
    beyond = f"by {m.beyond(one.amount, *one.range_c)}"
    match one.what:
        case What.UNASKED_WOOD:
            return counted(one.count, "charge") + (f", {one.amount:.2f} kg" if one.amount else "")
        case What.MORE_WOOD:
            return f"{one.amount:.2f} kg for {one.of:.2f} kg"
        case What.TOO_FAST:
            return f"{one.amount * scale:.0f} for {one.of * scale:.0f} {unit}/h at most"
        case What.UNANSWERED:
            return (
                f"{times(one.count)}, the longest {held(one.amount)}"
                if one.count > 1
                else (held(one.amount))
            )
        case What.OTHER_DAY:
            return "" if one.day is None else f"told for {m.dated(one.day)}"
        case What.STOPPED | What.SHORT:
            advised = ", let burn down as advised" if one.what is What.SHORT and one.advised else ""
            return f"{held(one.amount)} of {held(one.of)}{advised}"
        case What.OVER:
            return beyond + (", on the wood asked for" if one.asked else "")
        case What.UNDER:
            return beyond
    return ""


def fire_numbers(numbers: Sequence[int]) -> str:
    """``fire 3``, ``fires 1 to 5, 7 and 9``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    told: list[str] = []
    for run in runs:
        told += [f"{run[0]} to {run[-1]}"] if len(run) > 2 else [str(number) for number in run]
    return ("fire " if len(numbers) == 1 else "fires ") + listed(told)


def _in_brackets(words: str) -> str:
    return f" ({words})" if words else ""
