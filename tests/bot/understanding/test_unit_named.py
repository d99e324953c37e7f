"""Whether a reading says that its sender named the unit."""

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
