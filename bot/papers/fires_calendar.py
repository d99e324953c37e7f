"""The fires of all of a builder's clients as one calendar (RFC 5545), to open or to subscribe to.

An event's UID is that of the firing in its owner's own calendar file, and its SEQUENCE follows from
when the owner was told, so that a newer file moves the events of an older one. The same fires give
the same bytes, whoever asks and whenever: then a calendar that looks every hour is told that
nothing has changed. No owner's words, no address and no phone number stand in it.
"""

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta

from icalendar import Calendar, Event
from pydantic import AwareDatetime, BaseModel, ConfigDict

from bot.papers.calendar import uid

ASK_AGAIN = timedelta(hours=1)
"""How often a calendar that subscribes should look (a wish: most look when they like)."""

_BEGINNING = datetime(2026, 1, 1, tzinfo=UTC)
_USUAL_H = 6.0
"""Length of a fire of which nothing is known but its start (own choice)."""


class FireEntry(BaseModel):
    """One fire. The words come from ``bot.wording``; without ``start`` it takes the whole day."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    oven_id: str
    firing: int
    day: date
    start: AwareDatetime | None = None
    session_h: float | None = None
    title: str
    notes: str = ""
    place: str = ""
    told_at: AwareDatetime


def fires_calendar(name: str, fires: Sequence[FireEntry]) -> bytes:
    """The calendar's bytes, its events by oven and firing. ``name`` is what it is called."""
    calendar = Calendar()
    calendar.add("prodid", "-//stokewatch//all fires//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("refresh-interval", ASK_AGAIN, parameters={"value": "DURATION"})
    # Properties that the library does not know are not escaped by it.
    calendar.add("x-published-ttl", "PT1H")
    calendar.add("x-wr-calname", " ".join(name.split()))
    for fire in sorted(fires, key=lambda one: (one.oven_id, one.firing)):
        calendar.add_component(_event(fire))
    return bytes(calendar.to_ical())


def _event(fire: FireEntry) -> Event:
    told = fire.told_at.astimezone(UTC)
    event = Event()
    event.add("uid", uid(fire.oven_id, fire.firing))
    event.add("sequence", max(0, int((told - _BEGINNING) / timedelta(seconds=1))))
    event.add("dtstamp", told)
    event.add("last-modified", told)
    if fire.start is None:
        event.add("dtstart", fire.day)
        event.add("dtend", fire.day + timedelta(days=1))
    else:
        start = fire.start.astimezone(UTC)
        event.add("dtstart", start)
        event.add("dtend", start + timedelta(hours=fire.session_h or _USUAL_H))
    event.add("summary", fire.title)
    event.add("status", "CONFIRMED")
    event.add("transp", "TRANSPARENT")
    if fire.notes:
        event.add("description", fire.notes)
    if fire.place:
        event.add("location", fire.place)
    return event
