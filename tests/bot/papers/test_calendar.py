"""The calendar file, read back by the icalendar library."""

from datetime import UTC, datetime, timedelta

import pytest
from icalendar import Calendar

from bot.papers.calendar import CalendarEntry, calendar_file

NOW = datetime(2026, 5, 4, 12, tzinfo=UTC)


def entry(firing: int = 1, day: int = 6, cancelled: bool = False) -> CalendarEntry:
    start = datetime(2026, 5, day, 7, tzinfo=UTC)
    return CalendarEntry(
        firing, start, start + timedelta(hours=5), f"Firing {firing}, about 150 °C; dry, calm",
        "Line one\nLine two", "Garden", cancelled=cancelled,
    )  # fmt: skip


def events(body: bytes) -> list[dict[str, object]]:
    return [dict(event) for event in Calendar.from_ical(body).walk("VEVENT")]


def test_a_moved_firing_keeps_its_uid_and_gets_a_higher_sequence() -> None:
    before = events(calendar_file("oven-1", "Break-in", [entry(day=6)], 3, NOW))[0]
    after = events(calendar_file("oven-1", "Break-in", [entry(day=8)], 4, NOW))[0]
    assert before["UID"] == after["UID"]
    assert (before["SEQUENCE"], after["SEQUENCE"]) == (3, 4)
    assert before["DTSTART"] != after["DTSTART"]


def test_every_firing_of_every_oven_has_its_own_uid() -> None:
    uids = [
        event["UID"]
        for oven in ("a", "b")
        for event in events(calendar_file(oven, "x", [entry(1), entry(2)], 0, NOW))
    ]
    assert len(set(uids)) == 4


def test_special_characters_and_lines_come_back_as_they_went_in() -> None:
    event = events(calendar_file("a", "x", [entry()], 0, NOW))[0]
    assert event["SUMMARY"] == "Firing 1, about 150 °C; dry, calm"
    assert event["DESCRIPTION"] == "Line one\nLine two"


def test_a_firing_that_is_off_is_cancelled_and_does_not_remind() -> None:
    body = calendar_file("a", "x", [entry(cancelled=True)], 1, NOW)
    assert b"STATUS:CANCELLED" in body
    assert b"VALARM" not in body


def test_the_same_input_gives_the_same_bytes_with_crlf_lines() -> None:
    body = calendar_file("a", "x", [entry(2), entry(1)], 1, NOW)
    assert body == calendar_file("a", "x", [entry(1), entry(2)], 1, NOW)
    assert body.count(b"\n") == body.count(b"\r\n")
    assert all(len(line) <= 75 for line in body.split(b"\r\n"))


def test_nonsense_is_refused() -> None:
    with pytest.raises(ValueError, match="twice"):
        calendar_file("a", "x", [entry(), entry()], 0, NOW)
    upside_down = CalendarEntry(1, NOW, NOW, "x")
    with pytest.raises(ValueError, match="ends before"):
        calendar_file("a", "x", [upside_down], 0, NOW)
