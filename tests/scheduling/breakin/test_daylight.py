"""Sunrise and sunset against PyEphem, an independent implementation (VSOP87)."""

import math
from datetime import UTC, date, timedelta

import ephem
import pytest

from scheduling.breakin.daylight import daylight


@pytest.mark.parametrize("latitude", [-54.8, -33.9, 0.0, 35.7, 51.5, 60.4])
@pytest.mark.parametrize("month", [1, 3, 6, 9, 12])
def test_the_sun_rises_and_sets_within_two_minutes_of_ephem(latitude: float, month: int) -> None:
    day = date(2026, month, 21)
    observer = ephem.Observer()
    observer.lat, observer.lon, observer.pressure = math.radians(latitude), 0.0, 0.0
    observer.horizon = math.radians(-0.833)
    observer.date = ephem.Date(f"2026/{month}/21 12:00")
    sun = ephem.Sun()
    rise = observer.previous_rising(sun, use_center=True).datetime().replace(tzinfo=UTC)
    sets = observer.next_setting(sun, use_center=True).datetime().replace(tzinfo=UTC)
    ours = daylight(latitude, 0.0, day)
    assert abs(ours.rise - rise) < timedelta(minutes=2)
    assert abs(ours.set - sets) < timedelta(minutes=2)


def test_the_midnight_sun_and_the_polar_night_are_whole_days() -> None:
    assert daylight(78, 15, date(2026, 6, 21)).hours == pytest.approx(24, abs=1e-6)
    assert daylight(78, 15, date(2026, 12, 21)).hours == pytest.approx(0, abs=1e-6)


def test_noon_follows_the_longitude() -> None:
    east = daylight(-37, 175, date(2026, 3, 1))
    west = daylight(-37, -175, date(2026, 3, 1))
    assert (west.rise - east.rise) / timedelta(hours=1) == pytest.approx(350 / 15, abs=0.05)
