"""Whether a reading says that its sender named the unit, and when that is asked."""

from datetime import timedelta

import pytest

from bot.understanding import understand
from scheduling.remark import Expectation, Reading, Setting
from tests.bot.understanding.corpus import NOW


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("152", False),
        ("152 degrees", False),
        ("152c", True),
        ("306 F", True),
        ("top 152 sides 140", False),
    ],
)
def test_the_unit_is_named_only_by_its_letter_or_name(text: str, named: bool) -> None:
    setting = Setting(unit="C", now=NOW, expect=Expectation.READING, last_top_c=150)
    (reading,) = understand(text, setting).meanings
    assert isinstance(reading, Reading)
    assert reading.unit_named is named


@pytest.mark.parametrize(("minutes", "asked"), [(3, True), (25, False)])
def test_the_unit_is_asked_only_where_no_fire_could_have_done_it(minutes: int, asked: bool) -> None:
    setting = Setting(
        unit="C",
        now=NOW,
        expect=Expectation.READING,
        last_top_c=48,
        last_top_at=NOW - timedelta(minutes=minutes),
    )
    told = understand("127", setting)
    assert (told.doubt is not None and told.doubt.why == "which_unit") is asked
    assert bool(told.meanings) is not asked


def test_a_number_in_the_other_unit_is_asked_about_however_long_ago_the_last_was() -> None:
    setting = Setting(
        unit="F",
        now=NOW,
        expect=Expectation.READING,
        last_top_c=150,
        last_top_at=NOW - timedelta(minutes=50),
    )
    told = understand("152", setting)
    assert told.doubt is not None
    assert told.doubt.why == "which_unit"


def test_sides_hotter_than_the_top_beside_them_are_no_question_of_the_unit() -> None:
    setting = Setting(unit="C", now=NOW, expect=Expectation.READING, last_top_c=127)
    (reading,) = understand("top 125 sides 263", setting).meanings
    assert isinstance(reading, Reading)
    assert (reading.top_c, reading.sides_c) == (125.0, (263.0,))
