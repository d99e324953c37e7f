"""Numbers and times as one reader sees them."""

import math
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from bot.wording.measures import (
    Measures,
    Unit,
    counted,
    duration,
    held,
    hours,
    kilogram,
    listed,
    thickness,
    times,
    water,
    wood,
)
from scheduling.firing.wood import piece_kg, pieces_of

NOON = datetime(2026, 6, 6, 11, 0, tzinfo=UTC)


def measures(unit: Unit = "C", zone: str = "Europe/London", now: datetime = NOON) -> Measures:
    return Measures(unit, ZoneInfo(zone), now)


# The fixed points of the scales (BIPM, SI Brochure, 9th ed., 2.3.1: t/°F = 9/5 t/°C + 32).
@pytest.mark.parametrize(("celsius", "fahrenheit"), [(0, "32"), (100, "212"), (-40, "−40")])
def test_degrees_fahrenheit_follow_the_scale(celsius: float, fahrenheit: str) -> None:
    assert measures("F").degrees(celsius) == f"{fahrenheit} °F"


def test_aims_are_told_to_the_nearest_five() -> None:
    assert measures().about_degrees(148.0) == "150 °C"
    assert measures("F").about_degrees(150.0) == "300 °F"
    assert measures().degrees(148.4) == "148 °C"


def test_a_range_is_told_once_where_both_ends_round_alike() -> None:
    assert measures().degrees_range(148, 166) == "150–165 °C"
    assert measures().degrees_range(149, 151) == "150 °C"
    assert measures().degrees_range(90, 118) == "90–115 °C"  # never above what nothing may pass
    assert measures("F").degrees_range(50, 110) == "120–230 °F"
    assert measures().degrees_range(5, math.inf) == "5 °C or more"


def test_a_difference_is_never_nothing() -> None:
    assert measures().difference(0.4) == "5 °C"
    assert measures("F").difference(20.0) == "35 °F"
    assert measures().rate(-42.0) == "40 °C an hour"


def test_times_are_the_ovens_own_also_when_the_clocks_change() -> None:
    spring = datetime(2026, 3, 28, 12, 0, tzinfo=UTC)
    shown = measures(now=spring)
    assert shown.clock(spring + timedelta(hours=1)) == "13:00"
    assert shown.clock(spring + timedelta(hours=24)) == "tomorrow at 13:00"
    assert measures(zone="Australia/Sydney").clock(NOON) == "21:00"


def test_days_near_by_have_names_and_others_dates() -> None:
    shown = measures()
    assert shown.day(date(2026, 6, 6)) == "today"
    assert shown.day(date(2026, 6, 7)) == "tomorrow"
    assert shown.on_day(date(2026, 6, 9)) == "on Tuesday"
    assert shown.on_day(date(2026, 6, 7)) == "tomorrow"
    assert shown.day(date(2026, 6, 20)) == "Sat 20 Jun"
    assert shown.day(date(2027, 1, 2)) == "Sat 2 Jan 2027"
    assert shown.on_span(date(2026, 6, 20), date(2026, 6, 22)) == "from Sat 20 Jun to Mon 22 Jun"


def test_lengths_of_time_are_told_as_people_do() -> None:
    assert duration(timedelta(seconds=20)) == "a moment"
    assert duration(timedelta(minutes=1)) == "1 minute"
    assert duration(timedelta(minutes=43)) == "45 minutes"
    assert duration(timedelta(hours=3.5)) == "3½ hours"
    assert duration(timedelta(days=3)) == "3 days"
    assert hours(1.0) == "1 hour"
    assert hours(1.5) == "1½ hours"


def test_wood_is_counted_and_weighed() -> None:
    assert wood(0.42, 30.0, 3) == "three thumb-thick sticks (about 0.4 kg)"
    assert wood(piece_kg(60.0), 60.0) == "one wrist-thick piece (about 0.6 kg)"
    assert thickness(45.0) == "two-thumbs-thick"
    assert kilogram(12.4) == "12 kg"


@settings(derandomize=True, max_examples=60)
@given(some.floats(0.05, 20.0), some.sampled_from([30.0, 45.0, 60.0]))
def test_a_count_of_pieces_hardly_passes_the_weight_asked_for(kg: float, piece_mm: float) -> None:
    count = pieces_of(kg, piece_mm)
    assert count == 1 or count * piece_kg(piece_mm) <= kg + 0.25 * piece_kg(piece_mm) + 1e-9


def test_small_numbers_are_words() -> None:
    assert counted(1, "fire") == "one fire"
    assert counted(12, "fire") == "12 fires"
    assert times(2) == "twice"
    assert listed(["a", "b", "c"]) == "a, b and c"


def test_water_is_told_as_a_range() -> None:
    assert water(12.2, 21.4) == "12–21 litres of water"
    assert water(0.1, 1.2) == "at most 1.2 litres of water"
    assert water(0.0, 0.1) == "hardly any water"


def test_a_hold_is_told_to_five_minutes() -> None:
    assert [held(h) for h in (0.0, 0.01, 0.25, 1.0, 2.66, 2.99, 4.0)] == [
        "none", "a moment", "15 min", "1 h", "2 h 40 min", "3 h", "4 h",
    ]  # fmt: skip


def test_a_moment_has_one_at_on_whatever_day() -> None:
    m = measures()
    assert m.at_clock(m.now) == f"at {m.hour(m.now)}"
    assert m.at_clock(m.now - timedelta(days=1)) == f"yesterday at {m.hour(m.now)}"
    assert m.at_clock(m.now + timedelta(days=3)).startswith("on ")


def test_how_far_a_peak_lies_outside_is_what_the_told_figures_leave() -> None:
    assert measures().beyond(200.0, 120.0, 170.0) == "30 °C"
    assert measures().beyond(69.0, 120.0, 170.0) == "51 °C"
    assert measures().beyond(150.0, 120.0, 170.0) == "0 °C"
    assert measures("F").degrees_range(230.0, 280.0) == "445–535 °F"
    assert measures("F").degrees(295.0) == "563 °F"
    assert measures("F").beyond(295.0, 230.0, 280.0) == "28 °F"
