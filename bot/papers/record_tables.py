"""The record as data: JSON of all that the paper tells, CSV of its log.

Units do not follow the reader here: °C, K/h, kilograms, hours; instants with the offset of the
oven's own clock. People are named as on the paper, never by their ids.
"""

import csv
import io
import json
import re
from collections.abc import Iterator
from datetime import datetime
from typing import Any, Final
from zoneinfo import ZoneInfo

from bot.papers.departures import departures, unasked
from bot.papers.firing_log import FiringLog
from bot.papers.record import OvenRecord
from bot.papers.rows import Row
from bot.papers.told import Telling
from bot.wording.departures import figure
from bot.wording.measures import Measures
from bot.wording.papers import advised, doubt
from scheduling.journal import CrackSeen, Written

VERSION: Final = 1
"""Of the shape of the JSON; raised when a name in it changes its meaning."""

COLUMNS: Final = (
    "fire", "at", "asked_at", "by", "crown_c", "sides_c", "hearth_c", "counts", "doubt",
    "wood_pieces", "wood_kg", "wood_asked_for", "told", "advised", "photo",
)  # fmt: skip

NUMBER: Final = re.compile(r"-?[0-9]+(\.[0-9]+)?")

RUNS_IN_A_SHEET: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""A cell that begins with one of these is a formula to a spreadsheet, the wide ones to one that is
set for wide signs (from memory): it gets a quote before."""


def record_json(paper: OvenRecord) -> str:
    """All of it as JSON text, two spaces deep."""
    t = _telling(paper)
    cured = paper.cure
    told_of: dict[str, Any] = {
        "stokewatch_record": VERSION,
        "oven": paper.oven,
        "place": paper.place,
        "builder": paper.builder or None,
        "zone": paper.record.zone,
        "as_of": _at(t, paper.as_of),
        "opened_at": _at(t, paper.opened_at),
        "finished_at": _at(t, paper.finished_at),
        "journal_entries": paper.entries,
        "tended_by": [t.who(one) for one in paper.record.tenders],
        "makeup": paper.makeup and paper.makeup.model_dump(mode="json"),
        "learnt": paper.record.learnt
        and paper.record.learnt.model_dump(mode="json", include={"ovens", "narrowed"}),
        "cure": cured
        and {
            "wet_work_ended": cured.began.isoformat(),
            "standing": cured.standing.value,
            "ready_on": cured.ready_on and cured.ready_on.isoformat(),
            "frosts": [
                {"day": one.day.isoformat(), "low_c": one.low_c, "hard": one.hard}
                for one in cured.frosts
            ],
        },
        "limits": paper.limits and _entry(t, paper.limits),
        "fires": [_fire(t, log) for log in paper.firings],
        "signs": [
            _entry(t, one.seen)
            | {"fire": one.firing, "closed": one.closed and _entry(t, one.closed)}
            for one in paper.signs
        ],
        "orders": [
            {"number": one.seq, "taken_back": one.back and _entry(t, one.back)}
            | _entry(t, one.order)
            for one in paper.orders
        ],
        "days_told": [
            {
                "at": _at(t, one.at),
                "why": one.why,
                "fires": {str(f.number): f.day.isoformat() for f in one.firings},
            }
            for one in paper.days
        ],
        "between": [_row(t, row) for row in paper.between],
        "notes": [_entry(t, one) for one in paper.notes],
        "repairs": [_entry(t, one) for one in paper.repairs],
        "withdrawn": [
            {"number": one.seq, "taken_back_at": _at(t, one.by.at)} | _entry(t, one.entry)
            for one in paper.withdrawn
        ],
    }  # fmt: skip
    return json.dumps(told_of, ensure_ascii=False, indent=2) + "\n"


def record_csv(paper: OvenRecord) -> str:
    """The log of all fires and of what lay between them, a row an instant, in order of time."""
    t = _telling(paper)
    rows: list[tuple[int | None, Row]] = []
    rows += [(log.number, row) for log in paper.firings for row in log.rows]
    rows += [(None, row) for row in paper.between]
    sink = io.StringIO()
    writer = csv.writer(sink, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for number, row in sorted(rows, key=lambda one: one[1].at):
        writer.writerow([harmless(cell) for cell in _cells(t, number, row)])
    return sink.getvalue()


def _telling(paper: OvenRecord) -> Telling:
    measures = Measures("C", ZoneInfo(paper.record.zone), paper.as_of)
    return Telling(paper, measures, 0.0)


def _cells(t: Telling, number: int | None, row: Row) -> Iterator[str]:
    reading, wood = row.reading, row.wood
    yield "" if number is None else str(number)
    yield _at(t, row.at) or ""
    yield _at(t, row.asked_at) or ""
    yield t.who(row.by) if row.by else ""
    yield _figure(reading.top_c if reading else None)
    yield " ".join(f"{one:.1f}" for one in reading.sides_c) if reading else ""
    yield _figure(reading.hearth_c if reading else None)
    yield "" if reading is None else "yes" if reading.believed else "no"
    yield doubt(reading) if reading else ""
    yield "" if wood is None or wood.pieces is None else str(wood.pieces)
    yield "" if wood is None or wood.kg is None else f"{wood.kg:.2f}"
    yield "" if wood is None else "yes" if wood.advised else "no"
    yield "; ".join(t.told(one) for one in row.told)
    yield advised(row.advised) if row.advised else ""
    yield " ".join(one.photo for one in row.told if isinstance(one, CrackSeen) and one.photo)


def harmless(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula."""
    is_number = NUMBER.fullmatch(cell) is not None
    return f"'{cell}" if cell.startswith(RUNS_IN_A_SHEET) and not is_number else cell


