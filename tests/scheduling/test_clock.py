"""Clocks: the machine's, one that runs faster, and one that is moved by hand."""

import asyncio
from datetime import UTC, datetime, timedelta, timezone

import pytest

from scheduling.clock import PacedClock, SteppedClock, SystemClock, pace_of

NINE = datetime(2026, 5, 13, 9, 0, tzinfo=UTC)


def test_every_clock_speaks_utc() -> None:
    east = NINE.astimezone(timezone(timedelta(hours=9)))
    for clock in (SystemClock(), PacedClock(east, 1.0), SteppedClock(east)):
        assert clock.now().tzinfo is UTC


def test_a_paced_clock_runs_so_many_times_as_fast() -> None:
    real = [100.0]
    clock = PacedClock(NINE, 60.0, lambda: real[0])
    real[0] += 2.0
    assert clock.now() == NINE + timedelta(minutes=2)


@pytest.mark.parametrize("pace", [0.0, -1.0])
def test_time_neither_stands_nor_runs_back(pace: float) -> None:
    with pytest.raises(ValueError, match="pace"):
        PacedClock(NINE, pace)
    clock = SteppedClock(NINE)
    with pytest.raises(ValueError, match="does not go back"):
        clock.move_to(NINE - timedelta(seconds=1))


async def test_who_sleeps_on_a_stepped_clock_wakes_at_once_and_in_time() -> None:
    clock = SteppedClock(NINE)
    await clock.sleep_until(NINE + timedelta(days=3))
    await clock.sleep_until(NINE)
    assert clock.now() == NINE + timedelta(days=3)


async def test_who_sleeps_on_a_paced_clock_is_woken_by_a_leap() -> None:
    clock = PacedClock(NINE, 1.0, lambda: 0.0)
    asleep = asyncio.create_task(clock.sleep_until(NINE + timedelta(hours=2)))
    await asyncio.sleep(0)
    clock.leap_to(NINE + timedelta(hours=1))
    await asyncio.sleep(0)
    assert not asleep.done()
    clock.leap_to(NINE + timedelta(hours=2))
    await asyncio.wait_for(asleep, 5)
    with pytest.raises(ValueError, match="does not go back"):
        clock.leap_to(NINE)


def test_only_a_paced_clock_has_a_pace() -> None:
    assert pace_of(PacedClock(NINE, 60.0)) == 60.0
    assert pace_of(SystemClock()) == pace_of(SteppedClock(NINE)) == 1.0
