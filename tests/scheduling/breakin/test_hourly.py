"""The wall's weather, hour by hour, swings through the day and takes what was told."""

from datetime import UTC, datetime, timedelta

import pytest

from scheduling.breakin.climate import HALF_RANGE_C, usual
from scheduling.breakin.hourly import surroundings
from scheduling.breakin.weather import Forecast, HourWeather, Source

PLACE = (52.2, -1.5)
FIRST, LAST = datetime(2026, 5, 10, 6, 30, tzinfo=UTC), datetime(2026, 5, 20, tzinfo=UTC)


def test_a_usual_day_is_warmest_in_the_afternoon_and_has_the_usual_mean() -> None:
    around = surroundings(FIRST, LAST, PLACE)
    midnight = datetime(2026, 5, 12, tzinfo=UTC)
    airs = [around.air_at(midnight + timedelta(hours=i)) for i in range(24)]
    assert airs.index(max(airs)) == 15
    assert max(airs) - min(airs) == pytest.approx(2 * HALF_RANGE_C, abs=0.3)
    assert sum(airs) / 24 == pytest.approx(usual(*PLACE, midnight.date()).mean_c, abs=0.2)


def test_far_in_the_east_it_is_warmest_at_that_places_own_afternoon() -> None:
    around = surroundings(FIRST, LAST, (-37.8, 145.0))
    midnight = datetime(2026, 5, 12, tzinfo=UTC)
    airs = [around.air_at(midnight + timedelta(hours=i)) for i in range(24)]
    assert airs.index(max(airs)) == 5  # 15:00 solar time, 9.7 hours ahead of UTC


def test_rain_that_only_might_fall_does_not_wet_the_wall() -> None:
    assert surroundings(FIRST, LAST, PLACE).rain_between(FIRST, LAST) == 0.0


def test_what_a_forecast_tells_replaces_the_usual_hour_by_hour() -> None:
    at = datetime(2026, 5, 12, 15, tzinfo=UTC)
    told = Forecast(
        source=Source.MET_NORWAY, issued_at=FIRST, fetched_at=FIRST,
        latitude=PLACE[0], longitude=PLACE[1],
        hours=(
            HourWeather(at=at, air_c=-2.0, rain_mm=3.0),
            HourWeather(at=at + timedelta(days=300), air_c=40.0),
        ),
    )  # fmt: skip
    around, plain = surroundings(FIRST, LAST, PLACE, told), surroundings(FIRST, LAST, PLACE)
    assert around.air_at(at) == -2.0
    assert around.wind_at(at) == plain.wind_at(at)
    assert around.air_at(at + timedelta(hours=1)) == plain.air_at(at + timedelta(hours=1))
    assert around.rain_between(FIRST, LAST) == pytest.approx(3.0)


def test_a_watched_mean_takes_the_place_of_the_usual_one() -> None:
    around = surroundings(FIRST, LAST, PLACE, mean_c=3.0)
    day = datetime(2026, 5, 12, tzinfo=UTC)
    assert around.mean_air_c(day, day + timedelta(days=1)) == pytest.approx(3.0, abs=0.2)


def test_the_turn_of_the_year_is_no_jump() -> None:
    eve = datetime(2026, 12, 31, 12, tzinfo=UTC)
    around = surroundings(eve, eve + timedelta(days=2), PLACE)
    steps = abs(around.air_c[1:] - around.air_c[:-1])
    assert steps.max() < 1.5
