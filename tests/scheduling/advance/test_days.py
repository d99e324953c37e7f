from datetime import UTC, date, datetime, timedelta

import pytest

from scheduling.alarm import AlarmName
from scheduling.breakin.weather import Forecast, HourWeather, Source
from scheduling.choice import About, Command, CommandName, Restricting
from scheduling.happening import Forecasted
from scheduling.journal import Promised
from scheduling.meaning import (
    Advice,
    DaysKept,
    DaysMoved,
    DaysProposed,
    DaysRefused,
    DaysShown,
    ForecastAgainst,
    SkyNow,
    SoakedNoted,
    StaleTap,
    WhichDay,
)
from scheduling.remark import (
    Available,
    FireBan,
    Reading,
    Sign,
    Sky,
    Unavailable,
    WeatherSaid,
)
from tests.scheduling.road import Road, fired, lit


def days_of(road: Road) -> list[date]:
    return [one.day for one in road.record.promise]


def away(first: date, last: date | None = None) -> Unavailable:
    return Unavailable(first=first, last=last or first)


def test_a_day_away_is_proposed_with_what_changes_and_done_with_one_tap() -> None:
    road = Road().begin()
    before = days_of(road)
    road.say(away(before[1]))
    proposal = road.last(DaysProposed)
    assert proposal.why == "unavailable"
    assert proposal.changes
    assert days_of(road) == before
    road.confirms(proposal.proposal)
    assert road.last(DaysMoved).why == "unavailable"
    assert before[1] not in days_of(road)


def test_undo_restores_the_days_exactly() -> None:
    road = Road().begin()
    before = road.record.promise
    road.say(away(before[1].day))
    road.say(Sign(kind="yes"))
    assert road.record.promise != before
    road.undoes()
    assert road.record.promise == before
    assert road.alarms[AlarmName.MORNING] == before[0].start - timedelta(minutes=45)


def test_a_proposal_left_alone_changes_nothing() -> None:
    road = Road().begin()
    before = road.record.promise
    road.say(away(before[0].day))
    road.confirms(road.last(DaysProposed).proposal, yes=False)
    assert road.heard_of(DaysKept)
    assert road.record.promise == before


def test_a_stale_tap_does_nothing() -> None:
    road = Road().begin()
    road.say(away(road.record.promise[0].day))
    stale = road.last(DaysProposed).proposal
    road.confirms(stale)
    kept = road.record.promise
    road.confirms(stale)
    assert road.heard_of(StaleTap)
    assert road.record.promise == kept


def test_a_day_that_does_not_matter_is_noted_without_asking() -> None:
    road = Road().begin()
    road.say(away(date(2026, 8, 1)))
    assert road.heard_of(DaysKept)
    assert not road.all_said(DaysProposed)


@pytest.mark.parametrize(
    ("first", "last", "why"),
    [
        (date(2026, 4, 1), date(2026, 4, 2), "in_the_past"),
        (date(2026, 5, 9), date(2026, 5, 3), "backwards"),
        (date(2026, 5, 9), date(2028, 5, 9), "too_long"),
        (date(2030, 5, 9), date(2030, 5, 9), "too_far"),
    ],
)
def test_an_impossible_range_is_asked_back_and_never_moves_a_day(
    first: date, last: date, why: str
) -> None:
    road = Road().begin()
    before = road.record.promise
    road.say(away(first, last))
    assert road.last(DaysRefused).why == why
    assert road.record.promise == before


def test_only_evenings_leaves_no_room_for_a_long_firing() -> None:
    road = Road().begin()
    first = road.record.promise[0].day
    road.say(Unavailable(first=first, last=first + timedelta(days=6), before_hour=18.0))
    proposal = road.last(DaysProposed)
    assert all(
        line.day is not None and line.day > first + timedelta(days=6) for line in proposal.lines
    )


