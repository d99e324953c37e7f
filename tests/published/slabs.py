"""Plane walls to hold published solutions against."""

import numpy as np
import numpy.typing as npt

from scheduling.oven.mesh import Mesh, Stuff, shell_cells_mm, slab
from scheduling.oven.wall import ColdFaces, HotFaces, WallState, at_rest, stepped

Floats = npt.NDArray[np.float64]

INSULATED = ColdFaces(np.zeros((1, 2)), 0.0)


def plane(
    sizes_mm: list[float],
    *,
    k: float = 1.0,
    rho: float = 2050.0,
    c: float = 960.0,
    permeability: float = 1e-6,
    water: float = 0.0,
) -> Mesh:
    """A wall of one member. Defaults: the brick of Incropera, Table A.3 (from memory)."""
    sizes = np.array([sizes_mm]) * 1e-3

    def same(value: float) -> Floats:
        return np.full_like(sizes, value)

    stuff = Stuff(sizes, same(k), same(rho), same(c), same(permeability), same(water))
    count = sizes.shape[1]
    depth = (np.cumsum(sizes[0]) - sizes[0] / 2) * 1e3
    return slab(stuff, np.ones(count, dtype=bool), np.zeros(count, dtype=bool), depth)


def in_use(thickness_mm: float) -> list[float]:
    """The cells of a shell as the program cuts them."""
    return shell_cells_mm(thickness_mm)


def face_at(temperature_c: float) -> HotFaces:
    """Both hot faces at a temperature."""
    return HotFaces(np.asarray(np.inf), np.full((1, 2), temperature_c), np.zeros(2))


def run(
    mesh: Mesh,
    state: WallState,
    seconds: float,
    step_s: float,
    hot: HotFaces,
    cold: ColdFaces = INSULATED,
) -> WallState:
    """Step on for ``seconds``."""
    for _ in range(round(seconds / step_s)):
        state, _ = stepped(mesh, state, step_s, hot, cold)
    return state


def resting(mesh: Mesh, at_c: float, water_kg_m3: float = 0.0) -> WallState:
    """All of one temperature."""
    return at_rest(mesh, at_c, np.full_like(mesh.volume_m3, water_kg_m3))


def at_depths(mesh: Mesh, state: WallState, depths_mm: Floats, face_c: float) -> Floats:
    """Temperatures of the second wall at some depths, the face's own included."""
    places = np.concatenate([[0.0], mesh.depth_mm])
    values = np.concatenate([[face_c], state.temperature_c[0, mesh.cells :]])
    return np.asarray(np.interp(depths_mm, places, values))
