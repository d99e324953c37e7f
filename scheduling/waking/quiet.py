"""Quiet hours: when a calm message may be read."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from scheduling.outcome import Urgency
from scheduling.ports import Person


def not_before(urgency: Urgency, reader: Person, now: datetime) -> datetime:
    """The earliest instant (UTC) at which ``reader`` may be written to.

    Only calm messages wait. Quiet hours are wall-clock hours in the reader's own zone, and may
    reach over midnight; where the clocks change, the hour on the wall counts.
    """
    if urgency is not Urgency.CALM or reader.quiet_from is None or reader.quiet_until is None:
        return now
    local = now.astimezone(ZoneInfo(reader.zone))
    hour = local.hour + local.minute / 60 + local.second / 3600
    start, end = reader.quiet_from, reader.quiet_until
    quiet = start <= hour < end if start <= end else hour >= start or hour < end
    if not quiet:
        return now
    day = local.date() + timedelta(days=1 if hour >= end else 0)
    minutes = round(end * 60)
    opens = datetime(
        day.year, day.month, day.day, minutes // 60 % 24, minutes % 60, tzinfo=local.tzinfo
    )
    return max(now, opens.astimezone(UTC))
