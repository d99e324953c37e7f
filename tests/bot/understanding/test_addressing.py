"""Whom an order names, where names begin alike or are words of an order."""

from datetime import date

import pytest

from bot.understanding.addressing import heard, may_order
from bot.understanding.groups import Group
from bot.understanding.orders import order_with_rest
from scheduling.choice import OrderName
from scheduling.ports import Called

WEDNESDAY = date(2026, 5, 20)
SATURDAY = date(2026, 5, 23)
CLIENTS = (
    Called("max", "Max"),
    Called("maxine", "Maxine"),
    Called("moor", "Max Moor", ("Norma Moor",)),
    Called("ivy", "Ivy’s oven", ("Ivy",)),
    Called("may", "May"),
    Called("hold", "Hold"),
    Called("mill", "The Mill oven", ("Zoë",), "Leeds"),
)


def named(text: str) -> list[tuple[str, list[list[str]]]]:
    """What each whole reading orders, and the clients of each name in it."""
    told = heard(text, CLIENTS, "C", WEDNESDAY)
    return [
        (one.ordered.order.name.value, [sorted(name) for name in one.names])
        for one in told.whole
        if one.ordered.order is not None
    ]


@pytest.mark.parametrize(
    ("text", "order", "ovens"),
    [
        ("hold maxine", "hold", ["maxine"]),
        ("Maxine: hold", "hold", ["maxine"]),
        ("maxine, hold", "hold", ["maxine"]),
        ("hold, maxine", "hold", ["maxine"]),
        ("hold maxine please, storm", "hold", ["maxine"]),
        ("cap maxine 200", "cap", ["maxine"]),
        ("cap 200 for maxine’s oven", "cap", ["maxine"]),
        ("hold the mill oven", "hold", ["mill"]),
        ("no fire for zoe till Monday", "move", ["mill"]),
        ("no fire for may on Saturday", "forbid", ["may"]),
        ("may: no fire on Saturday", "forbid", ["may"]),
        ("hold hold", "hold", ["hold"]),
        ("hold max moor", "hold", ["moor"]),
        ("hold max", "hold", ["max", "moor"]),
        ("allow Saturday for ivy", "take_back", ["ivy"]),
        ("hold maxine, ivy is away", "hold", ["maxine"]),
    ],
)
def test_a_name_is_whom_the_order_is_for(text: str, order: str, ovens: list[str]) -> None:
    assert named(text) == [(order, [ovens])]


def test_several_names_are_several_clients() -> None:
    both = [("hold", [["maxine"], ["ivy"]])]
    assert named("hold maxine and ivy") == named("maxine, ivy: hold") == both
    assert named("hold maxine and ivy, storm") == both


@pytest.mark.parametrize("text", ["Max", "may", "hold", "max moor?", "the mill oven", "Hold."])
def test_a_name_alone_is_known_for_one_though_it_is_a_word_of_an_order(text: str) -> None:
    assert heard(text, CLIENTS, "C", WEDNESDAY).called


def test_a_word_of_an_order_that_is_a_name_is_mentioned() -> None:
    told = heard("max 200", CLIENTS, "C", WEDNESDAY)
    assert [one.names for one in told.whole] == [()]
    assert told.mentioned == {"max", "moor"}
    assert heard("hold, ivy is ill", CLIENTS, "C", WEDNESDAY).mentioned == {"hold", "ivy"}


def test_a_number_or_a_month_with_its_day_is_nobodys_name() -> None:
    clients = (Called("a", "Client 300"), Called("b", "May"))
    assert heard("cap 300", clients, "C", WEDNESDAY).mentioned == frozenset()
    assert heard("no fire on 30 May", clients, "C", WEDNESDAY).mentioned == frozenset()
    (told,) = heard("cap client 300 250", clients, "C", WEDNESDAY).whole
    assert told.ovens == {"a"}


def test_a_part_of_a_name_is_nobody() -> None:
    told = heard("cap maxi 200", CLIENTS, "C", WEDNESDAY)
    assert not told.whole
    assert told.open is not None
    assert told.open.ordered.rest == "maxi"


@pytest.mark.parametrize(
    ("text", "order", "group"),
    [
        ("hold all", OrderName.HOLD, Group()),
        ("hold everybody, storm", OrderName.HOLD, Group()),
        ("no fires for anybody on Saturday", OrderName.FORBID, Group()),
        ("nobody fires on Saturday", OrderName.FORBID, Group()),
        ("cap all at 200", OrderName.CAP, Group()),
        ("hold everyone in Leeds", OrderName.HOLD, Group(place="leeds")),
        ("hold all burning", OrderName.HOLD, Group(state="firing")),
        ("release all on hold", OrderName.RELEASE, Group(state="held")),
        ("hold everybody with a fire on Saturday", OrderName.HOLD,
         Group(first=SATURDAY, last=SATURDAY)),
        ("everybody: no fire tomorrow", OrderName.FORBID, Group()),
        ("hold all fires", OrderName.HOLD, Group()),
        ("keep everybody below 200", OrderName.CAP, Group()),
    ],
)  # fmt: skip
def test_what_is_for_all_a_town_a_state_or_a_day(text: str, order: OrderName, group: Group) -> None:
    (told,) = heard(text, CLIENTS[:-2], "C", WEDNESDAY).whole
    assert told.ordered.order is not None
    assert (told.ordered.order.name, told.ordered.group) == (order, group)


def test_all_but_some_is_never_all() -> None:
    (told,) = heard("hold all but maxine and ivy, storm", CLIENTS, "C", WEDNESDAY).whole
    assert told.but == {"maxine", "ivy"}
    assert told.ordered.group == Group()
    (unknown,) = heard("hold all but nemo", CLIENTS, "C", WEDNESDAY).whole
    assert unknown.ordered.group == Group(place="but nemo"), "a town in which nobody lives"


def test_a_hold_of_a_day_is_asked_back() -> None:
    told = order_with_rest("hold saturday", "C", WEDNESDAY)
    assert told is not None
    assert (told.order, told.why) == (None, "day_for_all")


@pytest.mark.parametrize("text", ["Rosa", "152", "who needs me", "thanks", "list"])
def test_most_words_are_not_worth_a_look_for_an_order(text: str) -> None:
    assert not may_order(text)
