"""Ways changed by a line in the chat."""

import pytest

from bot.ways.editing import edited, is_edit
from bot.ways.reading import WaysError, read_ways
from bot.ways.shape import OwnWays
from tests.bot.ways.files import FULL


def test_a_limit_is_set_and_the_rest_stays() -> None:
    ways = edited(read_ways(FULL), "cure_floor_d = 35")
    assert ways.limits.cure_floor_d == 35
    assert ways.limits.final_c == 380.0
    assert ways.presets == read_ways(FULL).presets


def test_several_lines_change_together() -> None:
    ways = edited(OwnWays(), "final_c = 390\nlimits.session_h = 6\n\nreason = thin walls")
    assert (ways.limits.final_c, ways.limits.session_h, ways.reason) == (390.0, 6.0, "thin walls")


def test_words_need_no_quotation_marks_in_the_chat() -> None:
    ways = edited(OwnWays(), "greeting = Welcome to the yard\ncautions = Keep the dog inside")
    assert ways.words.greeting == "Welcome to the yard"
    assert ways.words.cautions == ("Keep the dog inside",)


def test_more_than_usual_is_said_twice_in_one_message() -> None:
    ways = edited(OwnWays(), "final_c = 450\nless_gentle.final_c = 450\nreason = steel flue")
    assert ways.limits.final_c == 450.0
    with pytest.raises(WaysError):
        edited(ways, "final_c = 460")


def test_none_takes_a_limit_back() -> None:
    assert edited(read_ways(FULL), "final_c = none").limits.final_c is None
    assert edited(read_ways(FULL), "cautions = none").words.cautions == ()


@pytest.mark.parametrize(
    ("typed", "what"),
    [
        ("final_c = hot", "not_toml"),
        ("final_c = 9000", "out_of_range"),
        ("final_c = 450", "less_gentle"),
        ("finale = 3", "unknown"),
        ("greeting = [1", "not_toml"),
    ],
)
def test_a_line_that_cannot_be_is_refused_and_nothing_changes(typed: str, what: str) -> None:
    with pytest.raises(WaysError) as refused:
        edited(OwnWays(), typed)
    assert refused.value.faults[0].what == what


@pytest.mark.parametrize(
    "typed", ["152", "top = 152", "cure_floor_d", "hello\nfinal_c = 3", "", "put 2 on"]
)
def test_what_is_no_such_line_is_left_alone(typed: str) -> None:
    assert not is_edit(typed)
