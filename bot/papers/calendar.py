"""Firing days as a calendar file (RFC 5545).

An event's UID comes from the oven and the firing's number and never changes, and SEQUENCE grows
with every sending, so that importing a newer file moves the events of an older one. A firing
that is off is sent once more as cancelled.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from uuid import UUID, uuid5

from icalendar import Alarm, Calendar, Event

_NAMESPACE = UUID("7d0cf0a2-6a0c-4f0e-9f0e-3d2a5b7f1c64")


@dataclass(frozen=True, slots=True)
class CalendarEntry:
    """One firing in the calendar. The words come from ``bot.wording``, ready to be read."""

    firing: int
    start: datetime
    finish: datetime
    title: str
    notes: str = ""
    place: str = ""
    remind: timedelta | None = timedelta(hours=14)
    """How long before the start the owner's calendar reminds; the evening before a morning."""
    cancelled: bool = False


def calendar_file(
    oven_id: str, name: str, entries: Sequence[CalendarEntry], sequence: int, now: datetime
) -> bytes:
    """The file's bytes. ``sequence`` must grow from one file of an oven to the next.

    Instants are written in UTC, so that a travelling owner's calendar shows them right. Raises
    ValueError for an entry that ends before it starts, or two of one firing.
    """
    numbers = [entry.firing for entry in entries]
    if len(set(numbers)) != len(numbers):
        raise ValueError("a firing stands in the calendar twice")
    calendar = Calendar()
    calendar.add("prodid", "-//stokewatch//firing days//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    # A property that the library does not know is not escaped by it.
    calendar.add("x-wr-calname", " ".join(name.split()))
    for entry in sorted(entries, key=lambda one: one.firing):
        calendar.add_component(_event(oven_id, entry, sequence, now))
    return bytes(calendar.to_ical())


def uid(oven_id: str, firing: int) -> str:
    """The UID of an oven's firing: the same in every file, and telling nothing of the owner."""
    return f"{uuid5(_NAMESPACE, f'{oven_id}/{firing}')}@stokewatch"


def _event(oven_id: str, entry: CalendarEntry, sequence: int, now: datetime) -> Event:
    if entry.finish <= entry.start:
        raise ValueError(f"firing {entry.firing} ends before it starts")
    event = Event()
    event.add("uid", uid(oven_id, entry.firing))
    event.add("sequence", sequence)
    event.add("dtstamp", now.astimezone(UTC))
    event.add("last-modified", now.astimezone(UTC))
    event.add("dtstart", entry.start.astimezone(UTC))
    event.add("dtend", entry.finish.astimezone(UTC))
    event.add("summary", entry.title)
    event.add("status", "CANCELLED" if entry.cancelled else "CONFIRMED")
    if entry.notes:
        event.add("description", entry.notes)
    if entry.place:
        event.add("location", entry.place)
    if entry.remind is not None and not entry.cancelled:
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", entry.title)
        alarm.add("trigger", -entry.remind)
        event.add_component(alarm)
    return event
