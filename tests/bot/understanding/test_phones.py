"""A number to be rung on is read by its plan; readings and dangers are never taken for one."""

import pytest

from bot.understanding.phones import phone_in, phone_of, without_phone, written_forms

KEPT = "+44 7700 900123"


@pytest.mark.parametrize(
    "text",
    [
        "my phone is 07700 900123",
        "My mobile’s 07700-900-123",
        "number: (07700) 900123",
        "+44 7700 900123",
        "07700 900123.",
        "their number is +447700900123",
        "here's my number 07700900123",
    ],
)  # fmt: skip
def test_a_message_that_is_a_number_is_kept_in_one_notation(text: str) -> None:
    said = phone_in(text, "GB")
    assert said is not None
    assert said.number == KEPT


@pytest.mark.parametrize(
    "text",
    [
        "152",
        "230 240 250 260",
        "020 230 250 240 260",
        "0 30 60 90 120",
        "my number is 230",
        "sides 140 150 160 155, top 180",
        "somebody is burnt, ring me on 07700 900123 now",
        "he rang 07700 900123 and nobody came",
        "fire 2 was on 02.05.2026 at 0900",
        "02.05.2026",
        "02/05/2026 0900",
        "02 05 2026",
        "0900 1030",
        "",
    ],
)
def test_readings_dangers_and_talk_are_no_number(text: str) -> None:
    assert phone_in(text, "GB") is None


def test_whose_it_is_and_that_they_ask_to_be_rung_is_heard() -> None:
    mine, theirs = phone_in("my phone is 07700 900123", "GB"), phone_in("phone 07700 900123", "GB")
    asks = phone_in("please ring me on 07700 900123", "GB")
    assert mine is not None
    assert theirs is not None
    assert asks is not None
    assert (mine.mine, mine.ring, theirs.mine) == (True, False, False)
    assert (asks.mine, asks.ring, asks.number) == (True, True, KEPT)


def test_a_number_without_its_country_is_asked_for_where_nobody_knows_the_country() -> None:
    said = phone_in("my phone is 07700 900123", None)
    assert said is not None
    assert said.unclear
    assert not said.number


@pytest.mark.parametrize("text", ["Forget my number", "remove my phone number", "no phone"])
def test_it_is_taken_out_by_a_word(text: str) -> None:
    said = phone_in(text, "GB")
    assert said is not None
    assert (said.number, said.unclear) == ("", False)


def test_a_name_and_the_number_behind_it_are_told_apart() -> None:
    name, said = without_phone("Rosa Miller, mobile 07700 900123", "GB")
    assert said is not None
    assert (name, said.number) == ("Rosa Miller", KEPT)
    assert without_phone("Rosa of Mill Lane 12", "GB") == ("Rosa of Mill Lane 12", None)


def test_a_channels_own_notation_is_read_as_international() -> None:
    assert phone_of("447700900123") == KEPT
    assert phone_of("07700 900123", "GB") == KEPT
    assert phone_of("abc") == ""


def test_every_way_in_which_it_was_likely_typed_can_be_found_again() -> None:
    forms = written_forms(KEPT)
    assert {"+447700900123", "07700900123", "07700 900123", KEPT} <= set(forms)
    assert written_forms("") == ()
