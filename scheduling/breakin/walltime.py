"""Wall-clock hours in the oven's own zone, through clock changes."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo


def instant(day: date, hour: float, zone: ZoneInfo) -> datetime:
    """The UTC instant at which clocks in ``zone`` show ``hour`` (0 to 24) on ``day``.

    An hour that a clock change skips becomes the one an hour later, as clocks then show it; of
    an hour that comes twice the first is meant.
    """
    whole, minutes = divmod(round(hour * 60), 60)
    extra, whole = divmod(whole, 24)
    local = datetime.combine(day + timedelta(days=extra), time(whole, minutes), zone)
    return local.astimezone(UTC)


def local_day(at: datetime, zone: ZoneInfo) -> date:
    """The date that the oven's owner reads at that instant."""
    return at.astimezone(zone).date()


def local_hour(at: datetime, zone: ZoneInfo) -> float:
    """The hour (0 to 24) that the oven's owner reads at that instant."""
    local = at.astimezone(zone)
    return local.hour + local.minute / 60.0 + local.second / 3600.0
