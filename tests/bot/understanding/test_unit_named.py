"""Whether a reading says that its sender named the unit, and when that is asked."""

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


@pytest.mark.parametrize(("unit", "text"), [("C", "327"), ("F", "152")])
def test_the_unit_is_left_to_who_knows_the_oven_where_somebody_does(unit: str, text: str) -> None:
    told = {
        judged: understand(
            text,
            Setting.model_validate(
                {"unit": unit, "now": NOW, "expect": "reading", "last_top_c": 150, "judged": judged}
            ),
        )
        for judged in (False, True)
    }
    doubt = told[False].doubt
    assert doubt is not None
    assert doubt.why == "which_unit"
    assert [type(one) for one in told[True].meanings] == [Reading]


def test_sides_hotter_than_the_top_beside_them_are_no_question_of_the_unit() -> None:
    setting = Setting(unit="C", now=NOW, expect=Expectation.READING, last_top_c=127)
    (reading,) = understand("top 125 sides 263", setting).meanings
    assert isinstance(reading, Reading)
    assert (reading.top_c, reading.sides_c) == (125.0, (263.0,))


@pytest.mark.parametrize(("text", "top_c"), [("9", 9.0), ("3", 3.0), ("its 8 this morning", 8.0)])
def test_a_cold_dome_reads_a_small_number(text: str, top_c: float) -> None:
    setting = Setting(unit="C", now=NOW, expect=Expectation.READING, cold=True)
    (reading,) = understand(text, setting).meanings
    assert isinstance(reading, Reading)
    assert reading.top_c == top_c


def test_a_small_number_beside_a_fire_is_no_reading() -> None:
    setting = Setting(unit="C", now=NOW, expect=Expectation.READING, last_top_c=120)
    assert not understand("9", setting).meanings
