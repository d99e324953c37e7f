"""Conduction against closed solutions, with the mesh in use."""

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import erfc, erfcx

from scheduling.oven.wall import HotFaces
from tests.published.slabs import at_depths, face_at, in_use, plane, resting, run

ALPHA = 1.0 / (2050.0 * 960.0)


@pytest.mark.parametrize("minutes", [10, 30, 60, 120, 240])
def test_a_stepped_surface_warms_a_thick_wall_by_erfc(minutes: int) -> None:
    """Carslaw & Jaeger, 2nd ed., §2.5: T = Ti + (Ts - Ti) erfc(x/2√(αt))."""
    mesh = plane(in_use(600.0))
    state = run(mesh, resting(mesh, 20.0), minutes * 60.0, 30.0, face_at(300.0))
    depths = np.array([25.0, 50.0, 100.0])
    exact = 20.0 + 280.0 * erfc(1e-3 * depths / (2.0 * np.sqrt(ALPHA * minutes * 60.0)))
    np.testing.assert_allclose(at_depths(mesh, state, depths, 300.0), exact, atol=1.5)


@pytest.mark.parametrize("seconds", [600, 3600, 7200])
def test_a_constant_flux_warms_a_thick_wall(seconds: int) -> None:
    """Carslaw & Jaeger §2.9: the surface rises by 2q√(αt/π)/k."""
    mesh = plane(in_use(600.0))
    hot = HotFaces(np.asarray(0.0), np.zeros((1, 2)), np.full(2, 5000.0))
    state = run(mesh, resting(mesh, 0.0), seconds, 15.0, hot)
    face = state.temperature_c[0, mesh.cells] + 5000.0 / float(mesh.inner_w_k[0, 1])
    assert face == pytest.approx(2 * 5000.0 * np.sqrt(ALPHA * seconds / np.pi), abs=1.5)


@pytest.mark.parametrize("seconds", [600, 3600, 7200])
def test_hot_air_warms_a_thick_wall(seconds: int) -> None:
    """Carslaw & Jaeger §2.7, Incropera Eq. (5.60); erfcx keeps it from overflowing."""
    mesh = plane(in_use(600.0))
    hot = HotFaces(np.asarray(20.0), np.full((1, 2), 300.0), np.zeros(2))
    state = run(mesh, resting(mesh, 20.0), seconds, 15.0, hot)
    depth = 0.05
    root = np.sqrt(ALPHA * seconds)
    place = depth / (2 * root)
    exact = 20.0 + 280.0 * (erfc(place) - np.exp(-(place**2)) * erfcx(place + 20.0 * root))
    assert at_depths(mesh, state, np.array([50.0]), np.nan)[0] == pytest.approx(exact, abs=1.5)


@pytest.mark.parametrize("fourier", [0.2, 0.5, 1.0])
@pytest.mark.parametrize("biot", [np.inf, 1.0])
def test_a_shell_with_an_insulated_back_follows_the_series(biot: float, fourier: float) -> None:
    """Carslaw & Jaeger §3.3 and §3.11: a face held, and one that meets a film; 200 terms."""
    length = 0.09
    mesh = plane(in_use(90.0))
    film = np.asarray(biot * 1.0 / length)
    hot = HotFaces(film, np.zeros((1, 2)), np.zeros(2))
    seconds = fourier * length**2 / ALPHA
    state = run(mesh, resting(mesh, 1.0), seconds, seconds / 2000, hot)
    from_back = 1.0 - mesh.depth_mm / 90.0
    expected = _series(biot, fourier, from_back)
    np.testing.assert_allclose(state.temperature_c[0, mesh.cells :], expected, atol=0.005)


def _series(biot: float, fourier: float, place: np.ndarray) -> np.ndarray:
    total = np.zeros_like(place)
    for n in range(200):
        if np.isinf(biot):
            root = (n + 0.5) * np.pi
        else:
            root = brentq(lambda z: z * np.sin(z) - biot * np.cos(z), n * np.pi, (n + 0.5) * np.pi)
        weight = 4 * np.sin(root) / (2 * root + np.sin(2 * root))
        total += weight * np.exp(-(root**2) * fourier) * np.cos(root * place)
    return total


def test_the_series_is_the_tabled_one() -> None:
    """Incropera Table 5.1 / Eq. (5.39), Bi = 1: centre and surface (from memory, recomputed)."""
    both = _series(1.0, 0.5, np.array([0.0, 1.0]))
    np.testing.assert_allclose(both, [0.77253, 0.50452], atol=1e-4)


def _quarter_wave_error(cells: int, step_s: float, seconds: float) -> float:
    """Worst error of the slowest mode of a wall with a cold face and an insulated back."""
    length = 0.1
    mesh = plane([1e3 * length / cells] * cells)
    wave = np.sin(0.5 * np.pi * mesh.depth_mm / (1e3 * length))
    state = resting(mesh, 0.0)
    state = type(state)(
        np.concatenate([wave[::-1], wave])[np.newaxis], state.water_kg_m3, state.pressure_pa
    )
    state = run(mesh, state, seconds, step_s, face_at(0.0))
    exact = wave * np.exp(-ALPHA * (0.5 * np.pi / length) ** 2 * seconds)
    return float(np.abs(state.temperature_c[0, mesh.cells :] - exact).max())


def test_error_falls_with_the_square_of_the_cell() -> None:
    errors = [_quarter_wave_error(cells, 0.05, 60.0) for cells in (5, 10, 20)]
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    np.testing.assert_allclose(orders, 2.0, atol=0.15)


def test_error_falls_with_the_step() -> None:
    errors = [_quarter_wave_error(160, step_s, 3600.0) for step_s in (240.0, 120.0, 60.0)]
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    np.testing.assert_allclose(orders, 1.0, atol=0.1)
