from dataclasses import replace
from datetime import timedelta

import pytest

from scheduling.breakin.limits import USUAL
from scheduling.firing.forecast import FiringAim, Forecast, forecast
from scheduling.oven.history import FireLit, SurfaceRead
from tests.scheduling.oven.domes import MILD, MORNING, fresh, hours

AIM = FiringAim(plateau_c=155.0, low_c=140.0, high_c=170.0, hold_h=3.0)


def minutes(count: float) -> timedelta:
    return timedelta(minutes=count)


def read(*crowns: float, every: float = 30.0, wait: float = 0.0, aim: FiringAim = AIM) -> Forecast:
    """A fire lit at eight, its crown read every so often; asked ``wait`` minutes after that."""
    readings = [
        SurfaceRead(at=MORNING + minutes(every * (index + 1)), top_c=crown)
        for index, crown in enumerate(crowns)
    ]
    fed = readings[-1].at if readings else MORNING
    now = fed + minutes(wait)
    belief = fresh().carried([FireLit(at=MORNING, aim_c=155.0), *readings], now, MILD)
    return forecast(belief, aim, readings, fed, now, MILD)


def test_a_steady_climb_says_when_the_plateau_comes() -> None:
    said = read(40.0, 90.0)
    assert said.climb_c_per_h == pytest.approx(100.0)
    assert said.plateau_at is not None
    left = said.plateau_at.middle - said.now
    assert left == pytest.approx(minutes(30), abs=minutes(1))
    assert said.plateau_at.first < said.plateau_at.middle < said.plateau_at.last
    assert not said.climb_too_fast


def test_a_fast_climb_is_called_so() -> None:
    assert read(40.0, 120.0).climb_too_fast
    assert not read(40.0, 92.0).climb_too_fast


def test_stoking_stays_inside_the_builders_window() -> None:
    for crowns in ((40.0, 90.0), (60.0, 110.0, 155.0), (80.0, 155.0, 156.0, 155.0)):
        said = read(*crowns)
        for instant in (said.stoke.first, said.stoke.middle, said.stoke.last):
            assert minutes(USUAL.stoke_least_minutes) <= instant - said.now
            assert instant - said.now <= minutes(USUAL.stoke_most_minutes)
        assert said.stoke.first <= said.stoke.middle <= said.stoke.last


def test_left_alone_the_crown_falls_out_of_the_band() -> None:
    said = read(60.0, 110.0, 150.0)
    assert said.falls_at is not None
    assert said.falls_at > said.now
    assert said.expect_c.low <= said.expect_c.mid <= said.expect_c.high


def test_the_hold_counts_what_was_read_in_the_band() -> None:
    said = read(60.0, 110.0, 155.0, 155.0, 155.0)
    assert said.held_h == pytest.approx(1.0 + 0.5 / 3, abs=0.02)
    assert not said.hold_complete
    assert read(60.0, 110.0, *[155.0] * 8).hold_complete


def test_an_old_reading_is_stale_and_holds_nothing() -> None:
    said = read(60.0, 110.0, 155.0, wait=60.0)
    assert said.stale
    assert said.reading_age == minutes(60)
    assert said.held_h < 0.3
    assert not read(60.0, 110.0, 155.0, wait=10.0).stale


def test_a_fire_never_read_is_stale_from_the_start() -> None:
    said = read(wait=20.0)
    assert said.stale
    assert said.read_at is None
    assert said.climb_c_per_h is None
    assert said.plateau_at is None
    assert said.held_h == 0.0


def test_steam_is_told_for_a_fire_left_held_and_led_up() -> None:
    said = read(60.0, 110.0, 155.0, 155.0)
    assert 0.0 < said.steam_share <= said.steam_share_ahead < 1.0
    assert not said.dry


def test_a_wet_wall_led_far_up_passes_its_limit_and_held_makes_less_steam() -> None:
    hot = replace(AIM, plateau_c=350.0, low_c=320.0, high_c=370.0)
    said = read(60.0, 110.0, 155.0, 200.0, 250.0, aim=hot)
    assert said.steam_share_led > 1.0
    assert said.steam_share_ahead < said.steam_share_held < said.steam_share_led


def test_without_a_fire_there_is_nothing_to_forecast() -> None:
    with pytest.raises(ValueError, match="no fire"):
        forecast(fresh(), AIM, [], MORNING, MORNING, MILD)
    burning = fresh().carried([FireLit(at=MORNING)], MORNING + hours(1), MILD)
    with pytest.raises(ValueError, match="carry"):
        forecast(burning, AIM, [], MORNING, MORNING + hours(2), MILD)
