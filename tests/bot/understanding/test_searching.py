"""What a builder looks for: a need, how clients stand, a day, a place; a name is none of it."""

from datetime import date

import pytest

from bot.understanding.searching import search_in
from scheduling.choice import Listing

FRIDAY = date(2026, 5, 1)
CRACKS = ("crack", "crack_unsaid")


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("crack", Listing(needs=CRACKS)),
        ("Who has a crack?", Listing(needs=CRACKS)),
        ("who is silent", Listing(needs=("silent",))),
        ("too hot", Listing(needs=("too_hot",))),
        ("on hold", Listing(group="held")),
        ("who is held", Listing(group="held")),
        ("not here yet", Listing(group="invited")),
        ("tomorrow", Listing(day=date(2026, 5, 2))),
        ("fires on Sunday", Listing(day=date(2026, 5, 3))),
        ("in Leeds", Listing(place="leeds")),
        ("cracks in Market Harborough", Listing(needs=CRACKS, place="market harborough")),
        ("burning in Leeds", Listing(group="firing", place="leeds")),
        ("planned for tomorrow in leeds", Listing(group="planned", day=date(2026, 5, 2),
                                                  place="leeds")),
    ],
)  # fmt: skip
def test_a_search_is_read_through_and_through(text: str, wanted: Listing) -> None:
    assert search_in(text, FRIDAY) == wanted


@pytest.mark.parametrize("text", ["Rosa", "Rosa Crackley", "silent Tom", "the mill", "hotel", ""])
def test_a_word_left_over_may_be_a_name(text: str) -> None:
    assert search_in(text, FRIDAY) is None
