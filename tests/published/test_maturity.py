"""The cure against EN 1992-1-1 and the fib's own implementation of it."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from structuralcodes.codes import ec2_2004, mc2010

from scheduling.oven.materials import tensile_strength_mpa
from scheduling.oven.maturity import (
    HARDENING,
    age_of_strength_d,
    ageing_rate,
    strength_ratio,
)


@pytest.mark.parametrize(
    ("temperature_c", "rate"),
    # EN 1992-1-1:2004 Annex B Eq. (B.10), recomputed from the formula; fib MC2010 5.1-85 is equal
    [
        (0, 0.3671),
        (5, 0.4778),
        (10, 0.6161),
        (15, 0.7875),
        (20, 0.9981),
        (25, 1.2551),
        (30, 1.5662),
        (40, 2.3880),
    ],
)
def test_a_day_counts_as_the_standard_says(temperature_c: float, rate: float) -> None:
    assert ageing_rate(temperature_c) == pytest.approx(rate, abs=1e-4)


def test_a_mixed_history_adds_up_as_in_structuralcodes() -> None:
    temperatures, days = [5.0, 10.0, 15.0], [2.0, 3.0, 2.0]
    ours = sum(ageing_rate(t) * d for t, d in zip(temperatures, days, strict=True))
    # structuralcodes 0.7, ec2_2004.t_T and mc2010.t_T
    assert ours == pytest.approx(float(ec2_2004.t_T(temperatures, days)), rel=1e-4)
    assert ours == pytest.approx(float(mc2010.t_T(temperatures, days)), rel=1e-4)
    assert ours == pytest.approx(4.3791, abs=1e-4)


@settings(derandomize=True, max_examples=60)
@given(st.floats(0, 80))
def test_every_temperature_in_range_agrees_with_structuralcodes(temperature_c: float) -> None:
    # structuralcodes 0.7, ec2_2004.t_T
    theirs = float(ec2_2004.t_T([temperature_c], [1.0]))
    assert ageing_rate(temperature_c) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize(
    ("cement_class", "at_days"),
    # EN 1992-1-1:2004 Eq. (3.2), recomputed from the formula
    [
        ("R", [0.4239, 0.6630, 0.8187, 0.9205, 1.0, 1.0925]),
        ("N", [0.3420, 0.5982, 0.7788, 0.9016, 1.0, 1.1169]),
        ("S", [0.1958, 0.4580, 0.6839, 0.8544, 1.0, 1.1830]),
    ],
)
def test_strength_grows_as_the_standard_says(cement_class: str, at_days: list[float]) -> None:
    for days, ratio in zip([1, 3, 7, 14, 28, 90], at_days, strict=True):
        ours = strength_ratio(days, cement_class)  # type: ignore[arg-type]
        assert ours == pytest.approx(ratio, abs=1e-4)
        # structuralcodes 0.7, ec2_2004.beta_cc
        theirs = float(ec2_2004.beta_cc(days, HARDENING[cement_class]))  # type: ignore[index]
        assert ours == pytest.approx(theirs, rel=1e-9)


def test_the_strength_of_a_known_concrete_at_seven_days() -> None:
    # EN 1992-1-1 3.1.2(5): f_ck(7) of C40 with s = 0.25 is 48 β - 8
    assert 48 * strength_ratio(7, "N") - 8 == pytest.approx(29.38244, abs=1e-4)


def test_the_implied_activation_energy_is_that_of_the_standard() -> None:
    # B.10 is an Arrhenius law of 4000 R = 33.26 kJ/mol about 273 + T
    slope = math.log(ageing_rate(30) / ageing_rate(10)) / (1 / 283 - 1 / 303)
    assert slope * 8.314 / 1000 == pytest.approx(33.26, abs=0.01)


@settings(derandomize=True, max_examples=40)
@given(st.floats(0.3, 1.0), st.sampled_from(["S", "N", "R"]))
def test_the_age_of_a_strength_has_that_strength(ratio: float, cement_class: str) -> None:
    days = age_of_strength_d(ratio, cement_class)  # type: ignore[arg-type]
    assert strength_ratio(days, cement_class) == pytest.approx(ratio, rel=1e-9)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("f_ck", "f_ctm"),
    # EN 1992-1-1:2004 Table 3.1
    [(12, 1.572), (20, 2.210), (25, 2.565), (30, 2.896)],
)
def test_tensile_strength_follows_the_table(f_ck: float, f_ctm: float) -> None:
    assert tensile_strength_mpa(f_ck) == pytest.approx(f_ctm, abs=1e-3)
    # structuralcodes 0.7, ec2_2004.fctm
    assert tensile_strength_mpa(f_ck) == pytest.approx(float(ec2_2004.fctm(f_ck)), rel=1e-9)
