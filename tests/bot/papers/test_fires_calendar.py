"""The calendar of all fires holds to RFC 5545, and tells the same fires in the same bytes."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

from icalendar import Calendar

from bot.papers.calendar import uid
from bot.papers.fires_calendar import FireEntry, fires_calendar

NINE = datetime(2026, 5, 16, 9, 0, tzinfo=UTC)


def events(content: bytes) -> list[Any]:
    return list(Calendar.from_ical(content).walk("VEVENT"))


def fire(oven: str = "o1", firing: int = 1, **known: object) -> FireEntry:
    values: dict[str, object] = {
        "oven_id": oven, "firing": firing, "day": NINE.date(), "start": NINE, "session_h": 5.5,
        "title": "Rosa: fire 1, about 150 °C", "notes": "About 5½ hours.", "place": "Kew",
        "told_at": NINE - timedelta(days=2),
    }  # fmt: skip
    return FireEntry.model_validate(values | known)


def test_an_event_is_the_same_as_in_its_owners_own_file() -> None:
    (event,) = events(fires_calendar("All fires", [fire()]))
    assert str(event["uid"]) == uid("o1", 1)
    assert event["dtstart"].dt == NINE
    assert event["dtend"].dt == NINE + timedelta(hours=5.5)
    assert (str(event["summary"]), str(event["location"])) == ("Rosa: fire 1, about 150 °C", "Kew")


def test_a_fire_whose_hour_is_not_known_takes_its_day() -> None:
    (event,) = events(fires_calendar("A", [fire(start=None)]))
    assert event["dtstart"].dt == date(2026, 5, 16)
    assert event["dtend"].dt == date(2026, 5, 17)


def test_the_same_fires_are_the_same_bytes_in_whatever_order() -> None:
    fires = [fire("o2"), fire("o1", 2), fire("o1", 1)]
    assert fires_calendar("A", fires) == fires_calendar("A", fires[::-1])


def test_a_fire_that_was_told_anew_moves_the_event_of_before() -> None:
    moved = fire(told_at=NINE, start=NINE + timedelta(days=1))
    (old,) = events(fires_calendar("A", [fire()]))
    (new,) = events(fires_calendar("A", [moved]))
    assert old["uid"] == new["uid"]
    assert new["sequence"] > old["sequence"]


def test_what_people_typed_cannot_begin_a_line_of_its_own() -> None:
    nasty = fire(title="Rosa\r\nATTENDEE:mailto:x@example.org", place="Kew\nX-EVIL:1")
    lines = fires_calendar("All\r\nX-EVIL:1", [nasty]).decode().splitlines()
    assert not [one for one in lines if one.startswith(("ATTENDEE", "X-EVIL"))]


def test_lines_are_no_longer_than_the_standard_has_them() -> None:
    long = fire(title="ß" * 300, notes="ü" * 500)
    content = fires_calendar("A", [long])
    assert all(len(line) <= 75 for line in content.split(b"\r\n"))


def test_without_any_fire_it_is_still_a_calendar() -> None:
    calendar = Calendar.from_ical(fires_calendar("All fires", []))
    assert str(calendar["x-wr-calname"]) == "All fires"
    assert calendar.walk("VEVENT") == []
