"""A file of own ways in °F and inches says the same as one in °C and millimetres."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.ways.editing import edited, is_edit
from bot.ways.examples import CONSTRUCTION, MODEL
from bot.ways.reading import WaysError, read_ways
from bot.ways.shape import OwnWays
from bot.ways.units import SPELLINGS, Unit
from bot.ways.writing import written
from scheduling.meaning.ways import WayFault
from tests.bot.ways.files import FULL

UNITS: tuple[Unit, ...] = ("C", "F")


def faults(text: str) -> tuple[WayFault, ...]:
    with pytest.raises(WaysError) as caught:
        read_ways(text)
    return caught.value.faults


def test_degrees_and_differences_of_degrees_are_read_each_by_its_own_rule() -> None:
    ways = read_ways("[limits]\nfinal_f = 716\nstep_f = 90\nclimb_low_f_h = 144\n")
    assert ways.limits.final_c == 380
    assert ways.limits.step_k == 50
    assert ways.limits.climb_low_k_h == 80


@pytest.mark.parametrize("unit", UNITS)
def test_a_file_comes_back_as_it_went_out_whatever_its_unit(unit: Unit) -> None:
    paper = '\n[paper]\nname = "The Yard"\naddress = ["1 Mill Lane"]\nlogo = "telegram:1"\n'
    model = MODEL["C"].replace("cast-dense", "our-mix")
    ways = read_ways(f"learn = false\n{FULL}{paper}\n{model}")
    assert (ways.learn, ways.paper.name, len(ways.models)) == (False, "The Yard", 1)
    assert read_ways(written(ways, unit)) == ways
    assert read_ways(written(OwnWays(), unit)) == OwnWays()


@given(final=st.integers(150, 400), step=st.integers(20, 100), unit=st.sampled_from(UNITS))
@settings(max_examples=60, deadline=None)
def test_no_number_is_lost_on_the_way_out_and_back(final: int, step: int, unit: Unit) -> None:
    ways = read_ways(f"[limits]\nfinal_c = {final}\nstep_k = {step}\n")
    assert read_ways(written(ways, unit)) == ways


@given(final=st.integers(310, 750), unit=st.sampled_from(UNITS))
@settings(max_examples=60, deadline=None)
def test_what_was_typed_in_fahrenheit_survives_a_reader_of_celsius(final: int, unit: Unit) -> None:
    ways = read_ways(f"[limits]\nfinal_f = {final}\n")
    assert read_ways(written(ways, unit)) == ways


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("example", [MODEL, CONSTRUCTION])
def test_every_example_in_the_file_reads_as_it_stands(example: dict[Unit, str], unit: Unit) -> None:
    bare = example[unit]
    assert all(f"# {line}".rstrip() in written(OwnWays(), unit) for line in bare.splitlines())
    ways = read_ways(bare)
    assert ways.models or ways.presets


def test_both_units_of_one_example_are_nearly_the_same_oven() -> None:
    celsius = read_ways(MODEL["C"]).models["garden-80"]
    inches = read_ways(MODEL["F"]).models["garden-32"]
    assert celsius.diameter_mm == pytest.approx(inches.diameter_mm, abs=15)


def test_a_fault_names_the_key_that_was_typed_its_line_and_its_own_range() -> None:
    (fault,) = faults("# ours\n[limits]\nfinal_f = 9000\n")
    assert (fault.what, fault.field, fault.line) == ("out_of_range", "final_f", 3)
    assert (fault.low, fault.high, fault.value) == (302, 896, "9000")


def test_a_limit_in_two_units_is_asked_back() -> None:
    (fault,) = faults("[limits]\nfinal_f = 700\nfinal_c = 380\n")
    assert (fault.what, fault.field, fault.line, fault.near) == ("both", "final_f", 2, "final_c")


def test_more_than_usual_is_said_twice_in_any_unit() -> None:
    assert faults("[limits]\nfinal_f = 840\n")[0].what == "less_gentle"
    text = 'reason = "steel"\n[limits]\nfinal_f = 840\n[less_gentle]\nfinal_f = 840\n'
    assert read_ways(text).limits.final_c == pytest.approx(448.89)


def test_a_word_in_place_of_a_number_is_a_fault_of_the_typed_key() -> None:
    (fault,) = faults("[limits]\nfinal_f = 'hot'\n")
    assert (fault.what, fault.field, fault.line) == ("not_number", "final_f", 2)


def test_unknown_keys_are_each_named_with_their_line() -> None:
    found = faults("[limits]\nfinal_x = 3\n[word]\ngreeting = 'hi'\n[models.a]\ncolour = 'red'\n")
    named = {(one.field, one.line) for one in found if one.what == "unknown"}
    assert named >= {("final_x", 2), ("word", 3), ("colour", 6)}


def test_in_the_chat_a_newer_unit_takes_the_place_of_the_older() -> None:
    ways = edited(read_ways(FULL), "final_f = 700")
    assert ways.limits.final_c == pytest.approx(371.11)
    assert edited(ways, "final_c = 380").limits.final_c == 380
    assert edited(ways, "final_f = none").limits.final_c is None


def test_in_the_chat_every_unknown_key_is_named() -> None:
    typed = "cure_flor_d = 28\nfinl_f = 700"
    assert is_edit(typed)
    with pytest.raises(WaysError) as caught:
        edited(OwnWays(), typed)
    told = [(one.field, one.line, one.near) for one in caught.value.faults]
    assert told == [("cure_flor_d", 1, "cure_floor_d"), ("finl_f", 2, "final_f")]


def test_every_spelling_has_its_sign_in_the_remarks() -> None:
    limits = [one for one in SPELLINGS if one.own in ("step_k", "final_c", "climb_low_k_h")]
    for unit in UNITS:
        text = written(OwnWays(), unit)
        for one in limits:
            key = one.own if unit == "C" else one.theirs
            assert re.search(rf"^# {key} = .*°[CF]", text, re.M), (key, text)
