"""The cure takes the air that was measured, then what is foretold, then what is usual."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from scheduling.breakin.climate import usual
from scheduling.breakin.ready import curing_air
from scheduling.breakin.weather import Forecast, HourWeather, Source
from scheduling.oven.maturity import DayTemperature, Standing, cure

LONDON = ZoneInfo("Europe/London")
PLACE = (51.5, -0.1)
BEGAN, TODAY = date(2026, 5, 1), date(2026, 5, 10)


def forecast(air_c: float, hours: int = 48, source: Source = Source.MET_NORWAY) -> Forecast:
    first = datetime(2026, 5, 9, 23, tzinfo=UTC)  # midnight of the 10th in London
    return Forecast(
        source=source,
        issued_at=first,
        fetched_at=first,
        latitude=PLACE[0],
        longitude=PLACE[1],
        hours=tuple(
            HourWeather(at=first + timedelta(hours=i), air_c=air_c + (i % 24 == 4) * -6.0)
            for i in range(hours)
        ),
    )


def test_without_anything_known_it_is_the_usual_air_of_the_place() -> None:
    air = curing_air(BEGAN, TODAY, PLACE, LONDON)
    assert air[0] == DayTemperature(BEGAN, usual(*PLACE, BEGAN).mean_c, None, "climate")
    assert [one.day for one in air] == [BEGAN + timedelta(days=i) for i in range(len(air))]
    assert air[-1].day == TODAY + timedelta(days=365)


def test_a_forecast_outranks_the_usual_and_a_thermometer_outranks_both() -> None:
    measured = (DayTemperature(TODAY, 3.0, 1.0),)
    air = {
        one.day: one for one in curing_air(BEGAN, TODAY, PLACE, LONDON, forecast(12.0), measured)
    }
    assert air[TODAY] == measured[0]
    tomorrow = air[TODAY + timedelta(days=1)]
    assert (tomorrow.mean_c, tomorrow.low_c, tomorrow.source) == (11.75, 6.0, "forecast")
    assert air[TODAY + timedelta(days=2)].source == "climate"


def test_hours_gone_by_count_as_measured() -> None:
    air = {one.day: one for one in curing_air(BEGAN, date(2026, 5, 11), PLACE, LONDON, forecast(9))}
    assert air[TODAY].source == "measured"


def test_a_day_told_only_in_part_stays_usual() -> None:
    air = {one.day: one for one in curing_air(BEGAN, TODAY, PLACE, LONDON, forecast(12.0, 17))}
    assert air[TODAY].source == "climate"


def test_a_forecast_made_of_climate_is_no_measurement() -> None:
    told = forecast(-9.0, source=Source.CLIMATE)
    assert {one.source for one in curing_air(BEGAN, TODAY, PLACE, LONDON, told)} == {"climate"}


def test_an_oven_still_to_be_finished_and_one_long_forgotten_have_their_air_too() -> None:
    ahead = curing_air(TODAY, BEGAN, PLACE, LONDON)
    assert (ahead[0].day, ahead[-1].day) == (TODAY, TODAY + timedelta(days=365))
    old = curing_air(date(1960, 5, 1), TODAY, PLACE, LONDON)
    assert len(old) == 731
    assert cure(date(1960, 5, 1), "N", old, TODAY).standing is Standing.READY


def test_summer_waits_about_three_weeks_and_autumn_longer() -> None:
    """Common practice, no published source: about 21 days in summer, 28 in the cold half."""
    waits = {}
    for month in (6, 10):
        began = date(2026, month, 15)
        stands = cure(began, "N", curing_air(began, began, PLACE, LONDON), began)
        assert stands.ready_on is not None
        waits[month] = (stands.ready_on - began).days
    assert 20 <= waits[6] <= 26
    assert waits[6] + 4 <= waits[10] <= 40
