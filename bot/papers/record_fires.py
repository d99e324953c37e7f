"""The part of the record that tells each fire: picture, planned and done, weather, and its log."""

from collections.abc import Sequence
from datetime import timedelta
from string import ascii_uppercase

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Spacer

from bot.papers.chart import FiringChart
from bot.papers.firing_log import FiringLog, Row
from bot.papers.sheets import heading, paragraph, table
from bot.papers.told import Telling
from bot.wording.measures import counted, times
from bot.wording.papers import ENDED, SKIES, SOURCES, advised, charge, doubt, told
from scheduling.firing.session import crown_c

ROOM = 330.0
"""A fire begins on a new page unless its head, picture and comparison fit (points)."""

Compared = tuple[str, str, str, bool]
"""What, as planned, as it went, and whether it lies outside of what was planned."""


def fire(t: Telling, log: FiringLog) -> list[Flowable]:
    """One fire, from its heading to the last row of its log."""
    planned = "" if log.aim is None else f", fire {log.aim.number} of the plan"
    parts: list[Flowable] = [
        CondPageBreak(ROOM),
        paragraph(f"Fire {log.number}: {t.day(log.lit_on)}{planned}", "head"),
        FiringChart(log, t.m, t.wide),
        Spacer(0, 4),
    ]
    compared = comparison(t, log)
    shares = [t.wide * share for share in (0.20, 0.32, 0.48)]
    off = [index for index, one in enumerate(compared) if one[3]]
    rows = [one[:3] for one in compared]
    parts.append(table(("", "As planned", "As it went"), rows, shares, marked=off))
    if off:
        parts.append(paragraph("Shaded: not as planned.", "quiet"))
    parts += heading("Log", second=True)
    parts += log_table(t, log.rows)
    parts.append(Spacer(0, 4))
    parts.append(paragraph(_asked(log), "quiet"))
    return [KeepTogether(parts[:5]), *parts[5:]]


def comparison(t: Telling, log: FiringLog) -> list[Compared]:
    """What was planned beside what was done; what cannot be told is left out."""
    return [*_day(t, log), *_heat(t, log), *_work(t, log), *_weather(t, log)]


def _day(t: Telling, log: FiringLog) -> list[Compared]:
    early = log.session.too_early
    lit = f"{t.day(log.lit_on)}, lit at {t.m.hour(log.session.lit_at)}"
    if early:
        lit += ", against the advice"
    if log.aim is None:
        return [("Day", "nothing was planned", lit, True)]
    planned = t.day(log.promised) if log.promised is not None else "no day told"
    off = early or (log.promised is not None and log.promised != log.lit_on)
    return [("Day", planned, lit, off)]


def _heat(t: Telling, log: FiringLog) -> list[Compared]:
    aim, peak_c, m = log.aim, log.peak_c, t.m
    peak = "not read" if peak_c is None else m.degrees(peak_c)
    found: list[Compared] = []
    if aim is None:
        found.append(("Peak of the crown", "", peak, False))
    else:
        if peak_c is not None and peak_c > aim.high_c:
            peak += f", {m.shown(peak_c) - m.shown(aim.high_c):.0f} °{m.unit} above the range"
        elif peak_c is not None and peak_c < aim.low_c:
            peak += f", {m.shown(aim.low_c) - m.shown(peak_c):.0f} °{m.unit} below the range"
        off = peak_c is not None and not aim.low_c <= peak_c <= aim.high_c
        planned = f"{m.degrees(aim.plateau_c)}, range {m.degrees_range(aim.low_c, aim.high_c)}"
        found.append(("Peak of the crown", planned, peak, off))
        short = log.ended is not None and log.held_h < aim.hold_h - 0.25
        found.append(
            ("Time in the range", f"{aim.hold_h:.1f} h", f"{log.held_h:.1f} h or above it", short)
        )
    if log.climb is not None:
        climb = log.climb
        found.append(
            (
                "Steepest climb",
                f"{t.rate(climb.limit_k_h)} at most at that heat",
                f"{t.rate(climb.k_h)}, {m.hour(climb.start)} to {m.hour(climb.end)}",
                climb.k_h > climb.limit_k_h + 0.5,
            )
        )
    return found


def _work(t: Telling, log: FiringLog) -> list[Compared]:
    aim, session = log.aim, log.session
    burnt = charge(log.pieces, log.wood_kg) if session.stokes else "none told"
    burnt += f" in {counted(len(session.stokes), 'charge')}" if session.stokes else ""
    if log.unasked:
        burnt += f", {counted(log.unasked, 'charge')} not asked for"
    if aim is not None:
        burnt += ", besides the first laying"
    planned = "" if aim is None else f"{aim.wood_kg:.1f} kg, {aim.lay_kg:.1f} kg of it first laid"
    found: list[Compared] = [("Wood", planned, burnt, log.unasked > 0)]
    if log.ended is not None:
        hours = (log.ended.at - session.lit_at) / timedelta(hours=1)
        window = "" if aim is None else f"about {aim.session_h:.1f} h"
        ended = f"after {hours:.1f} h: {ENDED[log.ended.why]}"
        found.append(("End", window, ended, log.ended.why not in ("held", "time")))
    if log.door_on_at is not None:
        found.append(("Door on", "", t.at(log.door_on_at), False))
    doubtful = [one for one in session.readings if not one.believed]
    if doubtful:
        why = "; ".join(dict.fromkeys(doubt(one) for one in doubtful))
        counts = f"{len(doubtful)} of {len(session.readings)} do not count: {why}"
        found.append(("Readings", "", counts, True))
    return found


