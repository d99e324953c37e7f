"""Free days and hours follow from what was said, and undoing a word undoes it exactly."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo, available_timezones

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduling.breakin.availability import (
    Availability,
    Closed,
    DateTrouble,
    Rule,
    Window,
    tended_elsewhere,
    trouble_with,
)
from scheduling.breakin.walltime import instant, local_day, local_hour
from scheduling.remark import Available, Unavailable

TODAY = date(2026, 5, 4)


def day(n: int) -> date:
    return TODAY + timedelta(days=n)


def test_away_from_one_day_to_another_closes_both_and_all_between() -> None:
    away = Availability().with_remark(Unavailable(first=day(3), last=day(7)), TODAY)
    assert [n for n in range(10) if away.on(day(n)) is Closed.AWAY] == [3, 4, 5, 6, 7]


def test_only_evenings_leaves_a_window() -> None:
    evenings = Unavailable(first=day(0), last=day(6), before_hour=17.0)
    assert Availability().with_remark(evenings, TODAY).on(day(2)) == Window(17.0, 24.0)


def test_the_later_word_holds() -> None:
    free = Availability()
    free = free.with_remark(Unavailable(first=day(1), last=day(1)), TODAY)
    free = free.with_remark(Available(first=day(1)), TODAY)
    assert free.on(day(1)) == Window()


def test_a_fire_restriction_outranks_whatever_is_said_later() -> None:
    free = Availability().with_rule(Rule(day(0), day(9), None, Closed.RESTRICTED))
    free = free.with_remark(Available(first=day(1), last=day(5)), TODAY)
    assert all(free.on(day(n)) is Closed.RESTRICTED for n in range(10))


def test_saying_the_same_twice_changes_nothing() -> None:
    once = Availability().with_remark(Unavailable(first=day(1), last=day(2)), TODAY)
    assert once.with_remark(Unavailable(first=day(1), last=day(2)), TODAY) == once


def test_without_the_word_everything_is_as_before() -> None:
    before = Availability().with_rule(Rule(day(2), day(3), Window(10, 20)))
    after = before.with_remark(Unavailable(first=day(0), last=day(5)), TODAY)
    assert Availability(after.usual, after.rules[:-1]) == before


def test_a_day_spent_at_another_oven_is_closed() -> None:
    free = Availability(rules=tended_elsewhere([day(1), day(1)]))
    assert free.on(day(1)) is Closed.TENDING_ANOTHER


@pytest.mark.parametrize(
    ("first", "last", "window", "trouble"),
    [
        (day(1), day(3), None, ()),
        (day(-5), day(-1), None, (DateTrouble.IN_THE_PAST,)),
        (day(-1), day(2), None, (DateTrouble.PARTLY_PAST,)),
        (day(5), day(2), None, (DateTrouble.BACKWARDS,)),
        (day(5), day(500), None, (DateTrouble.TOO_LONG,)),
        (day(800), day(801), None, (DateTrouble.TOO_FAR,)),
        (day(1), day(1), Window(20, 9), (DateTrouble.NO_HOURS,)),
    ],
)
def test_odd_ranges_are_asked_back(
    first: date, last: date, window: Window | None, trouble: tuple[DateTrouble, ...]
) -> None:
    assert trouble_with(first, last, TODAY, window) == trouble


ZONES = sorted(z for z in available_timezones() if "/" in z)


@settings(max_examples=300, derandomize=True, deadline=None)
@given(
    st.sampled_from(ZONES),
    st.dates(date(2020, 1, 1), date(2035, 12, 31)),
    st.integers(0, 23 * 4).map(lambda quarters: quarters / 4),
)
def test_nine_is_nine_on_the_owners_clock_in_any_zone(zone: str, on: date, hour: float) -> None:
    place = ZoneInfo(zone)
    at = instant(on, hour, place)
    assert at.tzinfo is UTC
    naive = datetime.combine(on, datetime.min.time()) + timedelta(hours=hour)
    exists = naive.replace(tzinfo=place).astimezone(UTC).astimezone(place)
    if exists.replace(tzinfo=None) == naive:
        assert (local_day(at, place), local_hour(at, place)) == (on, hour)
    else:
        skipped = at.astimezone(place).replace(tzinfo=None) - naive
        assert timedelta(0) < skipped <= timedelta(hours=24)


def test_the_hour_that_a_clock_change_skips_or_repeats() -> None:
    london = ZoneInfo("Europe/London")
    assert instant(date(2026, 3, 29), 1.5, london) == datetime(2026, 3, 29, 1, 30, tzinfo=UTC)
    assert instant(date(2026, 10, 25), 1.5, london) == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
