"""The part of the record that tells each fire: its picture, planned and done, and its log."""

from collections.abc import Sequence
from string import ascii_uppercase

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Spacer

from bot.papers.chart import FiringChart
from bot.papers.comparison import comparison
from bot.papers.firing_log import FiringLog
from bot.papers.rows import Row
from bot.papers.sheets import heading, paragraph, table
from bot.papers.told import Telling
from bot.wording.measures import times
from bot.wording.papers import advised, charge, doubt
from scheduling.firing.session import crown_c

ROOM = 330.0
"""A fire begins on a new page unless its head, picture and comparison fit (points)."""


def fire(t: Telling, log: FiringLog) -> list[Flowable]:
    """One fire, from its heading to the last row of its log."""
    parts: list[Flowable] = [
        CondPageBreak(ROOM),
        paragraph(f"Fire {log.number}: {t.day(log.lit_on)}", "head"),
        FiringChart(log, t.m, t.wide),
        Spacer(0, 4),
    ]
    compared = comparison(t, log)
    shares = [t.wide * share for share in (0.20, 0.32, 0.48)]
    off = [index for index, one in enumerate(compared) if one.marked]
    rows = [one[:3] for one in compared]
    parts.append(table(("", "As planned", "As it went"), rows, shares, marked=off))
    if off:
        parts.append(paragraph("Shaded: otherwise than asked.", "quiet"))
    parts += heading("Log", second=True)
    parts += log_table(t, log.rows)
    parts.append(Spacer(0, 4))
    parts.append(paragraph(_asked(t, log), "quiet"))
    return [KeepTogether(parts[:5]), *parts[5:]]


def _asked(t: Telling, log: FiringLog) -> str:
    """What the log leaves out."""
    asked = times(log.asked) if log.asked else "never"
    what = "A reading was asked for" if t.paper.has_thermometer else "How it goes was asked"
    return (
        f"Asked: when that answer, wood or match was first asked for. {what} {asked}; only a "
        "question that had to be put again has a row of its own."
    )


def log_table(t: Telling, rows: Sequence[Row], *, dated: bool = False) -> list[Flowable]:
    """Rows of readings, wood, what was told, and what was then advised.

    Where several people spoke each has a letter, told under the table. ``dated``: the first row
    has its date as well.
    """
    people = list(dict.fromkeys(row.by for row in rows if row.by))
    letters = dict(zip(people, ascii_uppercase, strict=False)) if len(people) > 1 else {}
    hearth = any(row.reading is not None and row.reading.hearth_c is not None for row in rows)
    unit = f"°{t.m.unit}"
    heads = ["Time", "Asked", f"Crown {unit}", f"Sides {unit}", "Told or done", "Advised"]
    shares = [0.08, 0.075, 0.105, 0.10, 0.285, 0.355]
    if hearth:
        heads.insert(4, f"Hearth {unit}")
        shares[4:] = [0.10, 0.215, 0.325]
    if dated:
        shares[0], shares[-2] = shares[0] + 0.05, shares[-2] - 0.05
    if letters:
        heads.append("By")
        shares[-2:] = [shares[-2] - 0.025, shares[-1] - 0.02, 0.045]
    cells = []
    last = None if dated or not rows else rows[0].at.astimezone(t.m.zone).date()
    for row in rows:
        day = row.at.astimezone(t.m.zone).date()
        clock = t.m.hour(row.at) if day == last else f"{day.day} {day:%b}, {t.m.hour(row.at)}"
        cells.append(
            [
                clock,
                _asked_at(t, row),
                *_cells(t, row, hearth),
                *([letters.get(row.by, "")] if letters else []),
            ]
        )
        last = day
    right = (2, 3, 4) if hearth else (2, 3)
    parts: list[Flowable] = [table(heads, cells, [t.wide * share for share in shares], right=right)]
    key = [f"{letter}: {t.who(person)}" for person, letter in letters.items()]
    if any(row.reading is not None and row.reading.approximate for row in rows):
        key.append("ca: told as rough")
    if key:
        parts.append(paragraph("; ".join(key) + ".", "quiet"))
    return parts


def _asked_at(t: Telling, row: Row) -> str:
    """When it had been asked for, with the day where that was another."""
    if row.asked_at is None:
        return ""
    asked, told_at = (one.astimezone(t.m.zone) for one in (row.asked_at, row.at))
    day = "" if asked.date() == told_at.date() else f"{asked.day} {asked:%b}, "
    return day + t.m.hour(row.asked_at)


def _cells(t: Telling, row: Row, hearth: bool) -> list[str]:
    """A row but for its time: crown, sides, hearth where any is told, what was done, the advice."""
    reading = row.reading
    done = [t.told(one) for one in row.told]
    if row.wood is not None:
        unasked = "" if row.wood.advised else " (not asked for)"
        done.append(f"{charge(row.wood.pieces, row.wood.kg)} put on{unasked}")
    crown = sides = floor = ""
    if reading is not None:
        about = "ca " if reading.approximate else ""
        crown = about + t.figure(reading.top_c) if reading.top_c is not None else ""
        sides = ", ".join(t.figure(one) for one in reading.sides_c)
        floor = t.figure(reading.hearth_c)
        if not reading.believed:
            done.append(f"not used, it was doubted: {doubt(reading)}")
        elif reading.top_c is None and crown_c(reading) is not None:
            done.append("crown taken from the sides")
    advice = "" if row.advised is None else advised(row.advised)
    return [crown, sides, *([floor] if hearth else []), "; ".join(done), advice]