def _weather(t: Telling, log: FiringLog) -> list[Compared]:
    one, m = log.weather, t.m
    parts: list[str] = []
    if one.air_low_c is not None and one.air_high_c is not None:
        parts.append(f"air {t.figure(one.air_low_c)} to {m.degrees(one.air_high_c)}")
    if one.wind_ms is not None:
        gust = "" if one.gust_ms is None else f", gusts {one.gust_ms:.0f}"
        parts.append(f"wind to {one.wind_ms:.0f} m/s{gust}")
    if one.rain_mm is not None:
        parts.append(f"rain {one.rain_mm:.1f} mm")
    said = ", ".join(SKIES[sky] for sky in one.said)
    if not parts and not said:
        return []
    foretold = ""
    if one.source is not None and one.issued_at is not None:
        credit = one.attribution or SOURCES[one.source]
        foretold = f"{'; '.join(parts)} ({credit}, {t.at(one.issued_at)})"
    went = f"told: {said}" if said else "nothing told"
    return [("Weather, as forecast", foretold, went, False)]


def _asked(log: FiringLog) -> str:
    """What the log leaves out."""
    asked = times(log.asked) if log.asked else "never"
    return f"A reading was asked for {asked}; only what had to be asked again has a row."


def log_table(t: Telling, rows: Sequence[Row], *, dated: bool = False) -> list[Flowable]:
    """Rows of readings, wood, what was told, and what was then advised.

    Where several people spoke each has a letter, told under the table. ``dated``: the first row
    has its date as well.
    """
    people = list(dict.fromkeys(row.by for row in rows if row.by))
    letters = dict(zip(people, ascii_uppercase, strict=False)) if len(people) > 1 else {}
    hearth = any(row.reading is not None and row.reading.hearth_c is not None for row in rows)
    unit = f"°{t.m.unit}"
    heads = ["Time", f"Crown {unit}", f"Sides {unit}", "Told or done", "Advised"]
    shares = [0.085, 0.105, 0.12, 0.345, 0.345]
    if hearth:
        heads.insert(3, f"Hearth {unit}")
        shares[3:] = [0.105, 0.28, 0.305]
    if letters:
        heads.append("By")
        shares[-2:] = [shares[-2] - 0.025, shares[-1] - 0.02, 0.045]
    doubtful = [i for i, r in enumerate(rows) if r.reading is not None and not r.reading.believed]
    cells = []
    last = None if dated or not rows else rows[0].at.astimezone(t.m.zone).date()
    for row in rows:
        day = row.at.astimezone(t.m.zone).date()
        clock = t.m.hour(row.at) if day == last else f"{day.day} {day:%b}, {t.m.hour(row.at)}"
        cells.append(
            [clock, *_cells(t, row, hearth), *([letters.get(row.by, "")] if letters else [])]
        )
        last = day
    right = (1, 2, 3) if hearth else (1, 2)
    parts: list[Flowable] = [
        table(heads, cells, [t.wide * share for share in shares], right=right, marked=doubtful)
    ]
    key = [f"{letter}: {t.who(person)}" for person, letter in letters.items()]
    if any(row.reading is not None and row.reading.approximate for row in rows):
        key.append("ca: told as rough")
    if key:
        parts.append(paragraph("; ".join(key) + ".", "quiet"))
    return parts


def _cells(t: Telling, row: Row, hearth: bool) -> list[str]:
    """A row but for its time: crown, sides, hearth where any is told, what was done, the advice."""
    reading = row.reading
    done = [told(one, t.m) for one in row.told]
    if row.wood is not None:
        unasked = "" if row.wood.advised else ", not asked for"
        done.append(f"{charge(row.wood.pieces, row.wood.kg)} put on{unasked}")
    crown = sides = floor = ""
    if reading is not None:
        about = "ca " if reading.approximate else ""
        crown = about + t.figure(reading.top_c) if reading.top_c is not None else ""
        sides = ", ".join(t.figure(one) for one in reading.sides_c)
        floor = t.figure(reading.hearth_c)
        if not reading.believed:
            done.append(f"not used: {doubt(reading)}")
        elif reading.top_c is None and crown_c(reading) is not None:
            done.append("crown taken from the sides")
    advice = "" if row.advised is None else advised(row.advised)
    return [crown, sides, *([floor] if hearth else []), ", ".join(done), advice]
