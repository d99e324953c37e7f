"""Wood: pieces, charges, and how much a fire wants where the wall has not said.

Dry hardwood split into sticks; the numbers are common practice, no published source, unless
said otherwise.
"""

import math

WOOD_KG_M3 = 650.0
"""Air-dry beech or oak (from memory)."""

PIECE_LENGTH_M = 0.30

PACKING = 0.8
"""A split piece fills about this share of its square cross-section (own choice)."""

KINDLING_MM, THIN_MM, MIDDLE_MM, THICK_MM = 25.0, 40.0, 50.0, 60.0
LAID_MM = THIN_MM
"""Of the first laying: thin enough to be lit, and still burning at the first look."""

KG_PER_M2_H_AT_100_C = 1.0
"""Wood that a dome of 1 m² takes in an hour at 100 °C, and in proportion above (own choice)."""


def piece_kg(piece_mm: float) -> float:
    """Weight of one split piece of that thickness."""
    return WOOD_KG_M3 * PACKING * (piece_mm / 1000.0) ** 2 * PIECE_LENGTH_M


def piece_mm_for(plateau_c: float) -> float:
    """Thin sticks for a small fire, thicker ones for a hot dome."""
    if plateau_c < 200.0:
        return THIN_MM
    return MIDDLE_MM if plateau_c < 320.0 else THICK_MM


def pieces_of(kg: float, piece_mm: float) -> int:
    """How many pieces come nearest from below, at least one."""
    return max(1, math.floor(kg / piece_kg(piece_mm) + 0.25))


def firing_kg(dome_area_m2: float, plateau_c: float, session_h: float) -> float:
    """Wood for a whole firing, by the rule of thumb above."""
    return KG_PER_M2_H_AT_100_C * dome_area_m2 * plateau_c / 100.0 * session_h
