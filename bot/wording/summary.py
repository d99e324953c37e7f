"""The first page in sentences: what was planned, what was done, and where the two part."""

from collections.abc import Iterable
from datetime import date, datetime

from bot.papers.departures import Departure, What, departures
from bot.papers.record import OvenRecord, SignOrCrack
from bot.wording.departures import fire_numbers, in_a_line
from bot.wording.measures import Measures, counted, held, listed, sentence, times
from bot.wording.papers import told
from scheduling.breakin.walltime import local_day
from scheduling.journal import CrackSeen, Seen
from scheduling.remark import CrackSize

NOTHING = "Nothing is on record."


def planned(paper: OvenRecord, m: Measures) -> str:
    """The fires as they were first told, and when."""
    if not paper.days:
        return "No days have been told yet."
    first = paper.days[0]
    days, heights = [f.day for f in first.firings], [f.plateau_c for f in first.firings]
    low, high = m.about_degrees(min(heights)), m.about_degrees(max(heights))
    aims = f"for {low}" if low == high else f"for {low} at first and up to {high}"
    fires = sentence(counted(len(days), "fire"))
    anew = len(paper.days) - 1
    since = f", and laid anew {times(anew)} since" if anew else ""
    told_so = f"told on {_on(first.at, m)}{since}"
    return f"{fires}, {_from_to(days[0], days[-1])}, {aims}; {told_so}."


def done(paper: OvenRecord, m: Measures) -> tuple[str, ...]:
    """The fires that were lit, what they came to, and how it ended."""
    return tuple(
        part for part in (_lit(paper), _heat(paper, m), _wood(paper), _end(paper, m)) if part
    )


def otherwise(paper: OvenRecord, m: Measures, *, asked: bool) -> tuple[str, ...]:
    """A line a kind: what fires did on what was asked for (``asked``), or what somebody did
    otherwise than asked."""
    found: dict[What, list[tuple[int, Departure]]] = {}
    for log in paper.firings:
        for one in departures(log):
            if one.asked is asked:
                found.setdefault(one.what, []).append((log.number, one))
    lines = tuple(in_a_line(what, found[what], m) for what in What if what in found)
    return lines or (NOTHING,)


def cracks(paper: OvenRecord, m: Measures) -> str:
    """Cracks and dangers by name, and what still stands open."""
    if not paper.signs:
        return "None was reported."
    names: dict[str, list[SignOrCrack]] = {}
    for one in paper.signs:
        names.setdefault(_name(one, m), []).append(one)
    return sentence("; ".join(_many(name, of) for name, of in names.items())) + "."


def ordered(paper: OvenRecord) -> str:
    """How many orders the builder gave."""
    if not paper.orders:
        return "None was given."
    back = sum(one.back is not None for one in paper.orders)
    also = f", {counted(back, 'of them', 'of them')} taken back since" if back else ""
    return f"{sentence(counted(len(paper.orders), 'order'))} of the builder{also}."


def _lit(paper: OvenRecord) -> str:
    if not paper.firings:
        return "No fire has been lit yet."
    days = [log.lit_on for log in paper.firings]
    return f"{sentence(counted(len(days), 'fire'))} lit, {_from_to(min(days), max(days))}."


def _heat(paper: OvenRecord, m: Measures) -> str:
    # Each as it is told beside its fire, so that the sum is that of what can be read.
    read_h, clock_h = (
        sum(round(12 * log.held_h) / 12 for log in paper.firings if log.is_read is read)
        for read in (True, False)
    )
    tops = [(log.peak_c, log.number) for log in paper.firings if log.peak_c is not None]
    if not paper.firings:
        return ""
    if not tops:
        unread = "Nobody read a thermometer" if paper.has_thermometer else "No thermometer"
        return f"{unread}: by the clock they were kept up for {held(clock_h)} in all."
    peak_c, number = max(tops)
    kept = f"in range or above for {held(read_h)} in all" if read_h else "never in its range"
    unread = f", and by the clock alone for {held(clock_h)}" if clock_h else ""
    return f"Hottest crown {m.degrees(peak_c)}, in fire {number}; {kept}{unread}."


def _wood(paper: OvenRecord) -> str:
    weights = [log.all_kg for log in paper.firings if log.all_kg is not None]
    if not weights:
        return ""
    return f"{sum(weights):.2f} kg of wood, the first layings as they were asked for."


def _end(paper: OvenRecord, m: Measures) -> str:
    if paper.finished_at is None:
        return "Not finished."
    over = local_day(paper.finished_at, m.zone)
    clear = any(isinstance(one, Seen) and one.what == "soot_clear" for one in paper.record.facts)
    soot = ", the soot seen burnt off" if clear else ""
    return f"Finished on {_day(over)}{soot}{than_first_told(paper, m)}."


def than_first_told(paper: OvenRecord, m: Measures) -> str:
    """How much later or earlier it was over than was first told; "" where nothing was."""
    if not paper.days or paper.finished_at is None:
        return ""
    late = (local_day(paper.finished_at, m.zone) - paper.days[0].firings[-1].day).days
    if late == 0:
        return ", on the day that was first told"
    return f", {counted(abs(late), 'day')} {'later' if late > 0 else 'earlier'} than first told"


def _name(one: SignOrCrack, m: Measures) -> str:
    return told(one.seen, m).partition(":")[0].partition(",")[0]


def _many(name: str, of: Iterable[SignOrCrack]) -> str:
    signs = tuple(of)
    fires = sorted({one.firing for one in signs if one.firing is not None})
    where = [fire_numbers(fires)] if fires else []
    where += ["between fires"] if any(one.firing is None for one in signs) else []
    open_ = sum(one.closed is None and not _is_hairline(one) for one in signs)
    state = "" if not open_ else ", not settled yet"
    return f"{name} ({listed(where)}){state}"


def _is_hairline(one: SignOrCrack) -> bool:
    return isinstance(one.seen, CrackSeen) and one.seen.size is CrackSize.HAIRLINE


def _from_to(first: date, last: date) -> str:
    return _day(first) if first == last else f"{_short(first)} to {_day(last)}"


def _short(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b}"


def _day(day: date) -> str:
    return f"{_short(day)} {day.year}"


def _on(at: datetime, m: Measures) -> str:
    return _day(local_day(at, m.zone))
