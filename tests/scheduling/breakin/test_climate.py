"""The coarse table against well-known monthly means of cities (from memory, rounded)."""

from datetime import date

import pytest

from scheduling.breakin.climate import usual

CITIES = {
    "London": (51.5, 0.0, 5, 18),
    "Dublin": (53.3, -6.3, 5, 15.5),
    "Berlin": (52.5, 13.4, 1, 19),
    "Lisbon": (38.7, -9.1, 11.5, 23),
    "Madrid": (40.4, -3.7, 6, 25.5),
    "Rome": (41.9, 12.5, 8, 25),
    "New York": (40.7, -74.0, 0.5, 25),
    "Vancouver": (49.3, -123.0, 4, 18),
    "Tokyo": (35.7, 139.7, 5.5, 26),
    "Singapore": (1.3, 103.8, 26.5, 28),
    "Mumbai": (19.0, 72.8, 24, 27.5),
    "Sydney": (-33.9, 151.2, 23, 12.5),
    "Wellington": (-41.3, 174.8, 17, 9),
    "Cape Town": (-33.9, 18.4, 21, 12.5),
}


@pytest.mark.parametrize("city", CITIES)
def test_monthly_means_are_within_six_kelvin_of_known_cities(city: str) -> None:
    latitude, longitude, january_c, july_c = CITIES[city]
    assert usual(latitude, longitude, date(2026, 1, 15)).mean_c == pytest.approx(january_c, abs=6)
    assert usual(latitude, longitude, date(2026, 7, 16)).mean_c == pytest.approx(july_c, abs=6)


def test_half_of_the_cities_are_within_three_kelvin() -> None:
    off = [
        abs(usual(la, lo, date(2026, month, 15)).mean_c - known)
        for la, lo, january, july in CITIES.values()
        for month, known in ((1, january), (7, july))
    ]
    assert sorted(off)[len(off) // 2] <= 3.0


def test_southern_summers_are_in_january() -> None:
    for latitude in (-20, -30, -40, -50):
        summer = usual(latitude, 150, date(2026, 1, 20)).mean_c
        assert summer > usual(latitude, 150, date(2026, 7, 20)).mean_c + 4


def test_the_year_joins_up_at_its_end() -> None:
    before, after = (usual(51, 0, day) for day in (date(2025, 12, 31), date(2026, 1, 1)))
    assert before.mean_c == pytest.approx(after.mean_c, abs=0.2)


def test_every_place_and_day_has_plausible_weather() -> None:
    for latitude in range(-90, 91, 15):
        for longitude in range(-180, 181, 45):
            for month in range(1, 13):
                day = usual(latitude, longitude, date(2026, month, 15))
                assert -45 < day.low_c < day.mean_c < day.high_c < 40
                assert 0 < day.wet_probability < 0.7
                assert 1 < day.wind_ms < 12


def test_a_place_off_the_globe_is_refused() -> None:
    with pytest.raises(ValueError, match="globe"):
        usual(91, 0, date(2026, 1, 1))
