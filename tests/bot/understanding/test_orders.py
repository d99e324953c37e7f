"""A builder's orders in plain words: a whole message that is one, or a question back."""

from datetime import date

import pytest

from bot.understanding.office_words import Find, Part, Town, wish_of
from bot.understanding.orders import confirming, order_in
from scheduling.choice import Boarding, Casing, Jotting, Listing, Ordering, OrderName, Talking

WEDNESDAY = date(2026, 5, 20)


def read(text: str, unit: str = "C") -> Ordering | str | None:
    told = order_in(text, unit, WEDNESDAY)
    return None if told is None else told.order or told.why


@pytest.mark.parametrize(
    "text",
    ["hold", "Hold all firings", "no more fires", "stop", "put it on hold", "pause for now",
     "hold until further notice"],
)  # fmt: skip
def test_a_hold(text: str) -> None:
    assert read(text) == Ordering(name=OrderName.HOLD)


@pytest.mark.parametrize(
    ("text", "unit", "cap_c"),
    [
        ("cap 300", "C", 300.0),
        ("Cap at 250 C", "F", 250.0),
        ("cap 480", "F", 248.9),
        ("cap 480 f", "C", 248.9),
        ("no hotter than two hundred", "C", 200.0),
        ("max 220°", "C", 220.0),
    ],
)
def test_a_cap_is_in_the_builders_own_scale_unless_named(
    text: str, unit: str, cap_c: float
) -> None:
    assert read(text, unit) == Ordering(name=OrderName.CAP, value=cap_c)


@pytest.mark.parametrize(
    ("text", "name", "first", "last"),
    [
        ("no fire till Monday", OrderName.MOVE, date(2026, 5, 25), None),
        ("not before Saturday", OrderName.MOVE, date(2026, 5, 23), None),
        ("move to friday", OrderName.MOVE, date(2026, 5, 22), None),
        ("no fire on Saturday", OrderName.FORBID, date(2026, 5, 23), date(2026, 5, 23)),
        ("no fires 3 to 7 June", OrderName.FORBID, date(2026, 6, 3), date(2026, 6, 7)),
        ("no fire this week", OrderName.FORBID, WEDNESDAY, date(2026, 5, 24)),
        ("no fire Saturday and Sunday", OrderName.FORBID, date(2026, 5, 23), date(2026, 5, 24)),
    ],
)
def test_days(text: str, name: OrderName, first: date, last: date | None) -> None:
    assert read(text) == Ordering(name=name, first=first, last=last)


def test_a_day_that_is_allowed_takes_back_what_closed_it() -> None:
    told = order_in("allow Saturday", "C", WEDNESDAY)
    assert told is not None
    assert told.order == Ordering(name=OrderName.TAKE_BACK, first=date(2026, 5, 23))


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("cap", "no_number"),
        ("cap 200 or 250", "two_numbers"),
        ("cap 900", "unit"),
        ("no fire till", "no_day"),
        ("no fire 5/6", "which_day"),
        ("no fire on 3 and 7 june", "which_day"),
        ("no fire on Saturday, Sunday", "which_day"),
    ],
)
def test_what_is_left_open_is_asked_back(text: str, why: str) -> None:
    assert read(text) == why


def test_a_reason_and_the_confirming_word_are_kept_apart() -> None:
    told = read("cap 300, confirmed: crown is thick")
    assert told == Ordering(name=OrderName.CAP, value=300.0, confirmed=True, why="crown is thick")
    said = confirming("Confirmed, I looked at it")
    assert said is not None
    assert said.why == "I looked at it"
    assert confirming("not confirmed") is None
    assert confirming("yes") is None


@pytest.mark.parametrize(
    "text",
    ["no", "no problem", "hold on", "hold the line please", "Rosa", "not now", "152", "thanks",
     "no steam any more", "is it capped?"],
)  # fmt: skip
def test_other_words_are_no_order(text: str) -> None:
    assert read(text) is None


@pytest.mark.parametrize(
    ("text", "wish"),
    [
        ("list", Listing()),
        ("Who needs me?", Listing(group="needs")),
        ("fires", Boarding()),
        ("Rosa", Find("Rosa")),
        ("find Rosa", Find("Rosa", sure=True)),
        ("kew curing", Find("kew", "curing", sure=True)),
        ("I'll take it", Casing(what="take")),
        ("done with it: she rang", Casing(what="close", why="she rang")),
        ("note: Thin arch", Jotting(text="Thin arch")),
        ("note for them: Keep dry", Jotting(text="Keep dry", shown=True)),
        ("tell them I am on my way", Talking(what="say", text="I am on my way")),
        ("end talk", Talking(what="close")),
        ("journal", Part("journal")),
        ("my town is Alderby", Town("Alderby")),
        ("", None),
    ],
)
def test_what_else_a_builder_types(text: str, wish: object) -> None:
    assert wish_of(text) == wish
