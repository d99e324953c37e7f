"""Makes pictures and papers at the moment of sending, from the data that a message carries.

What draws and sets them takes two seconds to load, and is loaded when the first is made.
"""

from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from pydantic import AwareDatetime, BaseModel, ConfigDict, ValidationError

from bot.papers.calendar import CalendarEntry, calendar_file
from bot.papers.fires_calendar import FireEntry, fires_calendar
from bot.papers.gathering import GATHERED, RECORD, Gathered
from bot.wording.attached import ALL_FIRES, FIRES, SHEET, WAYS
from scheduling.breakin.walltime import instant
from scheduling.meaning import PlanLine

_BEGINNING = datetime(2026, 1, 1, tzinfo=UTC)


class _Off(BaseModel):
    """A firing that has no day any more, and the day it had."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    number: int
    day: date


class _Days(BaseModel):
    """Data of a ``calendar``: firing days by their titles, and the oven they belong to."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    lines: tuple[PlanLine, ...]
    titles: dict[int, str] = {}
    notes: dict[int, str] = {}
    """By the firing's number, in the reader's own words."""
    off: tuple[_Off, ...] = ()
    at: AwareDatetime
    oven_id: str
    oven: str = ""
    unit: str = "C"
    zone: str = "UTC"


def make(kind: str, data: Mapping[str, object]) -> bytes:
    """The content of an attachment. Raises ValueError for a kind or data not known here."""
    if kind == RECORD:
        return _record(data)
    if kind == WAYS:
        return str(data.get("text", "")).encode()
    if kind == SHEET:
        # Spreadsheets take a file without this mark for the code page of old Windows.
        return str(data.get("text", "")).encode("utf-8-sig")
    if kind == FIRES:
        return _fires(data)
    if kind != "calendar":
        from bot.pictures.painter import paint

        return paint(kind, data)
    try:
        days = _Days.model_validate(data)
    except ValidationError as error:
        raise ValueError(f"the calendar cannot be made: {error}") from error
    return _calendar(days)


class _Fires(BaseModel):
    """Data of a ``fires``: the fires of all of a builder's clients."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    fires: tuple[FireEntry, ...]


def _fires(data: Mapping[str, object]) -> bytes:
    try:
        told = _Fires.model_validate(data)
    except ValidationError as error:
        raise ValueError(f"the calendar cannot be made: {error}") from error
    return fires_calendar(ALL_FIRES, told.fires)


def _record(data: Mapping[str, object]) -> bytes:
    gathered, at = data.get(GATHERED), data.get("at")
    if not isinstance(gathered, Gathered) or not isinstance(at, str):
        raise ValueError("the record has not been gathered")
    from bot.papers.record_forms import record_as

    unit = data.get("unit")
    paper = gathered.paper(datetime.fromisoformat(at), unit if isinstance(unit, str) else None)
    return record_as(str(data.get("form", "pdf")), paper, gathered.photos)


def _calendar(days: _Days) -> bytes:
    entries = [
        CalendarEntry(
            firing=line.number,
            start=line.start,
            finish=line.start + timedelta(hours=line.session_h),
            title=days.titles.get(line.number, days.oven),
            notes=days.notes.get(line.number, ""),
        )
        for line in days.lines
        if line.start is not None
    ]
    entries += [_cancelled(one, days) for one in days.off]
    # Seconds grow from one file to the next, which is all that a sequence has to do.
    sequence = int((days.at - _BEGINNING) / timedelta(seconds=1))
    return calendar_file(days.oven_id, days.oven, entries, max(0, sequence), days.at)


def _cancelled(off: _Off, days: _Days) -> CalendarEntry:
    noon = instant(off.day, 12.0, ZoneInfo(days.zone))
    return CalendarEntry(off.number, noon, noon + timedelta(hours=1), days.oven, cancelled=True)