def _figure(celsius: float | None) -> str:
    return "" if celsius is None else f"{celsius:.1f}"


def _at(t: Telling, instant: datetime | None) -> str | None:
    if instant is None:
        return None
    return instant.astimezone(t.m.zone).isoformat(timespec="seconds")


def _fire(t: Telling, log: FiringLog) -> dict[str, Any]:
    weather = log.weather
    return {
        "number": log.number,
        "lit_at": _at(t, log.session.lit_at),
        "against_advice": log.session.too_early,
        "promised_for": log.promised and log.promised.isoformat(),
        "aim": log.aim and log.aim.model_dump(mode="json"),
        "peak_c": log.peak_c,
        "held_h": round(log.held_h, 2),
        "held_was_read": log.is_read,
        "departures": [
            {"what": one.what.value, "as_asked": one.asked, "told": figure(one, t.m)}
            for one in departures(log)
        ],
        "unanswered": [[_at(t, begin), _at(t, end)] for begin, end in log.silences],
        "steepest": log.climb
        and {
            "k_h": round(log.climb.k_h, 1),
            "limit_k_h": log.climb.limit_k_h,
            "from": _at(t, log.climb.start),
            "to": _at(t, log.climb.end),
        },
        "wood_kg": log.wood_kg,
        "wood_pieces": log.pieces,
        "charges_not_asked_for": len(unasked(log)),
        "readings_asked_for": log.asked,
        "door_on_at": _at(t, log.door_on_at),
        "ended": log.ended and _entry(t, log.ended),
        "weather": {
            "source": weather.source and weather.source.value,
            "credit": weather.attribution,
            "issued_at": _at(t, weather.issued_at),
            "air_c": [weather.air_low_c, weather.air_high_c],
            "wind_ms": weather.wind_ms,
            "gust_ms": weather.gust_ms,
            "rain_mm": weather.rain_mm,
            "told": [sky.value for sky in weather.said],
        },
        "log": [_row(t, row) for row in log.rows],
    }


def _row(t: Telling, row: Row) -> dict[str, Any]:
    """A row without what it does not have."""
    parts = {
        "at": _at(t, row.at),
        "asked_at": _at(t, row.asked_at),
        "by": t.who(row.by) if row.by else None,
        "reading": row.reading and _entry(t, row.reading, short=True),
        "wood": row.wood and _entry(t, row.wood, short=True),
        "told": [_entry(t, one, short=True) for one in row.told] or None,
        "advised": row.advised and _entry(t, row.advised, short=True),
    }
    return {name: part for name, part in parts.items() if part is not None}


def _entry(t: Telling, entry: Written, *, short: bool = False) -> dict[str, Any]:
    """An entry of the journal with its person named; ``short`` leaves out when and who."""
    dumped = entry.model_dump(mode="json", exclude={"key", "v", "at", "by"}, exclude_none=True)
    if short:
        return dumped
    return {"at": _at(t, entry.at), "by": t.who(entry.by)} | dumped


__all__ = ["COLUMNS", "VERSION", "harmless", "record_csv", "record_json"]
