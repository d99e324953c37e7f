"""Wood: pieces, charges, and how much a fire wants where the wall has not said.

Dry hardwood split into sticks; the numbers are common practice, no published source, unless
said otherwise.
"""

import math

from scheduling.oven.fire_heat import (
    CROWN_OVER_DOME,
    DOME_PART,
    mouth_share,
    mouth_shines_w_m2k,
    taken_up,
    wood_kg,
)
from scheduling.oven.makeup import MakeUp
from scheduling.oven.reading import shell_effusivity

WOOD_KG_M3 = 650.0
"""Air-dry beech or oak (from memory)."""

PIECE_LENGTH_M = 0.30

PACKING = 0.8
"""A split piece fills about this share of its square cross-section (own choice)."""

KINDLING_MM, THIN_MM, MIDDLE_MM, THICK_MM, THICKEST_MM = 25.0, 40.0, 50.0, 60.0, 80.0
LAID_MM = THIN_MM
"""Of the first laying: thin enough to be lit, and still burning at the first look."""

AIR_C = 20.0

CLIMBS_K_H = 120.0
"""How fast a firing is reckoned to come up, between slow at first and faster later."""


def is_far_more(pieces: int | None, asked: int | None) -> bool:
    """Whether so many pieces are no longer what was asked for; False where either is not known."""
    return bool(pieces and asked) and (pieces or 0) > max((asked or 0) + 1, 1.5 * (asked or 0))


def piece_kg(piece_mm: float) -> float:
    """Weight of one split piece of that thickness."""
    return WOOD_KG_M3 * PACKING * (piece_mm / 1000.0) ** 2 * PIECE_LENGTH_M


def piece_mm_of(kg: float) -> float:
    """How thick a split piece of that weight is."""
    return 1000.0 * math.sqrt(kg / (WOOD_KG_M3 * PACKING * PIECE_LENGTH_M))


def piece_mm_for(plateau_c: float) -> float:
    """Thin sticks for a small fire, thicker ones for a hot dome."""
    if plateau_c < 200.0:
        return THIN_MM
    return MIDDLE_MM if plateau_c < 320.0 else THICK_MM


def pieces_of(kg: float, piece_mm: float) -> int:
    """How many pieces come nearest from below, at least one."""
    return max(1, math.floor(kg / piece_kg(piece_mm) + 0.25))


def firing_kg(make_up: MakeUp, plateau_c: float, session_h: float) -> float:
    """Wood for a whole firing of a dry dome, in closed form by the balance of ``fire_heat``.

    A thick wall whose face rises evenly for t₁ and then stays takes 4 e ΔT/(3√π t₁) (t^1.5 -
    (t - t₁)^1.5) (Carslaw & Jaeger §2.5, superposed); a thin shell no more than it holds and lets
    through. The planner's ensemble says it closer, and with the wall's water.
    """
    rise_k, seconds = plateau_c - AIR_C, 3600.0 * session_h
    climb_s = min(3600.0 * rise_k / CLIMBS_K_H, seconds)
    mean_k = rise_k / CROWN_OVER_DOME
    shape = (seconds**1.5 - (seconds - climb_s) ** 1.5) / climb_s
    thick_j_m2 = 4.0 * shell_effusivity(make_up) * mean_k * shape / (3.0 * math.sqrt(math.pi))
    holds_j_m2 = mean_k * sum(
        one.thickness_m * one.density_kg_m3 * one.heat_capacity_j_kgk for one in make_up.shell
    )
    dome_m2, mouth_m2 = make_up.dome_area_m2, make_up.mouth_area_m2
    face_c = AIR_C + mean_k
    mouth_w = float(mouth_shines_w_m2k(face_c, AIR_C)) * mouth_m2 * mean_k
    hot_s = seconds - 0.5 * climb_s
    over = [one for one in make_up.layers if one.kind != "shell"]
    through_w_m2k = 1.0 / (0.05 + sum(one.thickness_m / one.conductivity_w_mk for one in over))
    thin_j_m2 = holds_j_m2 + through_w_m2k * mean_k * hot_s
    need_j = min(thick_j_m2, thin_j_m2) * dome_m2 / DOME_PART + mouth_w * hot_s
    share = float(taken_up(face_c, AIR_C, mouth_share(mouth_m2, dome_m2)))
    return float(wood_kg(need_j, share))
