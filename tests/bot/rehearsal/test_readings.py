"""The thermometer in an invented hand."""

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from bot.rehearsal.air import PlainSky
from bot.rehearsal.readings import Thermometer
from bot.rehearsal.trueoven import TrueOven
from bot.rehearsal.truth import draw_truth
from scheduling.oven.infrared import band_radiance
from scheduling.oven.makeup import Instrument
from scheduling.oven.preset import shipped

START = datetime(2026, 5, 26, 12, tzinfo=UTC)


def an_oven(dome_c: float) -> TrueOven:
    make_up = shipped().make_up(
        "cast-dense", name="Test", inner_diameter_mm=800, wet_work_ended=date(2026, 5, 1)
    )
    one = TrueOven(make_up, draw_truth(make_up, np.random.default_rng(0), 0.0), PlainSky(), START)
    one.wall.surface[:] = dome_c
    one.hearth.surface = dome_c
    return one


def shown(dome_c: float, instrument: Instrument, count: int = 200) -> list[float]:
    oven = an_oven(dome_c)
    thermometer = Thermometer(instrument, np.random.default_rng(5))
    thermometer.scale = 1.0
    seen = [thermometer.show(oven).celsius for _ in range(count)]
    return [one for one in seen if one is not None]


def test_in_an_evenly_hot_dome_it_reads_like_a_black_body() -> None:
    """A cavity of one temperature is black whatever its walls (Kirchhoff); set to 0.95 the
    instrument then shows a little too much: S(shown) = [S(T) - 0.05 S(air)]/0.95."""
    mean = float(np.mean(shown(300.0, Instrument(max_c=550, emissivity=0.95))))
    bright = (band_radiance(300.0) - 0.05 * band_radiance(12.0)) / 0.95
    assert band_radiance(mean) == pytest.approx(float(bright), rel=0.01)
    assert 300.0 < mean < 316.0


def test_set_to_one_it_shows_the_truth_there() -> None:
    assert np.mean(shown(200.0, Instrument(max_c=550, emissivity=1.0))) == pytest.approx(200, abs=1)


def test_above_its_range_it_shows_no_number() -> None:
    assert shown(400.0, Instrument(max_c=330)) == []


def test_a_flame_in_the_spot_reads_far_too_hot_now_and_then() -> None:
    oven = an_oven(150.0)
    oven.light(2.0)
    oven.run_until(START + timedelta(minutes=15))
    thermometer = Thermometer(Instrument(max_c=550), np.random.default_rng(3))
    seen = [thermometer.show(oven) for _ in range(400)]
    spoilt = [one.celsius for one in seen if one.spoilt and one.celsius is not None]
    plain = [one.celsius for one in seen if not one.spoilt and one.celsius is not None]
    assert 8 < len(spoilt) < 60
    assert np.mean(spoilt) > np.mean(plain) + 30
