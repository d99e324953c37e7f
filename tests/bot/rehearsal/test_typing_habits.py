"""What invented owners type is what people type: readable, or fairly asked back."""

from datetime import UTC, datetime

import numpy as np
import pytest

from bot.rehearsal import typing_habits
from bot.understanding import understand
from scheduling.remark import Expectation, Reading, Setting

NOW = datetime(2026, 5, 26, 11, tzinfo=UTC)


@pytest.mark.parametrize("top", [64.0, 118.0, 152.0, 203.0, 347.0])
def test_no_way_of_typing_a_reading_becomes_another_number(top: float) -> None:
    rng = np.random.default_rng(8)
    setting = Setting(
        unit="C", now=NOW, expect=Expectation.READING, last_top_c=top - 8, instrument_max_c=550
    )
    read = 0
    for turn in range(60):
        sides = top - 23 if turn % 3 == 0 else None
        text = typing_habits.a_reading(top, sides, "C", 0.2, rng)
        understood = understand(text, setting)
        for meaning in understood.meanings:
            if isinstance(meaning, Reading) and meaning.top_c is not None:
                assert meaning.top_c == pytest.approx(top, abs=0.6), text
                read += 1
    assert read > 48
