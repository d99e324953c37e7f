"""The drying front within its cell.

A front that is taken to sit at the centre of its cell moves by jerks, and every jerk is a peak
of pressure. So the first wet cell behind the crust has its node at the front itself: the share φ
of its water that is gone by the middle of the step lies before it, dry. Heat reaches the front
through that share of the cell and goes on through the rest; the cell's mean temperature, which
is what it stores, follows from the two straight lines that meet in the front.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from scheduling.oven.linear import Equations
from scheduling.oven.mesh import Mesh

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
Places = npt.NDArray[np.intp]

LEAST_SHARE = 0.02
"""A front nearer to its face than this share of the cell is taken to be that far."""

_TOWARD_FIRE = np.array([[1, -1]])
_LINK_HOT = np.array([[0, -1]])
_LINK_COLD = np.array([[-1, 0]])


@dataclass(frozen=True, slots=True)
class Front:
    """The fronts that boil, F of M members' two walls, (F,) each.

    ``wall`` is 2 · member + wall, ``cell``, ``hot`` and ``cold`` places in the flattened (M, 2n)
    of the front and of the next nodes, ``link_hot`` and ``link_cold`` those of the couplings to
    them, ``first`` whether it is in the cell at the fire; ``share`` φ; ``hot_gain`` and
    ``cold_gain`` what the conductances gain over those from centre to centre (W/K),
    ``hot_weight`` and ``cold_weight`` the next nodes' weights in the cell's mean.
    """

    wall: Places
    cell: Places
    hot: Places
    cold: Places
    link_hot: Places
    link_cold: Places
    first: Bools
    share: Floats
    hot_gain: Floats
    cold_gain: Floats
    hot_weight: Floats
    cold_weight: Floats

    def moved_in(self, system: Equations, face_c: Floats) -> None:
        """Put the nodes of a system at the fronts. ``face_c`` (F,)."""
        middle, beside = system.middle.ravel(), system.beside.ravel()
        right = system.right.ravel()
        inward = np.where(self.first, 0.0, self.hot_gain)
        right[self.cell] += (self.hot_gain - inward) * face_c
        middle[self.cell] += self.hot_gain + self.cold_gain
        middle[self.hot] += inward
        middle[self.cold] += self.cold_gain
        beside[self.link_hot] -= inward
        beside[self.link_cold] -= self.cold_gain

    def apart(self, at_c: Floats, face_c: Floats | float) -> Floats:
        """Mean of the front's cell over its node, K (F,)."""
        flat = at_c.ravel()
        own = flat[self.cell]
        hot = np.where(self.first, face_c, flat[self.hot])
        return self.hot_weight * (hot - own) + self.cold_weight * (flat[self.cold] - own)


def first_wet(wet: Bools) -> Places:
    """Columns (M, 2) of the first marked cells of each wall (M, 2n), from the fire outward; any
    where there is none."""
    n = wet.shape[1] // 2
    crown = n - 1 - np.argmax(wet[:, n - 1 :: -1], axis=1)
    return np.stack([crown, n + np.argmax(wet[:, n:], axis=1)], axis=1)


def fronts(
    mesh: Mesh,
    rows: Places,
    boils: Bools,
    holds: Bools,
    water_kg: Floats,
    start_c: Floats,
    face_c: Floats | None,
    tau_c: Floats,
    kg_per_watt: Floats,
) -> Front:
    """The first cells of the shells of members ``rows`` that hold water to the step's end
    (``holds``), where they boil (``boils``, both (m, 2n)).

    Of all members: ``water_kg``, ``start_c`` (M, 2n) and the faces' temperature (M, 2), None
    where it is not given: the front in the cell at the fire is then left at its centre. Of
    ``rows``: boiling point and the steam of a watt in the step (m, 2), by which is foretold how
    far a front comes.
    """
    columns = boils.shape[1]
    n = columns // 2
    column = first_wet(holds & mesh.shell)
    member = np.arange(rows.size)[:, np.newaxis]
    first = (column == n - 1) | (column == n)
    stands = boils[member, column] & mesh.shell[column]
    if face_c is None:
        stands &= ~first
    here = np.nonzero(stands)
    member, wall = here
    column, first, tau, per_watt = column[here], first[here], tau_c[here], kg_per_watt[here]
    row = rows[member]
    ends = (column == 0) | (column == columns - 1)
    hot = np.where(first, column, column + _TOWARD_FIRE[0, wall])
    cold = np.where(ends, column, column - _TOWARD_FIRE[0, wall])
    link_hot = np.where(first, 0, column + _LINK_HOT[0, wall])
    link_cold = np.where(ends, 0, column + _LINK_COLD[0, wall])
    to_fire, to_air = mesh.to_fire_w_k[row, column], mesh.to_air_w_k[row, column]
    beyond_hot = np.where(first, 0.0, 1.0 / mesh.to_air_w_k[row, hot])
    beyond_cold = 1.0 / mesh.to_fire_w_k[row, cold]
    hot_c = start_c[row, hot]
    if face_c is not None:
        hot_c = np.where(first, face_c[row, wall], hot_c)
    water = water_kg[row, column]
    full = np.maximum(mesh.full_kg_m3[row, column] * mesh.volume_m3[row, column], water)
    share = np.maximum(1.0 - water / full, LEAST_SHARE)
    dry, moist = 2.0 * share / to_fire, 2.0 * (1.0 - share) / to_air
    comes_w = (hot_c - tau) / (beyond_hot + dry)
    comes_w -= (tau - start_c[row, cold]) / (beyond_cold + moist)
    comes = np.clip(comes_w * per_watt, 0.0, water)
    share = np.clip(share + 0.5 * comes / full, LEAST_SHARE, 1.0)
    dry, moist = 2.0 * share / to_fire, 2.0 * (1.0 - share) / to_air
    into, onward = 1.0 / (beyond_hot + dry), 1.0 / (beyond_cold + moist)
    before = np.where(first, to_fire, mesh.bridge_w_k[row, link_hot])
    inside = ~ends
    base = member * columns
    return Front(
        wall=2 * member + wall,
        cell=base + column,
        hot=base + hot,
        cold=base + cold,
        link_hot=base + link_hot,
        link_cold=base + link_cold,
        first=first,
        share=share,
        hot_gain=into - before,
        cold_gain=inside * (onward - mesh.bridge_w_k[row, link_cold]),
        hot_weight=0.5 * share * dry * into,
        cold_weight=0.5 * inside * (1.0 - share) * moist * onward,
    )
