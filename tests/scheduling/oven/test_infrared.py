"""What the thermometer shows is turned into what the surface is."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduling.oven.infrared import (
    EMISSIVITY,
    Surface,
    band_radiance,
    corrected_c,
    surface_looked_at,
    temperature_of,
)


@settings(derandomize=True, max_examples=60)
@given(st.floats(-30, 700), st.floats(0.5, 1), st.floats(-30, 500))
def test_a_thermometer_set_right_needs_no_correction(
    shown_c: float, emissivity: float, background_c: float
) -> None:
    found = corrected_c(shown_c, emissivity, emissivity, background_c)
    assert found == pytest.approx(shown_c, abs=1e-6)


@settings(derandomize=True, max_examples=60)
@given(st.floats(50, 600), st.floats(0.6, 0.94), st.floats(-10, 45))
def test_a_bright_surface_in_the_open_is_hotter_than_it_looks(
    shown_c: float, emissivity: float, background_c: float
) -> None:
    assert corrected_c(shown_c, 0.95, emissivity, background_c) > shown_c


def test_inside_a_hot_dome_little_is_left_to_correct() -> None:
    outside = float(corrected_c(300, 0.95, 0.85, 20)) - 300
    inside = float(corrected_c(300, 0.95, 0.85, 280)) - 300
    assert inside < outside / 5


def test_many_members_are_corrected_at_once() -> None:
    emissivities = np.linspace(0.75, 0.95, 64)
    found = corrected_c(300.0, 0.95, emissivities, 250.0)
    assert found.shape == (64,)
    assert np.all(np.diff(found) < 0)


def test_a_reading_that_the_background_outshines_is_refused() -> None:
    with pytest.raises(ValueError, match="outshines"):
        corrected_c(20, 0.30, 0.20, 500)


@pytest.mark.parametrize("emissivity", [0.0, -0.5, 1.2, float("nan")])
def test_an_impossible_emissivity_is_refused(emissivity: float) -> None:
    with pytest.raises(ValueError, match="emissivity"):
        corrected_c(100, 0.95, emissivity, 20)


@pytest.mark.parametrize("radiance", [0.0, -1.0, float("nan"), float("inf")])
def test_no_surface_has_an_impossible_radiance(radiance: float) -> None:
    with pytest.raises(ValueError, match="no surface"):
        temperature_of(radiance)


def test_hotter_is_brighter() -> None:
    assert np.all(np.diff(band_radiance(np.arange(-60, 1200, 20))) > 0)


def test_soot_is_gone_from_a_dome_that_was_hot_enough() -> None:
    assert surface_looked_at(350) is Surface.SOOTY
    assert surface_looked_at(400) is Surface.CLEAN
    assert EMISSIVITY[Surface.CLEAN] < EMISSIVITY[Surface.SOOTY]
