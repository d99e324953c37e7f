"""Invented weather."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from bot.rehearsal.air import KINDS, invented_skies, vapour_pressure_pa

START = datetime(2026, 5, 1, tzinfo=UTC)


@pytest.mark.parametrize("kind", KINDS)
def test_weather_is_what_it_is_called(kind: str) -> None:
    sky = invented_skies(kind, np.random.default_rng(1), START, 60)
    share, _, wind = KINDS[kind]
    assert float(np.mean(sky.rain_mm_h > 0)) == pytest.approx(share, abs=0.02)
    assert float(np.median(sky.wind_ms)) == pytest.approx(wind, rel=0.25)


def test_the_same_instant_has_the_same_weather_and_the_ends_go_on() -> None:
    sky = invented_skies("showery", np.random.default_rng(2), START, 5)
    when = START + timedelta(hours=31)
    assert sky.at(when) == sky.at(when)
    assert sky.at(START + timedelta(days=40)).wind_ms == float(sky.wind_ms[-1])
    assert 300 < vapour_pressure_pa(sky.at(when)) < 3000
