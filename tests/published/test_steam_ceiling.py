"""Simulated steam pressure against Darcy's law in closed form, where all heat evaporates water.

P² - P0² = 2 μ (R/M) T k (T_surface - T_front)/(κL): the crust's thickness cancels.
"""

import numpy as np
import pytest

from scheduling.oven.saturation import ATMOSPHERE_PA, boiling_point_c
from scheduling.oven.steam import allowed_overpressure_pa, surface_ceiling_c
from scheduling.oven.wall import water_kg
from tests.published.slabs import face_at, plane, resting, run


def test_the_worked_ceiling_of_a_dense_wall() -> None:
    """k = 1.1, κ = 1e-16, f = 1 MPa over 3: front near 146 °C, ceiling near 153 °C."""
    limit = 1e6 / 3.0
    assert float(boiling_point_c(ATMOSPHERE_PA + limit)) == pytest.approx(146.0, abs=1.0)
    assert float(surface_ceiling_c(limit, 1.1, 1e-16)) == pytest.approx(153.0, abs=1.0)


def test_the_limit_is_the_tensile_strength_of_the_code() -> None:
    """EN 1992-1-1 Table 3.1: f_ctm of C12 is 1.57 MPa, of C20 2.21 MPa."""
    assert float(allowed_overpressure_pa(12.0, 1.0, 1.0)) == pytest.approx(1.57e6, rel=2e-3)
    assert float(allowed_overpressure_pa(20.0, 0.5, 3.0)) == pytest.approx(2.21e6 / 6, rel=2e-3)


@pytest.mark.parametrize(
    ("permeability", "overpressure"), [(1e-15, 0.33e6), (1e-15, 0.1e6), (1e-14, 0.1e6)]
)
def test_a_wall_at_its_ceiling_reaches_its_limit(permeability: float, overpressure: float) -> None:
    ceiling = float(surface_ceiling_c(overpressure, 1.1, permeability))
    # Quasi-steady: much water, little heat capacity, the wet part already at its boiling point.
    # The front passes from cell to cell in small jerks, so its passage through many is averaged.
    mesh = plane([4.0] * 25, k=1.1, rho=300.0, c=100.0, permeability=permeability, water=300.0)
    front = float(boiling_point_c(ATMOSPHERE_PA + overpressure))
    state = resting(mesh, front, 300.0)
    seen: list[float] = []
    dried_share = 0.0
    while dried_share < 0.35:
        state = run(mesh, state, 20.0, 20.0, face_at(ceiling))
        dried_share = 1.0 - float(water_kg(mesh, state)[0, 1]) / (300.0 * 0.1)
        if dried_share > 0.15:
            seen.append(float(state.pressure_pa[0, 1]) - ATMOSPHERE_PA)
    assert np.mean(seen) == pytest.approx(overpressure, rel=0.03)


def test_a_stronger_more_open_or_less_conducting_wall_bears_more() -> None:
    usual = float(surface_ceiling_c(3e5, 1.1, 1e-15))
    assert float(surface_ceiling_c(4e5, 1.1, 1e-15)) > usual
    assert float(surface_ceiling_c(3e5, 1.1, 2e-15)) > usual
    assert float(surface_ceiling_c(3e5, 0.8, 1e-15)) > usual
    assert np.all(np.diff(surface_ceiling_c(np.linspace(1e4, 1e6, 30), 1.1, 1e-15)) > 0)