def test_lets_do_tomorrow_instead_brings_the_firing_forward() -> None:
    road = Road().begin({About.DAYS: "6"})
    tomorrow = road.record.today(road.now) + timedelta(days=1)
    assert days_of(road)[0] > tomorrow
    road.say(Available(first=tomorrow))
    road.confirms(road.last(DaysProposed).proposal)
    assert days_of(road)[0] == tomorrow


def test_a_wanted_day_before_the_cure_is_refused_with_the_day_it_is_ready() -> None:
    road = Road().begin({About.WET_WORK: "2026-04-25"})
    road.say(Available(first=road.record.today(road.now) + timedelta(days=1)))
    refused = road.last(DaysRefused)
    assert refused.why == "curing"
    assert refused.next_day is not None


def test_another_day_without_saying_which_is_asked() -> None:
    road = Road().begin()
    road.say(Available())
    near = road.last(WhichDay).near
    assert near
    assert list(near) == sorted(near)


def test_wet_all_day_tomorrow_moves_an_open_oven() -> None:
    road = Road().begin({About.STANDS: "sky"})
    first = days_of(road)[0]
    road.say(WeatherSaid(what=Sky.RAIN, when=first))
    proposal = road.last(DaysProposed)
    assert proposal.why == "weather"
    assert proposal.changes[0].before == first
    road.confirms(proposal.proposal)
    assert first not in days_of(road)


def test_a_gale_tomorrow_moves_every_oven() -> None:
    road = Road().begin()
    first = days_of(road)[0]
    road.say(WeatherSaid(what=Sky.GALE, when=first))
    assert road.last(DaysProposed).why == "gale"


def test_rain_during_a_fire_says_what_to_do_with_the_fire() -> None:
    road = lit({About.STANDS: "sky"})
    road.wait(20)
    road.say(WeatherSaid(what=Sky.RAIN))
    assert road.last(SkyNow).what is Sky.RAIN
    assert not road.heard_of(DaysProposed)


def test_a_soaking_steps_the_next_aim_back() -> None:
    road = Road().begin()
    for _ in range(3):
        fired(road)
    before = road.record.promise[0].plateau_c
    road.wait(hours=10)
    road.say(WeatherSaid(what=Sky.SOAKED))
    noted = road.last(SoakedNoted)
    assert noted.aim_before_c == before
    assert noted.aim_after_c is not None
    assert noted.aim_after_c < before
    assert road.record.promise[0].plateau_c == noted.aim_after_c


def test_a_fire_restriction_always_wins_and_its_end_frees_the_days() -> None:
    road = Road().begin()
    today = road.record.today(road.now)
    road.press(Restricting(first=today, last=today + timedelta(days=60)))
    assert all(day > today + timedelta(days=60) for day in days_of(road))
    road.say(Available(first=today + timedelta(days=2)))
    assert road.last(DaysRefused).why == "restricted"
    road.wait(hours=2)
    road.press(Restricting(first=today, last=today, over=True))
    assert days_of(road)[0] <= today + timedelta(days=2)


def storm(road: Road, day: date, wind_ms: float) -> Forecast:
    start = datetime(day.year, day.month, day.day, tzinfo=UTC)
    return Forecast(
        source=Source.MET_NORWAY,
        issued_at=road.now,
        fetched_at=road.now,
        latitude=51.5,
        longitude=-0.1,
        hours=tuple(
            HourWeather(
                at=start + timedelta(hours=i),
                air_c=12.0,
                wind_ms=wind_ms if i < 24 else 3.0,
                rain_mm=0.0,
                rain_probability=0.0,
            )
            for i in range(72)
        ),
    )


def test_a_forecast_against_tomorrow_proposes_other_days_once() -> None:
    road = Road().begin()
    first = days_of(road)[0]
    road.happen(Forecasted(storm(road, first, 20.0)))
    against = road.last(ForecastAgainst)
    assert against.day == first
    assert against.attribution
    assert road.last(DaysProposed).changes
    road.happen(Forecasted(storm(road, first, 21.0)))
    assert len(road.all_said(ForecastAgainst)) == 1
    road.say(Sign(kind="yes"))
    assert first not in days_of(road)


