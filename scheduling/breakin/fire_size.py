"""How much wood a firing takes, in what pieces, and how often it is stoked."""

import math

from scheduling.breakin.limits import Limits
from scheduling.breakin.plan import Pieces

WOOD_KG_M3 = 650.0
"""Air-dry hardwood (Wood Handbook FPL-GTR-282: 560 to 770 at 12 %)."""

PIECE_LENGTH_MM = 300.0
SQUARE_SHARE = 0.8
"""A split piece fills about this share of its square cross-section (own choice)."""

PIECES_MM = ((200.0, 35.0), (320.0, 45.0), (math.inf, 60.0))
"""Thickness of pieces up to a plateau (own choice)."""

AIR_SHORT = 1.6
"""A fire of logs is short of air and burns longer than an open crib (own choice)."""


def thickness_mm(plateau_c: float) -> float:
    """Thickness of the pieces for that plateau."""
    return next(size for up_to, size in PIECES_MM if plateau_c < up_to)


def stoke_minutes(plateau_c: float, limits: Limits) -> float:
    """Minutes between charges: until pieces of that thickness are burnt, within the window.

    A stick burns from both sides at 2.2e-6 D^-0.6 m/s (Babrauskas, SFPE Handbook, after Gross
    and Block, from memory), D in m.
    """
    size = thickness_mm(plateau_c) / 1000.0
    burnt: float = size / (2.0 * 2.2e-6 * size**-0.6) / 60.0 * AIR_SHORT
    return min(max(5.0 * round(burnt / 5.0), limits.stoke_least_minutes), limits.stoke_most_minutes)


def charge(total_kg: float, hours: float, minutes: float, plateau_c: float) -> Pieces:
    """One stoking of a firing."""
    kg = total_kg / max(1.0, hours * 60.0 / minutes)
    size = thickness_mm(plateau_c)
    piece_kg = WOOD_KG_M3 * SQUARE_SHARE * size**2 * PIECE_LENGTH_MM * 1e-9
    count = max(1, math.floor(kg / piece_kg + 0.25))
    return Pieces(count=count, thickness_mm=size, length_mm=PIECE_LENGTH_MM, kg=round(kg, 2))
