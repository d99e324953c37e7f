"""A reader finds the one thing to do."""

from datetime import UTC, datetime

import pytest

from bot.rehearsal.reading_the_bot import Wish, understand
from tests.bot.rehearsal.scripted import Said


def wish(text: str, *labels: str) -> Wish:
    return understand(Said(datetime(2026, 5, 26, tzinfo=UTC), "robin", text, (labels,)))


@pytest.mark.parametrize(
    ("text", "kg", "pieces"),
    [
        ("Put on 0.5 kg now, then read in half an hour.", 0.5, None),
        ("Add 2 pieces (about 1,2 kg).", 1.2, 2),
        ("Add two splits.", None, 2),
        ("Stoke with 1 to 1.5 kg.", 1.5, None),
        ("Add nothing. It should climb by itself.", None, None),
        ("Don't add wood yet: 2 kg would be too much.", None, None),
        ("For tomorrow lay in 6 kg of dry wood.", None, None),
        ("What does the top read?", None, None),
    ],
)
def test_wood_is_only_put_on_when_it_is_asked_for_now(
    text: str, kg: float | None, pieces: float | None
) -> None:
    found = wish(text)
    assert (found.wood_kg, found.pieces) == (kg, pieces)


def test_what_to_do_is_told_apart() -> None:
    assert wish("What does the top of the dome read?").read
    assert wish("Shut the door now, good night.").door_on
    assert wish("Rake the fire apart.").rake
    assert wish("Spread the embers over the floor.").embers
    assert wish("You can light it now, with 1 kg of sticks.").light
    assert not wish("Tomorrow you can light it at nine.").light
    assert wish("Not yet: do not light anything before Friday.").not_yet
    assert wish("Stop here and call your builder.").stop
    assert wish("Your break-in is done.").done
    assert wish("Did you mean 152?", "152", "52").unclear


def test_the_bold_number_is_the_one_that_counts() -> None:
    assert wish("From 90 °C to <b>150 °C</b>").named_c == 150
    assert wish("Aim for <b>302 °F</b>").named_c == pytest.approx(150)
    assert wish("nothing here").named_c is None


def test_buttons_are_found_by_what_they_say() -> None:
    found = wish("Is it lit?", "Not yet", "Lit")
    assert found.button("lit") == "Lit"
    assert found.button("yes") is None
