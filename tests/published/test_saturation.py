"""Boiling water against IAPWS-95 as CoolProp has it, and the values that IAPWS itself prints."""

import numpy as np
import pytest
from CoolProp import CoolProp

from scheduling.oven.saturation import (
    boiling_point_c,
    latent_heat_j_kg,
    saturation_pressure_pa,
    steam_viscosity_pa_s,
)

TEMPERATURES_C = np.arange(100.0, 251.0, 10.0)


@pytest.mark.parametrize("at_c", TEMPERATURES_C)
def test_pressure_and_latent_heat_are_those_of_coolprop(at_c: float) -> None:
    kelvin = at_c + 273.15
    pressure = CoolProp.PropsSI("P", "T", kelvin, "Q", 0, "Water")
    heat = CoolProp.PropsSI("H", "T", kelvin, "Q", 1, "Water") - CoolProp.PropsSI(
        "H", "T", kelvin, "Q", 0, "Water"
    )
    assert float(saturation_pressure_pa(at_c)) == pytest.approx(pressure, rel=0.005)
    assert float(latent_heat_j_kg(at_c)) == pytest.approx(heat, rel=0.005)


# IAPWS R7-97(2012) Tables 35 and 36.
@pytest.mark.parametrize(
    ("kelvin", "mpa"), [(300.0, 0.353658941e-2), (500.0, 2.63889776), (600.0, 12.3443146)]
)
def test_pressures_are_the_printed_ones(kelvin: float, mpa: float) -> None:
    assert float(saturation_pressure_pa(kelvin - 273.15)) == pytest.approx(1e6 * mpa, rel=1e-8)


@pytest.mark.parametrize(
    ("mpa", "kelvin"), [(0.1, 372.755919), (1.0, 453.035632), (10.0, 584.149488)]
)
def test_boiling_points_are_the_printed_ones(mpa: float, kelvin: float) -> None:
    assert float(boiling_point_c(1e6 * mpa)) + 273.15 == pytest.approx(kelvin, abs=1e-6)


@pytest.mark.parametrize("at_c", [110.0, 150.0, 200.0, 250.0, 300.0])
def test_viscosity_of_steam_is_that_of_coolprop(at_c: float) -> None:
    viscosity = CoolProp.PropsSI("V", "T", at_c + 273.15, "P", 1.0e5, "Water")
    assert float(steam_viscosity_pa_s(at_c)) == pytest.approx(viscosity, rel=0.01)
