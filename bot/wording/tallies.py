"""Sentences of what many ovens add up to; a count too small to tell is said to be one."""

from collections.abc import Callable

from bot.wording.measures import Measures, counted, degree_figure
from bot.wording.speech import Sentences, joined, lines, parcel, says
from scheduling.meaning import Tally
from scheduling.meaning.tallies import ClimbBand, Share, Spread
from scheduling.ports import Parcel

TOO_FEW = "too few to tell"
RULE = (
    "In brackets: the 95 % Wilson interval. Wider than 30 points, or fewer than six ovens: too few "
    "to tell. Fires of one oven are not independent, so doubt is larger still; a count is no cause."
)


def tally(said: Tally, m: Measures) -> Parcel:
    """All of it, as one message."""
    if not said.fires:
        return parcel(f"{_ovens(said)} No fire has been told of yet, so there is nothing to count.")
    return parcel(
        joined(_ovens(said), f"{counted(said.fires, 'fire').capitalize()} so far."),
        lines(figures(said, m)),
        "Cracks reported, by the steepest climb of a fire:\n"
        + lines(band_line(one, m) for one in said.bands if one.cracked.of),
        _left_out(said),
        RULE,
    )


def figures(said: Tally, m: Measures) -> list[str]:
    """What is told of ovens and fires, a line each."""
    return [
        f"Fires to finish: {spread(said.fires_to_finish, lambda v: f'{v:g}')}",
        f"Hottest reading: {spread(said.peak_c, m.degrees)}",
        f"Days later than first told: {spread(said.slip_d, degree_figure)}",
        f"Fires above their range: {share(said.above_range)}",
    ]


def band_line(one: ClimbBand, m: Measures) -> str:
    """One band of climbs."""
    opened = f", {one.opened} of them open" if one.opened else ""
    return f"{band_name(one, m)}: {share(one.cracked)}{opened}"


def band_name(one: ClimbBand, m: Measures) -> str:
    """From where to where a band goes."""
    scale = 1.0 if m.unit == "C" else 1.8
    low = f"{one.from_k_h * scale:.0f}"
    unit = f"°{m.unit} an hour"
    if one.below_k_h is None:
        return f"{low} {unit} or more"
    high = f"{one.below_k_h * scale:.0f}"
    return f"under {high} {unit}" if one.from_k_h == 0 else f"{low} to under {high} {unit}"


def spread(one: Spread, shown: Callable[[float], str]) -> str:
    """Lowest to highest with the middle; of too few ovens only these."""
    if one.low is None or one.middle is None or one.high is None:
        return "no oven is done yet"
    low, high = shown(one.low), shown(one.high)
    ends = low if low == high else f"{low} to {high}"
    if not one.tells:
        return f"{ends} in {counted(one.of, 'oven')}, {TOO_FEW}"
    return f"half at most {shown(one.middle)}, all {ends}, in {one.of} ovens"


def share(one: Share) -> str:
    """A count of a count, and what it says of the share."""
    count = f"{one.count} of {one.of}"
    if not one.of:
        return "none to count"
    if not one.tells:
        return f"{count}, {TOO_FEW}"
    return f"{count} ({one.low:.0%} to {one.high:.0%})"


def _ovens(said: Tally) -> str:
    return f"{counted(said.ovens, 'oven').capitalize()}, {said.finished or 'none'} done."


def _left_out(said: Tally) -> str | None:
    parts = []
    if said.unread:
        parts.append(f"{counted(said.unread, 'fire')} without readings to tell a climb")
    if said.between:
        parts.append(f"{counted(said.between, 'crack')} reported between fires")
    return f"Not in there: {' and '.join(parts)}." if parts else None


SENTENCES: Sentences = dict((says(Tally, tally),))
