"""Answers of the set-up, as people type them in a garden."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.conversation.set_up_days import Asked, wet_work
from bot.conversation.set_up_words import answer, plain
from scheduling.choice import About

NOW = datetime(2026, 5, 20, 18, tzinfo=ZoneInfo("Europe/London"))  # a Wednesday
METRIC = Asked("C", NOW, "Europe/London")
IMPERIAL = Asked("F", NOW.astimezone(ZoneInfo("America/Chicago")), "America/Chicago")


def read(about: About, text: str, asked: Asked = METRIC) -> str | None:
    return answer(about, text, asked)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("C", "C"),
        ("°F", "F"),
        ("celsius plz", "C"),
        ("Farenheit", "F"),
        ("celcuis", "C"),
        ("f please", "F"),
        ("both?", None),
    ],
)
def test_units(text: str, unit: str | None) -> None:
    assert read(About.UNITS, text) == unit


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("cast-dense", "cast-dense"),
        ("Brick dome in mortar", "brick-mortar"),
        ("its a brick one", "brick-mortar"),
        ("firebricks and mortar", "brick-mortar"),
        ("tile lined", "tile-lined"),
        ("cast with fibres", "cast-fibred"),
        ("Cast dome, light", "cast-light"),
        ("no idea", None),
    ],
)
def test_constructions(text: str, key: str | None) -> None:
    assert read(About.CONSTRUCTION, text) == key


def test_a_builders_own_construction_goes_by_its_name() -> None:
    asked = Asked("C", NOW, "Europe/London", {"hillside-80": "Our heavy mix"})
    assert read(About.CONSTRUCTION, "Hillside 80", asked) == "hillside-80"
    assert read(About.CONSTRUCTION, "our heavy mix", asked) == "hillside-80"


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("80 cm", "800"),
        ("80cm across", "800"),
        ("80", "800"),
        ("about 0,8 m", "800"),
        ("850mm", "850"),
        ("32 inches", "812.8"),
        ("2ft 8", "812.8"),
        ("i dont know", "unknown"),
        ("quite big", None),
    ],
)
def test_sizes(text: str, mm: str | None) -> None:
    assert read(About.SIZE, text) == mm


def test_a_bare_number_is_read_in_the_unit_in_which_it_is_plausible() -> None:
    assert read(About.SIZE, "32", IMPERIAL) == "812.8"
    assert read(About.THICKNESS, "3", IMPERIAL) == "76.2"
    assert read(About.THICKNESS, "7") == "70"
    assert read(About.THICKNESS, "75") == "75"


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("2026-05-02", ["2026-05-02"]),
        ("2 May", ["2026-05-02"]),
        ("3rd of may i think", ["2026-05-03"]),
        ("yesterday", ["2026-05-19"]),
        ("the day before yesterday", ["2026-05-18"]),
        ("we finished about 3 weeks ago", ["2026-04-29"]),
        ("a fortnight ago", ["2026-05-06"]),
        ("a month ago", ["2026-04-20"]),
        ("rendered it last saturday", ["2026-05-16"]),
        ("28/4/26", ["2026-04-28"]),
        ("5/5/2026", ["2026-05-05"]),
        ("12", []),
        ("30 feb", []),
        ("dunno", []),
    ],
)
def test_the_end_of_the_wet_work(text: str, days: list[str]) -> None:
    assert list(wet_work(plain(text), METRIC)) == days


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("4/5/2026", ["2026-05-04", "2026-04-05"]),
        ("5/6/26", ["2026-06-05", "2026-05-06"]),
        ("3.5.", ["2026-05-03", "2026-03-05"]),
        ("10 nov", ["2025-11-10", "2026-11-10"]),
        ("this saturday", ["2026-05-16", "2026-05-23"]),
        ("it will be friday", ["2026-05-15", "2026-05-22"]),
    ],
)
def test_of_two_days_that_could_be_meant_none_is_taken_for_granted(
    text: str, days: list[str]
) -> None:
    assert list(wet_work(plain(text), METRIC)) == days


def test_where_the_month_is_written_first_that_reading_comes_first() -> None:
    assert list(wet_work("4/5/2026", IMPERIAL)) == ["2026-04-05", "2026-05-04"]


@pytest.mark.parametrize(
    ("about", "text", "value"),
    [
        (About.SHELTER, "quite windy up here", "exposed"),
        (About.SECOND, "just me", "none"),
        (About.SECOND, "yes my wife", "invite"),
    ],
)
def test_choices(about: About, text: str, value: str) -> None:
    assert read(about, text) == value


@pytest.mark.parametrize(
    ("text", "asked", "highest_c"),
    [
        ("goes to 380", METRIC, "380"),
        ("550", METRIC, "550"),
        ("-50 to 550", METRIC, "550"),
        ("up to 1022F", METRIC, "550"),
        ("1022", IMPERIAL, "550"),
        ("1022 F / 550 C", IMPERIAL, "550"),
        ("dont have one", METRIC, "none"),
        ("no", METRIC, "none"),
        ("not sure", METRIC, "unknown"),
    ],
)
def test_how_high_the_thermometer_reads(text: str, asked: Asked, highest_c: str) -> None:
    assert read(About.INSTRUMENT, text, asked) == highest_c


@pytest.mark.parametrize(
    ("text", "digits"),
    [
        ("any day", "0123456"),
        ("weekends", "56"),
        ("sat and sun", "56"),
        ("Fri to Mon", "0456"),
        ("weekdays", "01234"),
        ("any day but not mondays", "123456"),
        ("every day except tue and thurs", "02456"),
        ("any day but wednesday", "013456"),
        ("all but sunday", "012345"),
        ("no mondays", "123456"),
        ("any day but preferably weekends", "0123456"),
        ("weekends but also friday", "456"),
        ("no preference", "0123456"),
        ("tuesday, wednesdays", "12"),
        ("when i feel like", None),
    ],
)
def test_days(text: str, digits: str | None) -> None:
    assert read(About.DAYS, text) == digits


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("9-18", "9-18"),
        ("9 to 6", "9-18"),
        ("from 9am till 6pm", "9-18"),
        ("8.30 - 17", "8.5-17"),
        ("7am til 10 at night", "7-22"),
        ("8 in the morning to 7 in the evening", "8-19"),
        ("10 to 4.30 in the afternoon", "10-16.5"),
        ("noon to 12 at night", "12-24"),
        ("after 2", "14-22"),
        ("until 4", "7-16"),
        ("mornings", "7-13"),
        ("any time", "7-22"),
        ("depends", None),
    ],
)
def test_hours(text: str, hours: str | None) -> None:
    assert read(About.HOURS, text) == hours


def test_all_right_is_no_second_person() -> None:
    assert answer(About.SECOND, "ok", METRIC) is None
    assert answer(About.SECOND, "yes my wife", METRIC) == "invite"
