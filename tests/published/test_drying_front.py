"""The drying front against Neumann's solution of the one-phase Stefan problem.

Carslaw & Jaeger, 2nd ed., §11.2; Alexiades & Solomon 1993: λ exp(λ²) erf(λ) = Ste/√π,
s = 2λ√(αt).
"""

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import erf

from scheduling.oven.saturation import latent_heat_j_kg
from scheduling.oven.steam import BOILS_C
from tests.published.slabs import face_at, plane, resting, run

RHO, C, K = 2000.0, 1000.0, 1.0


def front_factor(stefan: float) -> float:
    """λ of Neumann's solution."""
    return float(
        brentq(lambda lam: lam * np.exp(lam**2) * erf(lam) - stefan / np.sqrt(np.pi), 1e-6, 3.0)
    )


@pytest.mark.parametrize(
    ("stefan", "factor"), [(0.1, 0.22002), (0.5, 0.46479), (1.0, 0.62006), (2.0, 0.80060)]
)
def test_the_solution_is_the_tabled_one(stefan: float, factor: float) -> None:
    assert front_factor(stefan) == pytest.approx(factor, abs=1e-5)


@pytest.mark.parametrize("stefan", [0.1, 0.5, 1.0, 2.0])
def test_the_front_moves_as_neumann_says(stefan: float) -> None:
    water = 60.0
    surface_c = BOILS_C + stefan * water * float(latent_heat_j_kg(BOILS_C)) / (RHO * C)
    mesh = plane([2.0] * 100, k=K, rho=RHO, c=C, water=water)
    hours = 2.0
    state = run(mesh, resting(mesh, BOILS_C, water), hours * 3600.0, 30.0, face_at(surface_c))
    front = float((1.0 - state.water_kg_m3[0, mesh.cells :] / water).sum() * 2e-3)
    exact = 2.0 * front_factor(stefan) * np.sqrt(K / (RHO * C) * hours * 3600.0)
    assert front == pytest.approx(exact, rel=0.02)
