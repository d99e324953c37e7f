"""Invented weather."""

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from bot.rehearsal.air import CLIMATES, HourlySky, made_up_sky, vapour_pressure_pa
from scheduling.oven.preset import shipped

MAKE_UP = shipped().make_up(
    "cast-dense", name="Test", inner_diameter_mm=800, wet_work_ended=date(2026, 5, 1)
)


def a_sky(kind: str, days: int = 60) -> HourlySky:
    return made_up_sky(kind, MAKE_UP, np.random.default_rng(2), date(2026, 5, 1), days)


def test_weather_is_what_it_is_called() -> None:
    skies = {kind: a_sky(kind) for kind in CLIMATES}
    rain = {kind: sum(hour.rain_mm_h for hour in sky.hours) for kind, sky in skies.items()}
    wind = {kind: np.mean([hour.wind_ms for hour in sky.hours]) for kind, sky in skies.items()}
    assert rain["dry"] < 0.2 * rain["showery"]
    assert wind["gale"] > 1.5 * wind["showery"] > 1.5 * wind["dry"]


def test_the_same_instant_has_the_same_weather_and_the_ends_go_on() -> None:
    sky = a_sky("showery", 5)
    when = datetime(2026, 5, 2, 7, tzinfo=UTC)
    assert sky.at(when) == sky.at(when)
    assert sky.at(when + timedelta(days=40)).wind_ms == sky.hours[-1].wind_ms
    assert 300 < vapour_pressure_pa(sky.at(when)) < 3000


def test_weather_without_an_hour_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one hour"):
        HourlySky(())
