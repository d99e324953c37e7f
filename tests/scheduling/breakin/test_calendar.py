"""From facts to days: cure, absence, restrictions, weather and promises in one calendar."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduling.breakin.availability import Availability, Closed, Rule, Window
from scheduling.breakin.calendar import DayFacts, day_problem, days_ahead, temperatures
from scheduling.breakin.chance import Setting
from scheduling.breakin.judging import DayLimits
from scheduling.breakin.laying import lay_together
from scheduling.breakin.walltime import local_day, local_hour
from scheduling.breakin.weather import Forecast, HourWeather, OwnersWord, Source
from scheduling.oven.makeup import Cover, Shelter
from scheduling.remark import Sky, Unavailable

NOW = datetime(2026, 3, 26, 6, tzinfo=UTC)
TODAY = date(2026, 3, 26)


def facts(zone: str = "Europe/Berlin") -> DayFacts:
    return DayFacts(
        latitude=48.5,
        longitude=10.0,
        zone=ZoneInfo(zone),
        setting=Setting(Cover.OPEN, Shelter.PART),
        ready_on=TODAY,
        sessions_h=(5.0, 5.0, 5.5, 6.0, 6.0),
    )


def day(n: int) -> date:
    return TODAY + timedelta(days=n)


@settings(max_examples=60, derandomize=True, deadline=None)
@given(
    st.sampled_from(["Europe/Berlin", "America/New_York", "Australia/Sydney", "Pacific/Apia"]),
    st.integers(-5, 20),
    st.lists(st.tuples(st.integers(0, 25), st.integers(0, 6), st.booleans()), max_size=4),
    st.integers(0, 12),
    st.integers(16, 24),
)
def test_every_laid_day_is_cured_free_unrestricted_and_outside_quiet_hours(
    zone: str, ready: int, absences: list[tuple[int, int, bool]], early: int, late: int
) -> None:
    rules = tuple(
        Rule(day(a), day(a + n), None, Closed.RESTRICTED if restricted else Closed.AWAY)
        for a, n, restricted in absences
    )
    one = replace(
        facts(zone),
        ready_on=day(ready),
        availability=Availability(rules=rules),
        limits=DayLimits(earliest_hour=float(early), latest_hour=float(late)),
    )
    ahead = days_ahead(one, NOW, 40)
    for on, session in zip(ahead.laid.days, one.sessions_h, strict=False):
        assert on >= day(ready)
        assert not any(rule.covers(on) for rule in rules)
        score = ahead.score(on)
        assert score is not None
        assert score.start is not None
        assert score.hours >= session
        assert score.start >= NOW
        assert local_day(score.start, one.zone) == on
        assert early <= local_hour(score.start, one.zone)


def test_without_a_known_ready_day_nothing_is_laid() -> None:
    ahead = days_ahead(replace(facts(), ready_on=None), NOW)
    assert ahead.laid.days == ()
    assert {score.closed for score in ahead.scores} == {Closed.CURING}


def test_a_wet_word_moves_the_day_and_taking_it_back_restores_it() -> None:
    dry = days_ahead(facts(), NOW)
    word = OwnersWord(day=dry.laid.days[1], what=Sky.RAIN, said_at=NOW)
    wet = days_ahead(replace(facts(), words=(word,)), NOW)
    assert word.day not in wet.laid.days
    assert days_ahead(replace(facts(), words=()), NOW) == dry


def test_an_absence_is_left_out() -> None:
    away = Availability().with_remark(Unavailable(first=day(1), last=day(4)), TODAY)
    ahead = days_ahead(replace(facts(), availability=away), NOW)
    assert not {day(n) for n in range(1, 5)} & set(ahead.laid.days)


def test_a_start_that_has_passed_becomes_now_or_another_day() -> None:
    noon, night = NOW + timedelta(hours=6), NOW + timedelta(hours=14)
    at_noon = days_ahead(facts(), noon).score(TODAY)
    assert at_noon is not None
    assert at_noon.start == noon
    assert TODAY not in days_ahead(facts(), night).laid.days


def test_a_day_has_one_firing() -> None:
    assert days_ahead(replace(facts(), fired_on=TODAY), NOW).laid.days[0] > TODAY


def test_one_owner_with_two_ovens_fires_one_a_day() -> None:
    two = {name: day_problem(facts(), NOW)[0] for name in ("a", "b")}
    laid = lay_together(two)
    assert not set(laid["a"].days) & set(laid["b"].days)


def test_nine_o_clock_stays_nine_over_the_clock_change() -> None:
    nine = replace(facts(), availability=Availability(usual=(Window(9, 18),) * 7))
    ahead = days_ahead(nine, NOW)
    starts = {local_hour(s.start, nine.zone) for s in ahead.scores if s.start}
    assert starts == {9.0}
    utc_hours = {s.start.hour for s in ahead.scores if s.start}
    assert utc_hours == {7, 8}


def told(air_c: float, issued_at: datetime, hours: int = 72) -> Forecast:
    return Forecast(
        source=Source.MADE_UP, issued_at=issued_at, fetched_at=issued_at, latitude=48.5,
        longitude=10.0,
        hours=tuple(
            HourWeather(at=datetime(2026, 3, 25, 23, tzinfo=UTC) + timedelta(hours=n), air_c=air_c)
            for n in range(hours)
        ),
    )  # fmt: skip


def test_the_cure_hears_the_later_forecast_then_the_climate() -> None:
    both = (told(9.0, NOW), told(3.0, NOW - timedelta(days=1)))
    days = temperatures(TODAY, day(9), 48.5, 10.0, ZoneInfo("Europe/Berlin"), both)
    assert [one.source for one in days] == ["forecast"] * 3 + ["climate"] * 7
    assert [one.mean_c for one in days[:3]] == pytest.approx([9.0] * 3)
