"""What makes a day good or poor for a fire, and why."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduling.breakin.availability import Availability, Closed, Rule, Window
from scheduling.breakin.chance import Setting, poor_chance
from scheduling.breakin.climate import usual
from scheduling.breakin.judging import DayLimits, DayScore, ReasonKind, judge_day
from scheduling.breakin.outlook import day_weather
from scheduling.breakin.weather import Forecast, HourWeather, OwnersWord, Source
from scheduling.oven.makeup import Cover, Shelter
from scheduling.remark import Sky

ZONE = ZoneInfo("Europe/Berlin")
NOW = datetime(2026, 5, 4, 5, tzinfo=UTC)
DAY = date(2026, 5, 5)
USUAL = usual(48.5, 10.0, DAY)
OPEN = Setting(Cover.OPEN, Shelter.EXPOSED)


def forecast(wind_ms: float = 3.0, rain_mm: float = 0.0, air_c: float = 15.0, days: int = 9,
             issued_at: datetime = NOW) -> Forecast:  # fmt: skip
    hours = tuple(
        HourWeather(
            at=issued_at + timedelta(hours=n),
            air_c=air_c,
            wind_ms=wind_ms,
            rain_mm=rain_mm,
            rain_probability=0.95 if rain_mm else 0.02,
            humidity=0.2,
        )
        for n in range(24 * days)
    )
    return Forecast(
        source=Source.MET_NORWAY, issued_at=issued_at, fetched_at=issued_at,
        latitude=48.5, longitude=10.0, hours=hours,
    )  # fmt: skip


def judged(
    told: Forecast | None,
    words: tuple[OwnersWord, ...] = (),
    setting: Setting = OPEN,
    free: Availability | None = None,
    limits: DayLimits | None = None,
    day: date = DAY,
) -> DayScore:
    weather = day_weather(day, ZONE, NOW, USUAL, told, words)
    hours = told.hours if told else ()
    return judge_day(
        weather, setting, free or Availability(), limits or DayLimits(), ZONE, Window(5.5, 20.5),
        hours,
    )  # fmt: skip


def said(what: Sky, wind_ms: float | None = None, minute: int = 0) -> OwnersWord:
    return OwnersWord(day=DAY, what=what, wind_ms=wind_ms, said_at=NOW + timedelta(minutes=minute))


def kinds(score: DayScore) -> set[ReasonKind]:
    return {reason.kind for reason in score.reasons}


def test_a_calm_dry_day_is_worth_lighting_from_early_morning() -> None:
    score = judged(forecast())
    assert score.worth_lighting
    assert score.poor < 0.15
    assert score.reasons == ()
    assert score.start == datetime(2026, 5, 5, 5, tzinfo=UTC)


def test_a_wet_day_is_not_and_says_rain() -> None:
    score = judged(forecast(rain_mm=1.0))
    assert not score.worth_lighting
    assert ReasonKind.RAIN in kinds(score)


def test_a_roof_lets_a_fire_burn_through_rain() -> None:
    assert judged(forecast(rain_mm=1.0), setting=Setting(Cover.ROOF)).worth_lighting


def test_thirty_knots_are_too_windy_behind_any_shelter() -> None:
    for shelter in Shelter:
        score = judged(forecast(wind_ms=15.5), setting=Setting(Cover.ROOF, shelter))
        assert not score.worth_lighting
        assert ReasonKind.TOO_WINDY in kinds(score)


def test_the_owner_saying_thirty_knots_outranks_a_calm_forecast() -> None:
    assert not judged(forecast(), (said(Sky.WIND, 30 * 0.514444),)).worth_lighting


def test_the_owner_saying_wet_outranks_a_dry_forecast_and_the_later_word_holds() -> None:
    assert not judged(forecast(), (said(Sky.RAIN),)).worth_lighting
    assert judged(forecast(), (said(Sky.RAIN), said(Sky.DRY, minute=9))).worth_lighting


def test_a_dry_word_does_not_talk_a_gale_away() -> None:
    assert not judged(forecast(wind_ms=18.0), (said(Sky.DRY),)).worth_lighting


def test_a_restricted_day_is_closed_whatever_the_weather() -> None:
    rule = Rule(DAY, DAY, None, Closed.RESTRICTED)
    score = judged(forecast(), free=Availability(rules=(rule,)))
    assert score.closed is Closed.RESTRICTED
    assert not score.worth_lighting
    assert score.start is None


def test_hot_dry_wind_is_told_as_fire_weather_but_closes_nothing_by_guess() -> None:
    score = judged(forecast(wind_ms=9.0, air_c=36.0))
    assert ReasonKind.FIRE_WEATHER in kinds(score)
    assert score.closed is None


def test_an_evening_too_short_for_the_firing_is_closed() -> None:
    free = Availability(rules=(Rule(DAY, DAY, Window(18, 24)),))
    score = judged(forecast(), free=free)
    assert score.closed is Closed.TOO_SHORT
    assert score.hours == pytest.approx(4.0)


def test_the_fire_waits_for_a_wet_morning_to_pass() -> None:
    told = forecast()
    wet = tuple(
        h.model_copy(update={"rain_mm": 1.5}) if h.at < datetime(2026, 5, 5, 8, tzinfo=UTC) else h
        for h in told.hours
    )
    score = judged(told.model_copy(update={"hours": wet}))
    assert score.start == datetime(2026, 5, 5, 8, tzinfo=UTC)


def test_a_stale_forecast_says_nothing_and_the_climate_speaks() -> None:
    old = forecast(rain_mm=2.0, issued_at=NOW - timedelta(days=3))
    assert judged(old).weather.source is Source.CLIMATE
    assert ReasonKind.UNKNOWN in kinds(judged(old))


def test_a_holed_forecast_fades_into_the_climate() -> None:
    told = forecast(rain_mm=0.0)
    holed = told.model_copy(update={"hours": told.hours[::3]})
    assert judged(holed).weather.coverage < 0.5
    assert judged(told).poor < judged(holed).poor <= judged(None).poor + 1e-9


def test_far_days_are_less_sure_than_near_ones() -> None:
    told = forecast(rain_mm=1.0)
    near, far = judged(told), judged(told, day=DAY + timedelta(days=6))
    assert near.poor > far.poor


@settings(max_examples=100, derandomize=True, deadline=None)
@given(
    st.floats(0, 1), st.floats(0, 30), st.floats(0, 40), st.floats(0, 9),
    st.floats(0, 1), st.floats(0, 5),
    st.sampled_from(list(Cover)), st.sampled_from(list(Shelter)),
)  # fmt: skip
def test_likelier_rain_or_more_wind_never_makes_a_day_better(
    p: float, mm: float, wind: float, lead: float, more_p: float, more_wind: float,
    cover: Cover, shelter: Shelter,
) -> None:  # fmt: skip
    setting = Setting(cover, shelter)
    base = float(poor_chance(p, p * mm, wind, lead, setting))
    wetter_p = min(1.0, p + more_p)
    assert 0.0 <= base <= 1.0
    assert float(poor_chance(wetter_p, wetter_p * mm, wind, lead, setting)) >= base - 1e-9
    assert float(poor_chance(p, p * mm, wind + more_wind, lead, setting)) >= base - 1e-9


def test_arrays_and_single_numbers_agree() -> None:
    p, wind = np.linspace(0, 1, 7), np.linspace(0, 25, 7)
    many = poor_chance(p, p * 3, wind, 1.0, OPEN)
    assert many == pytest.approx(
        [float(poor_chance(a, a * 3, b, 1.0, OPEN)) for a, b in zip(p, wind, strict=True)]
    )


def test_quiet_hours_and_a_builders_lower_wind_bind() -> None:
    limits = replace(DayLimits(), earliest_hour=9.0, latest_hour=15.0, wind_stop_ms=6.0)
    score = judged(forecast(wind_ms=7.0), limits=limits)
    assert not score.worth_lighting
    assert score.start == datetime(2026, 5, 5, 7, tzinfo=UTC)
    assert score.finish == datetime(2026, 5, 5, 12, tzinfo=UTC)
