"""Models of a builder's own: ovens that they build again and again."""

from datetime import date

import pytest

from bot.ways.models import MOST_MODELS, answers_of, model_called
from bot.ways.reading import WaysError, read_ways
from scheduling.choice import About
from scheduling.firing.answers import BUILDERS, checked
from tests.bot.ways.files import FULL

GARDEN = """\
[models.garden-80]
title = "Garden 80"
construction = "cast-dense"
diameter_mm = 800
shell_mm = 75
door = "insulated"
flue = true
thermometer_c = 550
"""


def test_a_model_answers_what_it_says_and_nothing_else() -> None:
    ways = read_ways(GARDEN)
    told = dict(answers_of(ways.models["garden-80"]))
    assert told == {
        About.CONSTRUCTION: "cast-dense",
        About.SIZE: "800",
        About.THICKNESS: "75",
        About.OPENINGS: "insulated+flue",
        About.INSTRUMENT: "550",
    }
    bare = read_ways('[models.a]\ntitle = "A"\nconstruction = "cast-dense"\n').models["a"]
    assert dict(answers_of(bare)) == {About.CONSTRUCTION: "cast-dense"}


def test_every_answer_of_a_model_is_one_that_a_builder_may_give() -> None:
    for about, value in answers_of(read_ways(GARDEN).models["garden-80"]):
        assert about in BUILDERS
        assert checked(about, value, date(2026, 5, 1), {}) == value


def test_a_model_may_be_of_a_construction_of_the_builders_own() -> None:
    ways = read_ways(FULL + GARDEN.replace("cast-dense", "our-mix"))
    assert dict(answers_of(ways.models["garden-80"]))[About.CONSTRUCTION] == "our-mix"


def test_a_model_is_found_by_its_key_or_its_title() -> None:
    ways = read_ways(GARDEN)
    assert model_called(ways, "garden-80") == model_called(ways, " garden  80 ") == "garden-80"
    assert model_called(ways, "Garden 90") is None


@pytest.mark.parametrize(
    ("change", "what", "field", "line"),
    [
        (('"cast-dense"', '"nothing"'), "no_construction", "construction", 3),
        (("diameter_mm = 800", "diameter_mm = 8000"), "out_of_range", "diameter_mm", 4),
        (("diameter_mm = 800", "diameter_in = 200"), "out_of_range", "diameter_in", 4),
        (("shell_mm = 75", "shell_mm = 750"), "out_of_range", "shell_mm", 5),
        (('door = "insulated"', 'door = "glass"'), "description", "door", 6),
        (("flue = true", "flew = true"), "unknown", "flew", 7),
    ],
)
def test_a_model_that_cannot_be_right_is_refused_by_line(
    change: tuple[str, str], what: str, field: str, line: int
) -> None:
    with pytest.raises(WaysError) as caught:
        read_ways(GARDEN.replace(*change))
    fault = caught.value.faults[0]
    assert (fault.what, fault.field, fault.line) == (what, field, line)


def test_no_more_models_than_a_phone_can_show() -> None:
    many = "\n".join(GARDEN.replace("garden-80", f"m{n}") for n in range(MOST_MODELS + 1))
    with pytest.raises(WaysError) as caught:
        read_ways(many)
    assert caught.value.faults[0].what == "too_many"
