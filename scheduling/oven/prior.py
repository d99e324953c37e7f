"""What the make-up leaves open, drawn for every member of the ensemble.

Each quantity that is not known exactly gets its own standard normal, from a scrambled Halton
sequence: more members refine the same draw instead of making another one. The spreads are the
project's own cautious choices (from memory), but where a source is named.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
from pydantic import BaseModel, ConfigDict, Field
from scipy.special import ndtri

from scheduling.oven.hearth import hearth_mesh, hearth_water_kg_m3
from scheduling.oven.makeup import Door, MakeUp
from scheduling.oven.mesh import Mesh, Stuff, dome, nominal_cells

Floats = npt.NDArray[np.float64]

QUANTITIES: Final = (
    "conductivity",
    "coating_conductivity",
    "thickness",
    "free_water",
    "permeability",
    "strength",
    "door_on",
    "door_off",
    "side",
    "reading",
    "fire",
    "burning",
    "soaking",
    "taken_up",
    "hearth",
    "hearth_water",
    "heat_capacity",
)

SPREAD: Final = {
    "conductivity": 0.15,
    "coating_conductivity": 0.10,  # round robins on fibre blanket differ by 7.4 % (NIST/ASTM)
    "thickness": 0.04,
    "free_water": 0.30,
    "permeability": 0.50,
    "strength": 0.12,
    "door_on": 0.30,
    "door_off": 0.35,
    "burning": 0.30,
    "taken_up": 0.25,  # its parts give 0.10 at 155 °C, 0.18 at 400; the rest is scales and hands
    "hearth_water": 0.45,
    "heat_capacity": 0.08,
}
"""Standard deviation of the logarithm. Those of water, conductivity and heat capacity hold what
is not known of the way the water leaves, too: simulated ovens whose water leaves otherwise than
here lay outside narrower ones (``python -m tests.calibration``)."""

OPEN_CASTABLE_M2: Final = 1e-14
"""Upper end of what dried castables show (from memory). What is stated is taken for the lower
end of what such a shell may be; its median then lies halfway between, on the logarithm."""

DOOR_W_M2K: Final = {Door.NONE: 9.0, Door.PLAIN: 2.4, Door.INSULATED: 1.3}
"""Loss through mouth, flue and floor with the door on, per m² of dome and K (from memory); never
more than an open mouth and the floor lose, which is what counts where there is no door."""

FLOOR_W_M2K: Final = 0.8
"""Loss through the floor, per m² of dome and K: 80 mm of perlite concrete under half the area."""

USUAL_MOUTH_SHARE: Final = 0.08
"""Mouth over dome area at which the losses above hold."""

SIDE_SHARE: Final = 0.80
SIDE_SPREAD: Final = 0.08
"""Excess of the coldest side over the air, as a share of the crown's: independent simulated ovens
give 0.70 to 0.90, an oven fired through for hours more."""

HEARTH_SHARE: Final = 0.78
HEARTH_SPREAD: Final = 0.16
"""Excess of a hearth over the air, as a share of that of the dome above it: simulated ovens give
0.55 to 1.0; an oven fired through 0.90 (see ``hearth``)."""

NO_INSTRUMENT_SPREAD: Final = 1.4
FIRE_SPREAD: Final = 0.12
"""Log spread of how hot a fire got that nobody measured."""

BURNS_DOWN_S: Final = 45 * 60.0
"""Time in which a charge falls to 1/e (own choice; small split wood, see row of crib fires)."""


MOST_MOVED: Final = 2.0
"""So far may finished ovens move a quantity: beyond lies another oven than is described."""


class Narrowed(BaseModel):
    """A quantity's prior as finished ovens of the model have narrowed it: its middle, in deviations
    of the population's, and its width as a share of that one's (see ``learnt``)."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    quantity: str
    shift: float = Field(ge=-MOST_MOVED, le=MOST_MOVED)
    width: float = Field(gt=0, le=1)


@dataclass(frozen=True)
class Draws:
    """Standard normals (quantities, M), and what they are multiplied by."""

    normals: Floats
    spread: float = 1.0

    @property
    def members(self) -> int:
        """How many members."""
        return int(self.normals.shape[1])

    def of(self, quantity: str) -> Floats:
        """The member's deviations (M,) in standard deviations, spread included."""
        return np.asarray(self.normals[QUANTITIES.index(quantity)] * self.spread)

    def factor(self, quantity: str) -> Floats:
        """Lognormal factors (M,) with median 1."""
        return np.asarray(np.exp(SPREAD[quantity] * self.of(quantity)))

    def of_members(self, chosen: npt.NDArray[np.intp]) -> "Draws":
        """The same draws for some members."""
        return Draws(self.normals[:, chosen], self.spread)


