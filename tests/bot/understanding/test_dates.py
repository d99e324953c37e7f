"""Dates of the set-up, as people type them, on Wednesday 25 November 2026."""

from datetime import date

import pytest

from bot.understanding.dates import said_date, said_dates

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("3 Nov", date(2026, 11, 3)),
        ("wet work ended 3rd November", date(2026, 11, 3)),
        ("nov 3rd 2026", date(2026, 11, 3)),
        ("rendered it on 28/10/26", date(2026, 10, 28)),
        ("28.10.2026", date(2026, 10, 28)),
        ("28/10", date(2026, 10, 28)),
        ("2026-11-03", date(2026, 11, 3)),
        ("last Tuesday", date(2026, 11, 24)),
        ("it was weds", date(2026, 11, 18)),
        ("three weeks ago", date(2026, 11, 4)),
        ("a fortnight ago", date(2026, 11, 11)),
        ("the day before yesterday", date(2026, 11, 23)),
        ("yesterday", date(2026, 11, 24)),
        ("11/11", date(2026, 11, 11)),
    ],
)
def test_a_day_gone_by_is_read_from_words_and_figures(text: str, day: date) -> None:
    assert said_date(text, TODAY) == day


def test_figures_that_are_a_date_in_either_order_give_both() -> None:
    assert said_dates("3/11/26", TODAY) == (date(2026, 11, 3), date(2026, 3, 11))
    assert said_date("3/11/26", TODAY) is None


def test_a_day_far_back_without_its_year_may_be_the_coming_one() -> None:
    assert said_dates("5 dec", TODAY) == (date(2025, 12, 5), date(2026, 12, 5))
    assert said_date("ended dec 10", TODAY) is None
    assert said_date("10 dec 2025", TODAY) == date(2025, 12, 10)
    assert said_date("10 months ago", TODAY) == date(2026, 1, 25)


def test_no_date_is_none() -> None:
    for text in ("dunno", "31/31", "not sure yet", "30 feb", "152", ""):
        assert said_dates(text, TODAY) == (), text


def test_a_coming_weekday_is_looked_for_ahead() -> None:
    assert said_date("friday", TODAY, "future") == date(2026, 11, 27)
