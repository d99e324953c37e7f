"""Makes pictures and papers at the moment of sending, from the data that a message carries."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

from pydantic import AwareDatetime, BaseModel, ConfigDict, ValidationError

from bot.papers.calendar import CalendarEntry, calendar_file
from bot.pictures.painter import paint
from scheduling.meaning import PlanLine

_BEGINNING = datetime(2026, 1, 1, tzinfo=UTC)


class _Days(BaseModel):
    """Data of a ``calendar``: firing days, and the oven they belong to."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    lines: tuple[PlanLine, ...]
    at: AwareDatetime
    oven_id: str
    oven: str = ""
    unit: str = "C"
    zone: str = "UTC"


def make(kind: str, data: Mapping[str, object]) -> bytes:
    """The content of an attachment. Raises ValueError for a kind or data not known here."""
    if kind != "calendar":
        return paint(kind, data)
    try:
        days = _Days.model_validate(data)
    except ValidationError as error:
        raise ValueError(f"the calendar cannot be made: {error}") from error
    return _calendar(days)


def _calendar(days: _Days) -> bytes:
    entries = [
        CalendarEntry(
            firing=line.number,
            start=line.start,
            finish=line.start + timedelta(hours=line.session_h),
            title=f"Oven: fire {line.number}",
            place="",
        )
        for line in days.lines
        if line.start is not None
    ]
    # Minutes grow from one file to the next, which is all that a sequence has to do.
    sequence = int((days.at - _BEGINNING) / timedelta(minutes=1))
    return calendar_file(days.oven_id, days.oven or "Oven", entries, max(0, sequence), days.at)