def drawn(members: int, seed: int, spread: float = 1.0, learnt: Sequence[Narrowed] = ()) -> Draws:
    """Draws for ``members``; a longer draw of the same seed begins with the shorter one."""
    if members < 1:
        raise ValueError("an ensemble needs at least one member")
    from scipy.stats import qmc  # takes a second to load, and few commands draw an ensemble

    points = qmc.Halton(len(QUANTITIES), scramble=True, rng=seed).random(members)
    # Beyond three deviations a draw would be no oven that anybody builds.
    normals = np.clip(ndtri(points.T), -3.0, 3.0)
    for one in learnt if spread > 0 else ():
        row = QUANTITIES.index(one.quantity)
        # Where nobody reads the width grows like any other; the middle stays what was learnt.
        normals[row] = one.shift / spread + one.width * normals[row]
    return Draws(normals, spread)


def usual_spread(make_up: MakeUp) -> float:
    """How much wider than with a thermometer the prior is."""
    return 1.0 if make_up.instrument is not None else NO_INSTRUMENT_SPREAD


@dataclass(frozen=True)
class Drawn:
    """The walls of all members, and their properties that are no part of the mesh; (M,) each.

    ``conductivity_w_mk`` and ``permeability_m2`` are of the shell's tightest layer.
    ``strength_pa`` is f_ctm at 28 days. ``water_kg_m3`` (M, 2n) is what the fresh oven holds.
    ``mouth_m2_m2`` is the open mouth's area over the dome's. The hearth has its own mesh and
    water; ``hearth_share`` is its excess over that of the dome above it.
    """

    mesh: Mesh
    water_kg_m3: Floats
    conductivity_w_mk: Floats
    permeability_m2: Floats
    strength_pa: Floats
    door_on_w_m2k: Floats
    mouth_m2_m2: Floats
    side_share: Floats
    hearth: Mesh
    hearth_water_kg_m3: Floats
    hearth_share: Floats


def members_of(make_up: MakeUp, draws: Draws) -> Drawn:
    """Build the walls of every member."""
    sizes, owner = nominal_cells(make_up)
    layers = [make_up.layers[index] for index in owner]
    shell = np.array([layer.kind == "shell" for layer in layers])
    coat = owner == owner.max()

    def each(name: str) -> Floats:
        return np.array([getattr(layer, name) for layer in layers], dtype=np.float64)[np.newaxis]

    conductivity = np.where(
        shell,
        draws.factor("conductivity")[:, np.newaxis],
        draws.factor("coating_conductivity")[:, np.newaxis],
    ) * each("conductivity_w_mk")
    stated = each("permeability_m2")
    middle = np.where(shell, np.sqrt(stated * np.maximum(stated, OPEN_CASTABLE_M2)), stated)
    permeability = draws.factor("permeability")[:, np.newaxis] * middle
    ones = np.ones((draws.members, 1))
    water = draws.factor("free_water")[:, np.newaxis] * each("free_water_kg_m3")
    stuff = Stuff(
        size_m=1e-3 * sizes * draws.factor("thickness")[:, np.newaxis],
        conductivity_w_mk=conductivity,
        density_kg_m3=each("density_kg_m3") * ones,
        heat_capacity_j_kgk=each("heat_capacity_j_kgk")
        * draws.factor("heat_capacity")[:, np.newaxis],
        permeability_m2=permeability,
        free_water_kg_m3=water,
    )
    depth = np.cumsum(sizes) - 0.5 * sizes
    mesh = dome(stuff, make_up.inner_radius_m, shell, coat, depth)
    steepest = max(layer.conductivity_w_mk for layer in make_up.shell)
    mouth = make_up.mouth_area_m2 / make_up.dome_area_m2
    strong = 0.30e6 * make_up.characteristic_strength_mpa ** (2.0 / 3.0)
    return Drawn(
        mesh=mesh,
        water_kg_m3=np.concatenate([water[:, ::-1], water], axis=1),
        conductivity_w_mk=steepest * draws.factor("conductivity"),
        permeability_m2=permeability[:, shell].min(axis=1),
        strength_pa=strong * draws.factor("strength"),
        door_on_w_m2k=DOOR_W_M2K[make_up.door]
        * (mouth / USUAL_MOUTH_SHARE) ** 0.5
        * draws.factor("door_on"),
        mouth_m2_m2=mouth * draws.factor("door_off"),
        side_share=np.clip(SIDE_SHARE + SIDE_SPREAD * draws.of("side"), 0.5, 1.0),
        hearth=hearth_mesh(make_up, draws.factor("conductivity"), draws.factor("hearth_water")),
        hearth_water_kg_m3=hearth_water_kg_m3(draws.factor("hearth_water")),
        hearth_share=np.clip(HEARTH_SHARE + HEARTH_SPREAD * draws.of("hearth"), 0.5, 1.2),
    )
