"""Every hazard has its texts, with where their advice was read; without them nothing imports."""

from importlib.resources import files

import pytest

from bot.understanding.hazard_words import words_in
from bot.understanding.shelf import shelf
from bot.wording.hazard_texts import TEXTS, texts_in
from scheduling.hazard import HAZARDS, TOLD, Hazard

WRITTEN = files("bot.wording").joinpath("hazards.toml").read_text("utf-8")


@pytest.mark.parametrize("hazard", TOLD)
@pytest.mark.parametrize("field", ["first", "ask", "over", "source"])
def test_a_hazard_that_lacks_a_text_does_not_import(hazard: Hazard, field: str) -> None:
    head, section = WRITTEN.split(f"\n[{hazard.value}]\n")
    without = section.replace(f"\n{field} = ", f"\nno_{field} = ", 1)
    assert without != section
    with pytest.raises(ValueError, match=f"{field}|{hazard.value}"):
        texts_in(f"{head}\n[{hazard.value}]\n{without}")


def test_one_that_nobody_tells_of_by_name_has_its_question_too() -> None:
    head, section = WRITTEN.split("\n[crack_unsaid]\n")
    without = section.replace("\nask = ", "\nno_ask = ", 1).replace("no_ask", "button", 1)
    with pytest.raises(ValueError, match="lacks ask of crack_unsaid"):
        texts_in(f"{head}\n[crack_unsaid]\n{without}")


def test_a_hazard_without_any_text_does_not_import() -> None:
    for hazard in Hazard:
        lines = WRITTEN.split(f"\n[{hazard.value}]\n")
        rest = lines[1].split("\n[", 1)
        with pytest.raises(ValueError, match=hazard.value):
            texts_in(lines[0] + ("\n[" + rest[1] if len(rest) > 1 else ""))


def test_texts_of_no_hazard_do_not_import() -> None:
    with pytest.raises(ValueError, match="volcano"):
        texts_in(f'{WRITTEN}\n[volcano]\nname = "lava"\n')


@pytest.mark.parametrize("hazard", TOLD)
def test_a_hazard_without_messages_for_the_tests_does_not_import(hazard: Hazard) -> None:
    sections = shelf(f"hazards/{hazard.value}")
    with pytest.raises(ValueError, match=hazard.value):
        words_in(hazard, {**sections, "examples": ()})


def test_whoever_comes_first_is_people_then_the_fire_then_the_oven() -> None:
    order = [HAZARDS[one].people for one in TOLD]
    assert order == sorted(order, reverse=True)


def test_where_a_life_is_at_stake_a_number_to_ring_is_named() -> None:
    for hazard in TOLD:
        if HAZARDS[hazard].people:
            text = TEXTS[hazard]
            assert "{call}" in text.first + " ".join(text.steps), hazard


def test_what_is_said_without_a_flue_is_a_field_of_the_same_name() -> None:
    wrong = WRITTEN.replace("without_flue.ask = ", "without_flue.asks = ", 1)
    assert wrong != WRITTEN
    with pytest.raises(ValueError, match="asks"):
        texts_in(wrong)[Hazard.FLUE_FLAMES].of_no_flue()
