from datetime import timedelta

import numpy as np
import pytest

from scheduling.oven.surroundings import Surroundings, outer_film_w_m2k, wind_at_wall_ms
from tests.scheduling.oven.domes import MORNING, an_oven, hours


def test_air_runs_straight_between_hours_and_is_held_at_the_ends() -> None:
    around = Surroundings(MORNING, np.array([10.0, 14.0]), np.zeros(2), np.zeros(2))
    assert around.air_at(MORNING + timedelta(minutes=15)) == pytest.approx(11.0)
    assert around.air_at(MORNING - hours(5)) == 10.0
    assert around.air_at(MORNING + hours(50)) == 14.0


def test_rain_is_what_falls_between_two_instants() -> None:
    around = Surroundings(MORNING, np.zeros(3), np.zeros(3), np.array([2.0, 0.0, 4.0]))
    assert around.rain_between(MORNING, MORNING + hours(3)) == pytest.approx(6.0)
    half = MORNING + timedelta(minutes=30)
    assert around.rain_between(half, half + hours(2)) == pytest.approx(3.0)


def test_no_rain_falls_beyond_the_end() -> None:
    around = Surroundings(MORNING, np.zeros(2), np.zeros(2), np.array([1.0, 1.0]))
    assert around.rain_between(MORNING + hours(2), MORNING + hours(90)) == 0.0


def test_a_night_is_colder_than_its_day() -> None:
    around = Surroundings.daily(10.0, 4.0, 2.0, MORNING, 2)
    air = [around.air_at(MORNING + hours(h)) for h in range(24)]
    assert min(air) == pytest.approx(4.0, abs=0.1)
    assert max(air) == pytest.approx(16.0, abs=0.1)
    assert around.air_at(MORNING + hours(21)) < around.air_at(MORNING + hours(9))


def test_the_outer_film_is_that_of_the_standard() -> None:
    """ISO 6946:2017 Annex C: 4 m/s, emissivity 0.9, 10 °C gives R_se = 0.04 m²K/W."""
    assert 1.0 / outer_film_w_m2k(4.0, 10.0) == pytest.approx(0.0406, abs=3e-4)


def test_shelter_keeps_wind_off() -> None:
    exposed = wind_at_wall_ms(an_oven(shelter="exposed"), 10.0)
    assert wind_at_wall_ms(an_oven(shelter="sheltered"), 10.0) < exposed < 10.0


@pytest.mark.parametrize(
    ("air", "rain"), [([np.nan, 1.0], [0.0, 0.0]), ([1.0, 1.0], [0.0, -1.0]), ([1.0], [0.0, 0.0])]
)
def test_holes_and_negative_rain_are_refused(air: list[float], rain: list[float]) -> None:
    with pytest.raises(ValueError, match=r"weather|rain"):
        Surroundings(MORNING, np.array(air), np.zeros(len(air)), np.array(rain))
