"""What a step of the walls works on: a record a cell, a wall, a place of a table.

Records lie side by side in memory, and a compiled loop takes them by name.
"""

from typing import Any, Final

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Records = npt.NDArray[Any]
Record = Any
"""One of ``Records``: a compiled loop knows its fields, a checker of types does not."""


def _record(floats: str, marks: str = "", places: str = "") -> np.dtype[Any]:
    of_type = [(floats, "f8"), (places, "i8"), (marks, "?")]
    fields = [(name, kind) for names, kind in of_type for name in names.split()]
    return np.dtype(fields, align=True)


WALLS: Final = _record(
    "volume_m3 dry_heat_j_k bridge_w_k to_fire_w_k to_air_w_k clog_m3 steam_path_m3 full_kg_m3",
    marks="shell",
)
"""A cell of the mesh (M, 2n), see ``Mesh``; the bridge is to the next cell."""

FACES: Final = _record(
    "inner_w_k to_c into_w outer_w_k air_c link_w_k face_c pressure_pa", marks="given"
)
"""A wall as a step finds it (M, 2): conductance of its hot cell to ``to_c`` and of its cold one to
the air, heat into the hot cell besides, the radiation to the other's hot cell (W/K), its hot face's
temperature and whether that is given or the one of before, its steam's pressure."""

CROSSED: Final = _record("heat_in_w heat_out_w steam_kg steam_j node_c pressure_pa")
"""What crossed a wall's faces in a step (M, 2): heat in and out (W), steam (kg) and what it carried
(J); its hot cell's node (°C) and its steam's pressure (Pa) at the end."""

ROW: Final = _record(
    "start_c start_kg_m3 inertia_w_k middle beside right own next into pivot link "
    "water_kg latent_j_kg path_m3 base_c by_crown by_side "
    "heat_w heat_by_crown heat_by_side gone_kg",
    marks="wet boils dries barred",
)
"""A cell of the member that is being solved (2n,).

``middle``, ``beside`` (to the next cell) and ``right`` are the symmetric tridiagonal system of the
heat balances without steam; ``own``, ``next`` and ``into`` the same of a round, with the fronts in
place; ``pivot`` and ``link`` are used up in solving it. The answer is a temperature, ``base_c``,
and by how much it follows the boiling points of crown and side; so is the heat that boiling takes
(W). ``path_m3`` is the steam's way out of a watt of it.
"""

FRONTS: Final = _record(
    "tau_c guess_c outside_pa share hot_gain cold_gain hot_weight cold_weight total "
    "by_crown by_side",
    places="cell hot cold",
)
"""A wall of the member that is being solved (2,): its boiling point and the guess that a round
began with; the pressure of what boils outside the shell; its drying front: cell (-1: none), the
nodes before and behind it, share φ of the cell that is dry, what the conductances to these nodes
gain over those from centre to centre (W/K), and their weights in the cell's mean; the sum of path
times steam in the shell, and how it follows the boiling points of crown and side."""

STEAM: Final = _record("boils_c log_pa latent_j_kg steep drag_pa2_s_m2")
"""A place of the tables of steam: the boiling point over the logarithm of pressure; that logarithm,
the latent heat and d ln P²/dT over the boiling point; the drag over a crust's temperature."""

SCALES: Final = _record(
    "first_log_pa per_log_pa first_c per_c last_c per_crust_c atmosphere_pa heat_j_kgk"
)
"""Where the tables begin and how many places they have a unit (a crust's from 0 °C); the air's
pressure, and the heat capacity of water (J/kgK)."""