def test_a_calm_forecast_says_nothing() -> None:
    road = Road().begin()
    road.happen(Forecasted(storm(road, days_of(road)[0], 3.0)))
    assert road.heard == []


def test_the_same_message_twice_changes_nothing_more() -> None:
    road = Road().begin()
    said = away(road.record.promise[0].day)
    road.say(said, key="update-7")
    outcome = road.say(said, key="update-7")
    assert outcome.entries == ()
    assert outcome.messages == ()


def test_days_are_shown_as_a_list() -> None:
    road = Road().begin()
    road.press(Command(name=CommandName.DAYS))
    assert [line.day for line in road.last(DaysShown).lines] == days_of(road)


def test_promises_are_written_only_when_they_change() -> None:
    road = Road().begin()
    count = len(road.entries(Promised))
    road.happen(Forecasted(storm(road, days_of(road)[0], 3.0)))
    road.press(Command(name=CommandName.DAYS))
    assert len(road.entries(Promised)) == count


def test_several_days_of_one_message_are_one_proposal() -> None:
    road = Road().begin()
    before = days_of(road)
    road.say(away(before[0]), away(before[2]))
    (proposal,) = road.all_said(DaysProposed)
    assert proposal.off == ((before[0], before[0]), (before[2], before[2]))
    road.confirms(proposal.proposal)
    assert not {before[0], before[2]} & set(days_of(road))


def test_a_day_told_before_the_last_was_confirmed_is_proposed_with_it() -> None:
    road = Road().begin()
    before = days_of(road)
    road.say(away(before[0]))
    road.wait(minutes=5)
    road.say(away(before[1]))
    assert road.last(DaysProposed).off == ((before[0], before[0]), (before[1], before[1]))
    road.confirms(road.last(DaysProposed).proposal)
    assert not {before[0], before[1]} & set(days_of(road))


def test_days_off_and_a_day_wanted_instead_go_together() -> None:
    road = Road().begin({About.DAYS: "6"})
    sunday, tuesday = days_of(road)[0], days_of(road)[0] + timedelta(days=2)
    road.say(away(sunday), Available(first=tuesday))
    (proposal,) = road.all_said(DaysProposed)
    assert (proposal.off, proposal.wanted) == (((sunday, sunday),), ((tuesday, tuesday),))
    road.confirms(proposal.proposal)
    assert days_of(road)[0] == tuesday


def test_a_fire_ban_told_in_words_moves_the_days_at_once() -> None:
    road = Road().begin()
    first = days_of(road)[0]
    road.say(FireBan(first=first, last=first + timedelta(days=1)))
    assert road.last(DaysMoved).why == "restricted"
    assert min(days_of(road)) > first + timedelta(days=1)
    road.wait(hours=1)
    road.say(FireBan(first=first, last=first, over=True))
    assert days_of(road)[0] == first


def test_a_fire_ban_told_beside_a_burning_fire_ends_the_wood() -> None:
    road = lit()
    road.wait(minutes=30)
    today = road.record.today(road.now)
    road.say(FireBan(first=today, last=today), Reading(top_c=60.0))
    assert road.last(Advice).kg is None
    assert road.last(Advice).why.what == "restricted"


def test_a_day_wanted_keeps_the_hours_that_suit() -> None:
    road = Road().begin({About.DAYS: "6", About.HOURS: "9-18"})
    tomorrow = road.record.today(road.now) + timedelta(days=1)
    road.say(Available(first=tomorrow))
    road.confirms(road.last(DaysProposed).proposal)
    first = road.record.promise[0]
    assert first.day == tomorrow
    assert first.start.astimezone(road.record.zoneinfo).hour >= 9
