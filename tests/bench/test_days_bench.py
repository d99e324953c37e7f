"""How long calendars take and how they grow; how they fare over seasons of 1,000 ovens."""

import time
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from bot.rehearsal.weathermaking import SORTS
from scheduling.breakin.availability import Availability
from scheduling.breakin.chance import Setting
from scheduling.breakin.climate import usual
from scheduling.breakin.days import DayProblem, Weights
from scheduling.breakin.judging import DayLimits, judge_day
from scheduling.breakin.laying import lay, lay_many
from scheduling.breakin.outlook import day_weather
from scheduling.breakin.weather import Forecast, HourWeather, Source
from tests.seasons.season import laid_calendar, next_free_day, world

FIRST = date(2026, 4, 1)
ZONE = ZoneInfo("Europe/Berlin")


def problem(rng: np.random.Generator, days: int = 45) -> DayProblem:
    return DayProblem(
        FIRST, tuple(rng.choice([0.0, 8.0], days, p=[0.3, 0.7])), tuple(rng.random(days)),
        (5.0,) * 5, 1, frozenset(FIRST + timedelta(days=int(n)) for n in rng.integers(0, 9, 3)),
    )  # fmt: skip


@pytest.mark.bench
def test_laying_grows_linearly_to_ten_thousand_ovens() -> None:
    rng = np.random.default_rng(1)
    per_oven: list[float] = []
    for count in (10, 100, 1000, 10_000):
        batch = [problem(rng) for _ in range(count)]
        begun = time.perf_counter()
        assert len(lay_many(batch)) == count
        per_oven.append((time.perf_counter() - begun) / count)
        growth = per_oven[-1] / per_oven[max(0, len(per_oven) - 2)]
        print(f"\n{count:6d} ovens: {per_oven[-1] * 1e3:.3f} ms an oven, ×{growth:.2f} an oven")


@pytest.mark.bench
def test_one_owners_calendar_from_a_forecast() -> None:
    now = datetime(2026, 4, 1, 6, tzinfo=UTC)
    hours = tuple(
        HourWeather(at=now + timedelta(hours=n), air_c=12, wind_ms=n % 9, rain_mm=0.1)
        for n in range(220)
    )
    told = Forecast(
        source=Source.MADE_UP, issued_at=now, fetched_at=now, latitude=48.5, longitude=10.0,
        hours=hours,
    )  # fmt: skip
    spent: list[float] = []
    for _ in range(5):
        begun = time.perf_counter()
        scores = []
        for n in range(45):
            day = FIRST + timedelta(days=n)
            weather = day_weather(day, ZONE, now, usual(48.5, 10.0, day), told)
            scores.append(
                judge_day(weather, Setting(), Availability(), DayLimits(), ZONE, None, hours)
            )
        laid = lay(
            DayProblem(FIRST, tuple(s.hours for s in scores), tuple(s.poor for s in scores),
                       (5.0,) * 5)
        )  # fmt: skip
        spent.append(time.perf_counter() - begun)
        assert laid.unplaced == 0
    print(f"\none owner, 45 days judged and laid: {min(spent) / 0.3:.3f} of the 300 ms allowed")


@pytest.mark.bench
@pytest.mark.timeout(900)
def test_a_thousand_ovens_in_each_of_five_climates_and_two_seasons() -> None:
    for falls_short in (None, 0.6, 0.8, 1.0):
        share = "as the calendar's own law says" if falls_short is None else f"{falls_short:.0%}"
        print(f"\nof fires lit on poor days must be repeated: {share}")
        days: tuple[list[int], list[int]] = ([], [])
        bad, broken = np.zeros(2), np.zeros(2)
        for sort in SORTS:
            for month in (4, 10):
                one = world(sort, date(2026, month, 1), 1000, seed=month)
                both = (
                    next_free_day(one, falls_short),
                    laid_calendar(one, Weights(), falls_short),
                )
                print(f"  {sort.name}, from month {month}")
                for index, (name, tally) in enumerate(
                    zip(("next free", "laid"), both, strict=True)
                ):
                    print("    " + tally.line(name))
                    days[index].extend(tally.days)
                    bad[index] += tally.bad_fires
                    broken[index] += tally.broken
        print(
            f"  all: median {np.median(days[0]):.0f} → {np.median(days[1]):.0f} days, "
            f"bad-day fires × {bad[1] / bad[0]:.2f}, broken promises × {broken[1] / broken[0]:.2f}"
        )
