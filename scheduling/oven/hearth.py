"""The hearth: tiles on an insulating slab, warmed from above, with water of its own.

No make-up describes it, so every member has its own idea of one (own choices, where no source is
named). It follows the fire's heat and gives none back to the dome: what it loses with the door on
is in the door's loss. Half of it lies under the fire and follows the crown, half beside it and
follows the sides (an oven fired through: floor 439 °C, dome 480 to 500 °C; Falciano, Moresi &
Masi, Foods 12 (2023) 890).
"""

import math
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from scheduling.oven.fire_heat import HEARTH_SHARE
from scheduling.oven.makeup import MakeUp
from scheduling.oven.mesh import Mesh, Stuff, disc
from scheduling.oven.wall import ColdFaces, HotFaces, WallState, stepped, water_kg
from scheduling.oven.wall import at_rest as walls_at_rest

Floats = npt.NDArray[np.float64]

STEP_S = 600.0
"""A hearth is stepped no more often: it limits no fire."""

CELLS_MM = (4.0, 6.0, 9.0, 12.0, 14.0, 15.0, 20.0, 20.0, 20.0, 20.0)
TILES = 6
"""How many of those cells are tiles; the rest is the slab."""

TILE = {"k": 1.05, "rho": 2150.0, "c": 956.0, "kappa": 3e-15, "water": 40.0}
SLAB = {"k": 0.16, "rho": 480.0, "c": 795.0, "kappa": 1e-13, "water": 100.0}
"""Fireclay tile and perlite concrete as in the catalogue; the water of wetted tiles and of their
bed, and of a slab mixed wet (own choice)."""

GROUND_W_M2K = 8.0


@dataclass(frozen=True, slots=True)
class HearthState:
    """Temperatures and water of the hearths (see ``WallState``; first the half under the fire),
    what has passed of a step (``owed_s``, ``owed_k_s`` (M, 2): time and its faces' °C s), and the
    heat (J) that has gone in since ever (M,)."""

    wall: WallState
    owed_s: float
    owed_k_s: Floats
    heat_j: Floats

    def of_members(self, chosen: npt.NDArray[np.intp]) -> "HearthState":
        """The same for some members, in that order."""
        return HearthState(
            self.wall.of_members(chosen), self.owed_s, self.owed_k_s[chosen], self.heat_j[chosen]
        )


def hearth_mesh(make_up: MakeUp, conductivity: Floats, water: Floats) -> Mesh:
    """The hearths of members whose stone conducts, and holds water, by these factors (M,)."""
    tile = np.arange(len(CELLS_MM)) < TILES
    ones = np.ones((conductivity.size, len(CELLS_MM)))

    def each(name: str) -> Floats:
        return np.where(tile, TILE[name], SLAB[name]) * ones

    stuff = Stuff(
        1e-3 * np.array(CELLS_MM) * ones,
        each("k") * conductivity[:, np.newaxis],
        each("rho"),
        each("c"),
        each("kappa"),
        each("water") * water[:, np.newaxis],
    )
    depth = np.cumsum(CELLS_MM) - 0.5 * np.array(CELLS_MM)
    return disc(stuff, HEARTH_SHARE * make_up.dome_area_m2, tile, ~tile, depth)


def hearth_water_kg_m3(factor: Floats) -> Floats:
    """What a fresh hearth holds (M, 2n), by each member's factor (M,)."""
    tile = np.arange(len(CELLS_MM)) < TILES
    row = np.where(tile, TILE["water"], SLAB["water"])
    return np.asarray(factor[:, np.newaxis] * np.concatenate([row[::-1], row]))


def at_rest(mesh: Mesh, air_c: float, water_kg_m3: Floats) -> HearthState:
    """Hearths as cool as the air."""
    none = np.zeros((mesh.members, 2))
    return HearthState(walls_at_rest(mesh, air_c, water_kg_m3), 0.0, none, none[:, 0])


def passed(
    mesh: Mesh, state: HearthState, seconds: float, faces_c: Floats, air_c: float
) -> HearthState:
    """The hearths after ``seconds`` under faces (M, 2), under the fire and beside it."""
    owed_s, owed_k_s = state.owed_s + seconds, state.owed_k_s + seconds * faces_c
    if owed_s < STEP_S - 1e-6:
        return replace(state, owed_s=owed_s, owed_k_s=owed_k_s)
    hot = HotFaces(np.asarray(np.inf), owed_k_s / owed_s, np.zeros(2))
    cold = ColdFaces(np.full((1, 2), GROUND_W_M2K), air_c)
    wall, crossed = stepped(mesh, state.wall, owed_s, hot, cold)
    heat_j = state.heat_j + crossed.heat_in_w.sum(axis=1) * owed_s
    return HearthState(wall, 0.0, np.zeros_like(owed_k_s), heat_j)


def unfollowed(state: HearthState) -> HearthState:
    """The same hearths, not stepped any more: for a look ahead that asks nothing of them."""
    return replace(state, owed_s=-math.inf)


def tile_water_kg(mesh: Mesh, state: HearthState) -> Floats:
    """Water left in the tiles, half by half (M, 2)."""
    return water_kg(mesh, state.wall, mesh.shell)
