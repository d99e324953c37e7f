"""How the wall is cut into cells.

Every member of an ensemble has two walls, crown and side. They lie end to end in one row of
cells, the crown from its outer face to the fire and on from the fire to the side's outer face,
so that even the radiation between the two hot faces is a neighbour's coupling and the whole
ensemble is one tridiagonal system.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from scheduling.oven.makeup import MakeUp
from scheduling.oven.rows import WALLS, Records

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]

CROWN, SIDE = 0, 1

CROWN_SHARE = 0.4
"""Share of the dome's area that the flames wash: own choice; the upper 0.4 of a half sphere."""

CELL_GROWTH_MM = (3.0, 3.5, 4.0, 4.5, 5.0, 6.0, 7.0, 8.0, 9.0)
"""Cells of a shell from the fire outward, the last one repeated. A thicker shell has the same
cells next to the fire and more behind them, so that two ovens differ by physics, not by mesh."""

COATING_CELLS = 4


@dataclass(frozen=True)
class Mesh:
    """Walls of M members as rows of 2n cells: crown cells n-1..0, then side cells 0..n-1.

    Arrays are (M, 2n) unless said otherwise. ``volume_m3``, ``dry_heat_j_k`` (volume x density
    x heat capacity), ``bridge_w_k`` (M, 2n-1) between neighbours, 0 where crown meets side;
    ``inner_w_k`` and ``outer_w_k`` (M, 2) from the cell to its face, ``inner_m2`` and
    ``outer_m2`` (M, 2) the faces; ``inward_m3`` and ``outward_m3``: Σ dx/(κA), what steam has
    to pass from the cell's centre to the fire or to the air (1/m³); ``to_fire_w_k`` and
    ``to_air_w_k`` from the cell's centre to its own two faces, ``clog_m3`` its own dx/(κA),
    ``full_kg_m3`` the water it holds before a drying front has come; ``shell`` and ``coat``
    (2n,) mark the shell and the outermost layer; ``depth_mm`` (n,) nominal cell centres.
    """

    volume_m3: Floats
    dry_heat_j_k: Floats
    bridge_w_k: Floats
    inner_w_k: Floats
    outer_w_k: Floats
    inner_m2: Floats
    outer_m2: Floats
    inward_m3: Floats
    outward_m3: Floats
    to_fire_w_k: Floats
    to_air_w_k: Floats
    clog_m3: Floats
    full_kg_m3: Floats
    shell: Bools
    coat: Bools
    depth_mm: Floats

    @property
    def members(self) -> int:
        """How many members there are."""
        return int(self.volume_m3.shape[0])

    @property
    def cells(self) -> int:
        """Cells through one wall, n."""
        return int(self.volume_m3.shape[1]) // 2

    @cached_property
    def steam_path_m3(self) -> Floats:
        """Σ dx/(κA) on the steam's way out of each cell (M, 2n), 1/m³: from the shell toward the
        fire, for what lies behind it both ways side by side."""
        both = self.inward_m3 * self.outward_m3 / (self.inward_m3 + self.outward_m3)
        return np.where(self.shell, self.inward_m3, both)

    @cached_property
    def walls(self) -> Records:
        """The same as records of cells (M, 2n), see ``rows.WALLS``."""
        walls = np.zeros(self.volume_m3.shape, WALLS)
        for name in WALLS.names or ():
            values = getattr(self, name)
            walls[name][:, : values.shape[-1]] = values
        return walls

    @property
    def hot_cells(self) -> slice:
        """Columns of the cells at the fire: crown, side."""
        return slice(self.cells - 1, self.cells + 1)

    @property
    def cold_cells(self) -> slice:
        """Columns of the cells at the air: crown, side."""
        return slice(None, None, 2 * self.cells - 1)

    def wall_sums(self, row: Floats) -> Floats:
        """Sums over each wall (M, 2)."""
        n = self.cells
        return np.stack([row[:, :n].sum(axis=1), row[:, n:].sum(axis=1)], axis=1)

    def of_members(self, chosen: npt.NDArray[np.intp]) -> "Mesh":
        """The same walls for some members, in that order."""
        rows = {name: getattr(self, name)[chosen] for name in _BY_MEMBER}
        return Mesh(**rows, shell=self.shell, coat=self.coat, depth_mm=self.depth_mm)


_BY_MEMBER = (
    "volume_m3",
    "dry_heat_j_k",
    "bridge_w_k",
    "inner_w_k",
    "outer_w_k",
    "inner_m2",
    "outer_m2",
    "inward_m3",
    "outward_m3",
    "to_fire_w_k",
    "to_air_w_k",
    "clog_m3",
    "full_kg_m3",
)


def shell_cells_mm(thickness_mm: float) -> list[float]:
    """Cells through a shell, from the fire outward."""
    sizes: list[float] = []
    left, index = thickness_mm, 0
    while left > 1e-9:
        size = CELL_GROWTH_MM[min(index, len(CELL_GROWTH_MM) - 1)]
        sizes.append(min(size, left))
        left, index = left - sizes[-1], index + 1
    if len(sizes) > 1 and sizes[-1] < 0.5 * sizes[-2]:
        sizes[-2] += sizes.pop()
    return sizes


