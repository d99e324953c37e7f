"""The oven file is written by hand, so every slip in it gets a sentence."""

import contextlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.commands.ovenfile import example, read_oven
from scheduling.oven.makeup import Cover
from scheduling.oven.preset import DescriptionError

PLAIN = """
name = "Mill lane"
construction = "brick-mortar"
inner_diameter_mm = 900
wet_work_ended = 2026-04-30
"""


def test_the_example_is_an_oven() -> None:
    read = read_oven(example({"floor_d": (14, "days before the first fire")}))
    assert read.make_up.name == "Orchard oven"
    assert read.make_up.cover is Cover.SHEET
    assert read.make_up.instrument is not None
    assert read.make_up.zone == "Europe/London"
    assert read.limits == {"floor_d": 14}


def test_the_example_fits_a_terminal() -> None:
    assert max(map(len, example({}).splitlines())) <= 90


def test_four_lines_are_enough() -> None:
    read = read_oven(PLAIN)
    assert read.make_up.shell_thickness_mm == 115
    assert read.limits == {}
    assert read.air_c is None


def test_a_known_material_need_not_be_told_in_full() -> None:
    told = PLAIN + (
        '[[layers]]\nkind = "shell"\nmaterial = "dense-castable"\nthickness_mm = 75\n'
        "free_water_kg_m3 = 55\nconductivity_w_mk = 1.3\n"
    )
    (layer,) = read_oven(told).make_up.layers
    assert (layer.conductivity_w_mk, layer.density_kg_m3) == (1.3, 2200)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "stokewatch plan --example"),
        ("name = ", "cannot be read as TOML"),
        ("name = 'x'", "construction is missing; it is one of cast-dense"),
        (PLAIN.replace("brick-mortar", "snow"), "no construction 'snow'"),
        (PLAIN + "inner_diametr_mm = 3", "Did you mean inner_diameter_mm?"),
        (PLAIN.replace("900", "9"), "300 to 2500 mm would be plausible"),
        (PLAIN.replace("900", '"wide"'), "inner_diameter_mm: 'wide' is not a number"),
        (PLAIN.replace("900", "nan"), "inner_diameter_mm"),
        (PLAIN.replace("2026-04-30", "12"), "wet_work_ended"),
        (PLAIN + "place = 3", "write [place] above its lines"),
        (PLAIN + "layers = 3", "write [[layers]] above each"),
        (PLAIN + "[thickness_mm]\nshell = -3", "shell: -3 is not a thickness"),
        (PLAIN + "[thickness_mm]\nshell = nan", "shell: nan is not a thickness"),
        (PLAIN + "[thickness_mm]\nfloor = 3", "use shell, insulation or render"),
        (PLAIN + "[air]\nmean_c = 400", "-50 to 50 °C would be plausible"),
        (PLAIN + "[air]\nmean = 4", "it has mean_c"),
        (PLAIN + "[air]\nmean_c = 4\ncoldest_c = 9", "is warmer than the mean"),
        (PLAIN + "[mix]\ncement_kg_m3 = 350", "water_cement is missing"),
        (PLAIN + "[mix]\ncement_kg_m3 = 3500\nwater_cement = 1", "free_water_kg_m3"),
        (PLAIN + "[instrument]\nmax_c = 3", "simple ones stop at"),
    ],
)
def test_a_slip_gets_a_sentence(text: str, says: str) -> None:
    with pytest.raises(DescriptionError) as caught:
        read_oven(text)
    assert says in str(caught.value)


@settings(derandomize=True, max_examples=100)
@given(
    st.sampled_from(PLAIN.split()),
    st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Z")), max_size=8),
)
def test_any_scribble_is_either_an_oven_or_a_sentence(where: str, scribble: str) -> None:
    with contextlib.suppress(DescriptionError):
        assert read_oven(PLAIN.replace(where, scribble, 1)).make_up.layers
