"""What the materials of a dome are like: published formulas, and the shape of a catalogue row."""

import math
from collections.abc import Mapping
from typing import Annotated

import numpy as np
import numpy.typing as npt
from pydantic import AfterValidator, BaseModel, ConfigDict, Field

Floats = npt.NDArray[np.float64]

BOUND_WATER_KG_KG = 0.23
"""Water bound by a kilogram of fully hydrated cement (Powers & Brownyard 1947, from memory)."""


def _finite(value: float) -> float:
    if not math.isfinite(value) or value < 0:
        raise ValueError(f"{value:g} cannot be right; a number of 0 or more would be plausible")
    return value


Amount = Annotated[float, AfterValidator(_finite)]


class Material(BaseModel):
    """A row of the catalogue. ``sources`` says of each number where it comes from."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    label: str = Field(min_length=1, max_length=80)
    density_kg_m3: Amount
    conductivity_w_mk: Amount
    heat_capacity_j_kgk: Amount
    permeability_m2: Amount
    uptake_kg_m2_h05: Amount
    sources: Mapping[str, str] = {}


class Mix(BaseModel):
    """A mix of cement and water, where the builder knows it (kg/m³, kg/kg)."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    cement_kg_m3: Amount
    water_cement: Amount

    def ultimate_hydration(self) -> float:
        """Share of the cement that can hydrate: 1.031 r/(0.194 + r) (Mills 1966, from memory)."""
        ratio = self.water_cement
        return min(1.0, 1.031 * ratio / (0.194 + ratio))

    def evaporable_water_kg_m3(self, hydration: float | None = None) -> float:
        """Water that is not bound once ``hydration`` of the cement has set (kg/m³).

        Powers & Brownyard 1947, numbers from memory: a kilogram of cement binds 0.23 kg.
        """
        share = self.ultimate_hydration() if hydration is None else hydration
        mixed = self.cement_kg_m3 * self.water_cement
        return max(0.0, mixed - BOUND_WATER_KG_KG * share * self.cement_kg_m3)


def concrete_conductivity_w_mk(temperature_c: float) -> tuple[float, float]:
    """Lower and upper limit of the conductivity of concrete (EN 1992-1-2:2004 3.3.3)."""
    hundreds = temperature_c / 100.0
    lower = 1.36 - 0.136 * hundreds + 0.0057 * hundreds**2
    upper = 2.0 - 0.2451 * hundreds + 0.0107 * hundreds**2
    return lower, upper


def concrete_heat_capacity_j_kgk(temperature_c: float) -> float:
    """Heat capacity of dry siliceous or calcareous concrete (EN 1992-1-2:2004 3.3.2)."""
    return float(
        np.interp(temperature_c, [20.0, 100.0, 200.0, 400.0], [900.0, 900.0, 1000.0, 1100.0])
    )


def concrete_density_share(temperature_c: float) -> float:
    """Density over that at 20 °C, as concrete loses water (EN 1992-1-2:2004 3.3.2(3))."""
    return float(np.interp(temperature_c, [115.0, 200.0, 400.0, 1200.0], [1.0, 0.98, 0.95, 0.88]))


def tensile_strength_mpa(characteristic_strength_mpa: float) -> float:
    """Mean tensile strength at 28 days, f_ctm = 0.30 f_ck^(2/3) (EN 1992-1-1 Table 3.1)."""
    return 0.30 * math.pow(characteristic_strength_mpa, 2.0 / 3.0)


def effusivity_w_s05_m2k(
    conductivity_w_mk: float, density_kg_m3: float, heat_capacity_j_kgk: float
) -> float:
    """√(kρc), which says how fast a surface warms under a given heat flux."""
    return math.sqrt(conductivity_w_mk * density_kg_m3 * heat_capacity_j_kgk)
