"""How an oven was built: what its owner knows of it, and what nobody knows. Drawn, never fitted.

Ranges are our own choice and wide on purpose: wider than what a careful person would believe of an
oven of that make.
"""

from dataclasses import dataclass

import numpy as np

DIAMETER_M = (0.60, 1.20)
MOUTH_WIDE, MOUTH_HIGH_M = (0.38, 0.55), (0.16, 0.25)
RISE = (0.8, 1.05)
"""Area of the dome over that of half a sphere."""
BLANKET_M, BLANKET_K = (0.02, 0.08), (0.08, 0.22)
WET_PERLITE_M, WET_PERLITE_K = (0.05, 0.14), (0.12, 0.30)
WET_PERLITE_KG_M3 = (60.0, 220.0)
RENDER_M = (0.008, 0.03)
HEARTH_M, HEARTH_K = (0.05, 0.11), (0.8, 1.6)
LIMIT_PA = (0.15e6, 0.7e6)
OPENS = (1.0, 8.0)


@dataclass(frozen=True, slots=True)
class Construction:
    """Ranges of one kind of dome: ``key`` and the button that an owner taps for it."""

    key: str
    title: str
    shell_m: tuple[float, float]
    conductivity: tuple[float, float]
    heat_j_m3: tuple[float, float]
    water_kg_m3: tuple[float, float]
    permeability_m2: tuple[float, float]
    perlite: bool = False
    tile_m: tuple[float, float] | None = None


CONSTRUCTIONS = (
    Construction("cast-dense", "Cast dome, dense", (0.055, 0.13), (0.9, 2.0), (1.7e6, 2.4e6),
                 (40.0, 120.0), (2e-16, 2e-14)),
    Construction("cast-thin", "Cast dome, thin", (0.03, 0.06), (0.8, 1.8), (1.6e6, 2.3e6),
                 (40.0, 120.0), (2e-16, 2e-14)),
    Construction("cast-fibred", "Cast dome with fibres", (0.055, 0.12), (0.9, 1.9), (1.7e6, 2.4e6),
                 (40.0, 120.0), (1e-15, 6e-14)),
    Construction("brick-mortar", "Brick dome in mortar", (0.06, 0.125), (0.6, 1.6), (1.5e6, 2.2e6),
                 (20.0, 100.0), (1e-15, 2e-13)),
    Construction("brick-perlite", "Brick dome under perlite", (0.06, 0.125), (0.6, 1.6),
                 (1.5e6, 2.2e6), (20.0, 100.0), (1e-15, 2e-13), perlite=True),
    Construction("tile-lined", "Tile-lined dome", (0.06, 0.12), (0.8, 1.8), (1.6e6, 2.3e6),
                 (30.0, 110.0), (3e-16, 3e-14), tile_m=(0.012, 0.03)),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Make:
    """One oven as it was built. Lengths in metres."""

    construction: Construction
    diameter_m: float
    rise: float
    mouth_m2: float
    shell_m: float
    conductivity: float
    heat_j_m3: float
    water_kg_m3: float
    tile_m: float
    cover_m: float
    cover_k: float
    cover_water_kg_m3: float
    render_m: float
    hearth_m: float
    hearth_k: float
    permeability_m2: float
    opens: float
    limit_pa: float

    @property
    def dome_m2(self) -> float:
        """Inner surface of the dome."""
        return 2.0 * np.pi * (self.diameter_m / 2.0) ** 2 * self.rise

    @property
    def hearth_m2(self) -> float:
        """The floor."""
        return float(np.pi * (self.diameter_m / 2.0) ** 2)

    @property
    def cover_resists(self) -> float:
        """Thermal resistance of what lies over the shell, m²K/W."""
        return self.cover_m / self.cover_k + self.render_m / 0.8


def between(rng: np.random.Generator, low_high: tuple[float, float]) -> float:
    """Anywhere between."""
    return float(rng.uniform(*low_high))


def by_order(rng: np.random.Generator, low_high: tuple[float, float]) -> float:
    """Anywhere between by orders of magnitude."""
    return float(np.exp(rng.uniform(*np.log(low_high))))


def draw_make(rng: np.random.Generator) -> Make:
    """An oven of any make and size."""
    kind = CONSTRUCTIONS[int(rng.integers(len(CONSTRUCTIONS)))]
    diameter = between(rng, DIAMETER_M)
    cover = (WET_PERLITE_M, WET_PERLITE_K) if kind.perlite else (BLANKET_M, BLANKET_K)
    return Make(
        construction=kind,
        diameter_m=diameter,
        rise=between(rng, RISE),
        mouth_m2=between(rng, MOUTH_WIDE) * min(diameter, 1.0) * between(rng, MOUTH_HIGH_M),
        shell_m=between(rng, kind.shell_m),
        conductivity=between(rng, kind.conductivity),
        heat_j_m3=between(rng, kind.heat_j_m3),
        water_kg_m3=between(rng, kind.water_kg_m3),
        tile_m=between(rng, kind.tile_m) if kind.tile_m else 0.0,
        cover_m=between(rng, cover[0]),
        cover_k=between(rng, cover[1]),
        cover_water_kg_m3=between(rng, WET_PERLITE_KG_M3) if kind.perlite else 0.0,
        render_m=between(rng, RENDER_M),
        hearth_m=between(rng, HEARTH_M),
        hearth_k=between(rng, HEARTH_K),
        permeability_m2=by_order(rng, kind.permeability_m2),
        opens=by_order(rng, OPENS),
        limit_pa=by_order(rng, LIMIT_PA),
    )