@dataclass(frozen=True)
class Stuff:
    """What a wall's cells are made of, from the fire outward: (M, n) each, SI."""

    size_m: Floats
    conductivity_w_mk: Floats
    density_kg_m3: Floats
    heat_capacity_j_kgk: Floats
    permeability_m2: Floats
    free_water_kg_m3: Floats


def slab(stuff: Stuff, shell: Bools, coat: Bools, depth_mm: Floats) -> Mesh:
    """A plane wall of 1 m², twice."""
    ones = np.ones((stuff.size_m.shape[0], stuff.size_m.shape[1] + 1))
    return _laid_out(stuff, ones, stuff.size_m, np.array([1.0, 1.0]), shell, coat, depth_mm)


def disc(stuff: Stuff, area_m2: float, shell: Bools, coat: Bools, depth_mm: Floats) -> Mesh:
    """A plane slab of that area, in two halves."""
    face = np.full((stuff.size_m.shape[0], stuff.size_m.shape[1] + 1), area_m2)
    halves = np.array([0.5, 0.5])
    return _laid_out(stuff, face, area_m2 * stuff.size_m, halves, shell, coat, depth_mm)


def dome(stuff: Stuff, inner_radius_m: float, shell: Bools, coat: Bools, depth: Floats) -> Mesh:
    """A half sphere, parted into crown and sides by area."""
    inner = np.full((stuff.size_m.shape[0], 1), inner_radius_m)
    faces = np.concatenate([inner, inner_radius_m + np.cumsum(stuff.size_m, axis=1)], axis=1)
    area = 2 * np.pi * faces**2
    volume = 2 / 3 * np.pi * np.diff(faces**3, axis=1)
    shares = np.array([CROWN_SHARE, 1.0 - CROWN_SHARE])
    return _laid_out(stuff, area, volume, shares, shell, coat, depth)


def _laid_out(
    stuff: Stuff,
    face_m2: Floats,
    volume_m3: Floats,
    shares: Floats,
    shell: Bools,
    coat: Bools,
    depth_mm: Floats,
) -> Mesh:
    """Areas (M, n+1) and volumes (M, n) of a whole wall, dealt out to two walls by ``shares``."""
    half = stuff.size_m / (2 * stuff.conductivity_w_mk)
    to_fire, to_air = face_m2[:, :-1] / half, face_m2[:, 1:] / half
    bridge = 1.0 / (1.0 / to_air[:, :-1] + 1.0 / to_fire[:, 1:])
    clog = stuff.size_m / stuff.permeability_m2 / (0.5 * (face_m2[:, :-1] + face_m2[:, 1:]))
    inward = np.cumsum(clog, axis=1) - 0.5 * clog
    outward = clog.sum(axis=1, keepdims=True) - inward

    def both(row: Floats, by: Floats = shares) -> Floats:
        return np.concatenate([row[:, ::-1] * by[0], row * by[1]], axis=1)

    gap = np.zeros((volume_m3.shape[0], 1))
    return Mesh(
        volume_m3=both(volume_m3),
        dry_heat_j_k=both(volume_m3 * stuff.density_kg_m3 * stuff.heat_capacity_j_kgk),
        bridge_w_k=np.concatenate([bridge[:, ::-1] * shares[0], gap, bridge * shares[1]], axis=1),
        inner_w_k=to_fire[:, :1] * shares,
        outer_w_k=to_air[:, -1:] * shares,
        inner_m2=face_m2[:, :1] * shares,
        outer_m2=face_m2[:, -1:] * shares,
        inward_m3=both(inward, 1.0 / shares),
        outward_m3=both(outward, 1.0 / shares),
        to_fire_w_k=both(to_fire),
        to_air_w_k=both(to_air),
        clog_m3=both(clog, 1.0 / shares),
        full_kg_m3=both(stuff.free_water_kg_m3, np.ones(2)),
        shell=np.concatenate([shell[::-1], shell]),
        coat=np.concatenate([coat[::-1], coat]),
        depth_mm=depth_mm,
    )


def nominal_cells(make_up: MakeUp) -> tuple[Floats, npt.NDArray[np.intp]]:
    """Cell sizes in mm (n,) from the fire outward, and the layer that each belongs to (n,).

    All shell layers are cut as one thickness, then parted again at their joints, so that a
    lined shell is as fine next to the fire as a plain one.
    """
    sizes: list[float] = []
    owner: list[int] = []
    grown = 0.0
    pattern = np.cumsum(shell_cells_mm(make_up.shell_thickness_mm))
    for index, layer in enumerate(make_up.layers):
        if layer.kind != "shell":
            cuts = [layer.thickness_mm / COATING_CELLS] * COATING_CELLS
        else:
            inside = pattern[
                (pattern > grown + 0.75) & (pattern < grown + layer.thickness_mm - 0.75)
            ]
            cuts = list(np.diff(np.r_[grown, inside, grown + layer.thickness_mm]))
            grown += layer.thickness_mm
        sizes += cuts
        owner += [index] * len(cuts)
    return np.array(sizes), np.array(owner)
