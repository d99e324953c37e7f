"""The fires of all of a builder's clients as one calendar (RFC 5545), to open or to subscribe to.

An event's UID is that of the firing in its owner's own calendar file, and its SEQUENCE follows from
when the owner was told, so that a newer file moves the events of an older one. The same fires give
the same bytes, whoever asks and whenever: then a calendar that looks every hour is told that
nothing has changed. No owner's words, no address and no phone number stand in it.

It is written line by line here: a thousand clients have thousands of fires, and a library that
builds an object for each property takes twenty seconds for what takes a fifth of one.
"""

from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime, timedelta

from pydantic import AwareDatetime, BaseModel, ConfigDict

from bot.papers.calendar import uid

LONGEST = 75
"""Octets of a line without its end (RFC 5545 3.1)."""

_BEGINNING = datetime(2026, 1, 1, tzinfo=UTC)
_USUAL = timedelta(hours=6)
"""Length of a fire of which nothing is known but its start (own choice)."""

_HEAD = (
    "BEGIN:VCALENDAR",
    "VERSION:2.0",
    "PRODID:-//stokewatch//all fires//EN",
    "METHOD:PUBLISH",
    # A wish to look every hour; most calendars look when they like.
    "REFRESH-INTERVAL;VALUE=DURATION:PT1H",
    "X-PUBLISHED-TTL:PT1H",
)


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
    lines = [*_HEAD, f"X-WR-CALNAME:{_text(name)}"]
    for fire in sorted(fires, key=lambda one: (one.oven_id, one.firing)):
        lines += _event(fire)
    lines.append("END:VCALENDAR")
    return b"".join(_folded(line) for line in lines)


def _event(fire: FireEntry) -> Iterator[str]:
    told = fire.told_at.astimezone(UTC)
    yield "BEGIN:VEVENT"
    yield f"UID:{uid(fire.oven_id, fire.firing)}"
    yield f"SEQUENCE:{max(0, int((told - _BEGINNING) / timedelta(seconds=1)))}"
    yield f"DTSTAMP:{_instant(told)}"
    yield f"LAST-MODIFIED:{_instant(told)}"
    if fire.start is None:
        yield f"DTSTART;VALUE=DATE:{fire.day:%Y%m%d}"
        yield f"DTEND;VALUE=DATE:{fire.day + timedelta(days=1):%Y%m%d}"
    else:
        lasts = _USUAL if fire.session_h is None else timedelta(hours=fire.session_h)
        yield f"DTSTART:{_instant(fire.start)}"
        yield f"DTEND:{_instant(fire.start + lasts)}"
    yield f"SUMMARY:{_text(fire.title)}"
    yield "STATUS:CONFIRMED"
    yield "TRANSP:TRANSPARENT"
    if fire.notes:
        yield f"DESCRIPTION:{_text(fire.notes)}"
    if fire.place:
        yield f"LOCATION:{_text(fire.place)}"
    yield "END:VEVENT"


def _instant(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _text(words: str) -> str:
    """Words as a TEXT value (RFC 5545 3.3.11), in one line and without control characters."""
    plain = "".join(sign if sign.isprintable() else " " for sign in words)
    bare = " ".join(plain.split())
    return bare.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")


def _folded(line: str) -> bytes:
    """The line in pieces of at most 75 octets, never within a character (RFC 5545 3.1)."""
    left = line.encode()
    pieces: list[bytes] = []
    room = LONGEST
    while len(left) > room:
        cut = room
        while left[cut] & 0xC0 == 0x80:
            cut -= 1
        pieces.append(left[:cut])
        left = left[cut:]
        room = LONGEST - 1
    return b"\r\n ".join([*pieces, left]) + b"\r\n"
