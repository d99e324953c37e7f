"""The heat of a wood fire in a dome with an open mouth: one balance, for plan, coach and wood list.

    kg q (taken up)  =  into the dome + into the hearth + out of the open mouth

``q`` is the net calorific value as fired. What dome and hearth take up of it is what neither
stays unburnt, nor shines straight out of the mouth, nor leaves with the flue gas. What they then
lose through the mouth goes by the mouth's own area: it radiates as a black opening. The air that
comes in is in the flue gas while a fire burns; without one the mouth breathes besides.

Where the numbers come from:

- Air: 6 kg burns a kilogram of dry wood (Kubler, Wood and Fiber Science: "Indicators and
  significance of air supply"). Masonry heaters that burn 10 to 20 kg in one to two hours draw up
  to 30 L/s (Senf, report to Canada Mortgage and Housing Corporation, 1994): 1.3 to 5 times that.
- Radiation: 0.25 to 0.45 of the heat of wood cribs (SFPE Handbook, from memory).
- Unburnt: 3 to 12 %, as in open fires and old stoves (from memory).
- How much of what the gas carries is still in it when it leaves: 0.20 to 0.50, for surfaces of
  1.5 to 3 m² at 6 to 12 W/m²K and gas that carries 8 to 20 W/K (own estimate).
"""

from typing import Final

import numpy as np
import numpy.typing as npt

from scheduling.oven.infrared import KELVIN, STEFAN_BOLTZMANN

Floats = npt.NDArray[np.float64]

MOISTURE: Final = 0.18
"""Water in split wood that has dried for a year or two, wet basis."""

AIR_KG_KG: Final = 6.0
"""Air that burns a kilogram of dry wood."""

EXCESS_AIR: Final = 2.5
RADIANT: Final = 0.35
UNBURNT: Final = 0.06
LEFT_IN_GAS: Final = 0.35
GAS_J_KGK: Final = 1100.0

BREATH_W_M2K: Final = 25.0
"""Heat that air carries out of an open mouth, per m² of it and K (own choice): hot gas stays
under the dome, above the mouth. A clay dome without a door that fell from 300 to 200 °C in four
hours (one builder's published log) loses about 40, conduction not deducted."""

HEARTH_SHARE: Final = 0.5
"""Area of the hearth over that of the half sphere above it."""

DOME_PART: Final = 1.0 / (1.0 + 0.8 * HEARTH_SHARE)
"""Of what is taken up, that which the dome takes: a hearth beside the embers is warmed a little
less than the dome (own estimate)."""

CROWN_OVER_DOME: Final = 1.14
"""Heat into a square metre of crown over that of the whole dome: sides at 0.80 of its excess."""


def net_heat_j_kg(moisture: float = MOISTURE) -> float:
    """Net calorific value of wood as fired, ``moisture`` on wet basis (0 to 1), J/kg.

    19.0 (1 - M) - 2.443 M MJ/kg (ISO 17225-1, formula from memory; tables read)."""
    return 1e6 * (19.0 * (1.0 - moisture) - 2.443 * moisture)


def taken_up(
    face_c: Floats | float,
    air_c: Floats | float,
    mouth_share: float,
    *,
    moisture: float = MOISTURE,
    excess_air: float = EXCESS_AIR,
    radiant: float = RADIANT,
    unburnt: float = UNBURNT,
    left_in_gas: float = LEFT_IN_GAS,
) -> Floats:
    """Share of a fire's heat that dome and hearth at ``face_c`` take up; not below 0.05.

    ``mouth_share`` is the mouth over the area of dome and hearth. Gas leaves as hot as the
    surfaces and ``left_in_gas`` of the way up to where it would be, had it given nothing.
    """
    gas_kg_kg = 1.0 + excess_air * AIR_KG_KG * (1.0 - moisture)
    heat = net_heat_j_kg(moisture)
    burnt = 1.0 - unburnt
    shone_out = burnt * radiant * mouth_share
    hotter = left_in_gas * burnt * (1.0 - radiant)
    carried_per_k = (1.0 - left_in_gas) * gas_kg_kg * GAS_J_KGK / heat
    excess = np.asarray(face_c, dtype=np.float64) - air_c
    return np.maximum(burnt - shone_out - hotter - carried_per_k * np.maximum(excess, 0.0), 0.05)


def mouth_share(mouth_m2: float, dome_m2: float) -> float:
    """Mouth over dome and hearth."""
    return mouth_m2 / (dome_m2 * (1.0 + HEARTH_SHARE))


def mouth_shines_w_m2k(face_c: Floats | float, air_c: Floats | float) -> Floats:
    """What an open mouth radiates, per m² of *mouth* and K that the dome is above the air.

    A hole in a hot enclosure shines as a black surface, whatever its walls are made of."""
    hot, cold = np.asarray(face_c, dtype=np.float64) + KELVIN, np.asarray(air_c) + KELVIN
    return np.asarray(STEFAN_BOLTZMANN * (hot**2 + cold**2) * (hot + cold))


def wood_kg(heat_j: Floats | float, share: Floats | float) -> Floats:
    """Wood whose fire gives ``heat_j`` to dome, hearth and mouth, of which ``share`` is taken."""
    return np.asarray(heat_j / (share * net_heat_j_kg()))
