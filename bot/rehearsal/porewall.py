"""Heat and steam in the wall of an invented oven: the field model.

This is on purpose not the planner's model. Temperature T and vapour pressure P are two fields
on a graded mesh, solved together, after the single-flux idea of Bažant & Thonguthai (1978):
water leaves a pore because its vapour is at a higher pressure than its neighbour's, held back
by a sorption isotherm w(P/P_sat(T), T). No front is tracked and no boiling point is prescribed;
both come out of the fields, and steam may also be driven outward and condense in cold layers.

    V ∂w/∂t = -∇·(Jv + Jl)            V C ∂T/∂t = ∇·(k∇T) - L ∇·Jv
    Jv = M/(RT) (D(1-P/P₀)⁺ + κP/μ) ∇P    Jl = κ s⁶ ρl/μl ∇P

Linearly implicit in time with a few Newton passes; one banded solve takes all zones. Per unit
of inner area, spherical. Latent heat is one constant: what a kilogram takes at 130 °C.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.linalg.lapack import dgbsv

Floats = npt.NDArray[np.float64]

LATENT_J_KG = 2.174e6  # IAPWS-IF97 at 130 °C
ATMOSPHERE_PA = 101325.0
WATER_GAS_J_KGK = 461.5
WATER_J_KGK = 4190.0
OVERFULL = 10.0
"""How much more than the sorbed water the coarse pores can take, by dw/dh beyond h = 1."""


@dataclass(frozen=True, slots=True)
class Course:
    """A layer of the wall as it truly is (SI). ``held_kg_m3`` is what it holds at h = 1."""

    thickness_m: float
    conductivity_w_mk: float
    density_kg_m3: float
    heat_capacity_j_kgk: float
    water_kg_m3: float
    permeability_m2: float
    held_kg_m3: float
    porosity: float
    cell_m: float
    is_shell: bool


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What touches both faces during a step; arrays are one value a zone.

    Heat into the hot face is ``flux_w_m2 - slope_w_m2k (T - T_now)`` about its present surface
    temperature; ``rain_kg_m2s`` reaches the outer face, as far as that can drink it.
    """

    flux_w_m2: Floats
    slope_w_m2k: Floats
    inner_vapour_pa: float
    inner_mass_ms: float
    outer_c: float
    outer_w_m2k: float
    outer_vapour_pa: float
    outer_mass_ms: float
    rain_kg_m2s: float


def saturation_pa(temperature_c: Floats) -> tuple[Floats, Floats]:
    """Saturation pressure and its slope by Antoine's equation (within 1 % from 20 to 300 °C)."""
    below = temperature_c + 230.170
    pressure = 1e3 * np.exp(16.3872 - 3885.70 / below)
    return pressure, pressure * 3885.70 / below**2


class PoreWall:
    """Zones of one wall, each a column of cells from the fire outward.

    All zones have the same courses, of thicknesses that may differ, and as many cells.
    """

    def __init__(self, zones: Sequence[Sequence[Course]], inner_radius_m: float, air_c: float):
        sizes, owner = _mesh(zones[0])
        scale = [[zone[i].thickness_m / zones[0][i].thickness_m for i in owner] for zone in zones]
        self.dx = np.array(scale) * np.array(sizes)
        self.half = self.dx / 2
        course = [zone[i] for zone in zones for i in owner]
        self.shape = self.dx.shape

        def field(name: str) -> Floats:
            values = [getattr(one, name) for one in course]
            return np.array(values, dtype=np.float64).reshape(self.shape)

        edges = inner_radius_m + np.concatenate(
            [np.zeros((self.shape[0], 1)), np.cumsum(self.dx, axis=1)], axis=1
        )
        self.face = (edges / inner_radius_m) ** 2
        self.volume = np.diff(edges**3, axis=1) / (3 * inner_radius_m**2)
        self.conductivity = field("conductivity_w_mk")
        self.capacity = field("density_kg_m3") * field("heat_capacity_j_kgk")
        self.permeability = field("permeability_m2")
        self.held = field("held_kg_m3")
        self.porosity = field("porosity")
        self.shell = field("is_shell") > 0
        self.temperature = np.full(self.shape, float(air_c))
        self.water = field("water_kg_m3")
        relative = (self.water / self.held) ** _spread(self.temperature)[0]
        self.pressure = relative * saturation_pa(self.temperature)[0]
        self.hottest = self.temperature.copy()
        self.surface = np.full(self.shape[0], float(air_c))
        self.outer_surface = np.full(self.shape[0], float(air_c))
        self.heat_in = np.zeros(self.shape[0])
        self.heat_out = np.zeros(self.shape[0])
        self.vapour_out = np.zeros(self.shape[0])
        self.rain_in = np.zeros(self.shape[0])
        self.stored = np.zeros(self.shape[0])

    def step(self, seconds: float, around: Surroundings) -> None:
        """Advance by ``seconds``, in halves wherever the fields do not settle."""
        if not self._try(seconds, around, last=seconds < 2.0):
            self.step(seconds / 2, around)
            self.step(seconds / 2, around)

    def water_kg_m2(self, shell_only: bool = False) -> Floats:
        """Water in each zone, per m² of inner face."""
        mass = self.water * self.volume
        return np.asarray((mass * self.shell if shell_only else mass).sum(axis=1))

    def _try(self, dt: float, around: Surroundings, last: bool) -> bool:
        temperature, pressure = self.temperature.copy(), self.pressure.copy()
        before_t = self.temperature
        heat_mass = self.volume * (self.capacity + WATER_J_KGK * self.water) / dt
        wet_k = self.conductivity + 0.0025 * np.clip(self.water, 0.0, 300.0)
        half = self.half / wet_k
        between = self.face[:, 1:-1]
        conduct = between / (half[:, :-1] + half[:, 1:])
        hot = around.slope_w_m2k / (1 + around.slope_w_m2k * half[:, 0])
        aim = self.surface + around.flux_w_m2 / around.slope_w_m2k
        cold = self.face[:, -1] / (1 / around.outer_w_m2k + half[:, -1])
        drink = np.minimum(
            around.rain_kg_m2s * self.face[:, -1],
            np.clip(1.6 * self.held[:, -1] - self.water[:, -1], 0, None)
            * self.volume[:, -1]
            / 600.0,
        )
        pores = self._pores()
        for attempt in range(6):
            kelvin = temperature + 273.15
            to_steam, to_liquid = self._resistance(pores, temperature, kelvin, pressure)
            vapour_g = between / (to_steam[:, :-1] + to_steam[:, 1:])
            both_g = vapour_g + between / (to_liquid[:, :-1] + to_liquid[:, 1:])
            inner_g = 1 / (WATER_GAS_J_KGK * kelvin[:, 0] / around.inner_mass_ms + to_steam[:, 0])
            outer_g = self.face[:, -1] / (
                WATER_GAS_J_KGK * kelvin[:, -1] / around.outer_mass_ms + to_steam[:, -1]
            )
            content, by_p, by_t = self._isotherm(temperature, pressure)
            out_v = _divergence(vapour_g, pressure)
            out_v[:, 0] += inner_g * (pressure[:, 0] - around.inner_vapour_pa)
            out_v[:, -1] += outer_g * (pressure[:, -1] - around.outer_vapour_pa)
            out_l = _divergence(both_g - vapour_g, pressure)
            into_t = -_divergence(conduct, temperature)
            into_t[:, 0] += hot * (aim - temperature[:, 0])
            into_t[:, -1] += cold * (around.outer_c - temperature[:, -1])
            rest_t = -heat_mass * (temperature - before_t) + into_t - LATENT_J_KG * out_v
            rest_p = -self.volume * (content - self.water) / dt - out_v - out_l
            rest_p[:, -1] += drink
            move_t, move_p = self._solve(
                heat_mass, by_p * self.volume / dt, by_t * self.volume / dt,
                conduct, hot, cold, vapour_g, both_g, inner_g, outer_g, rest_t, rest_p,
            )  # fmt: skip
            temperature = temperature + move_t
            moved = np.clip(pressure + move_p, 0.2 * pressure, 5.0 * pressure + 50.0)
            worst = float(np.max(np.abs(moved - pressure) / (pressure + 2e3)))
            pressure = moved
            if not np.isfinite(worst) or float(np.max(np.abs(move_t))) > 400.0:
                break
            if worst < (0.03 if attempt else 0.004):
                break
        else:
            worst = 1.0 if worst > 0.2 else 0.0
        if not last and not (np.isfinite(worst) and worst < 0.2):
            return False
        if not np.all(np.isfinite(temperature)):
            raise FloatingPointError("the invented wall came apart in the arithmetic")
        out = _divergence(both_g, pressure)
        leave_in = inner_g * (pressure[:, 0] - around.inner_vapour_pa)
        leave_out = outer_g * (pressure[:, -1] - around.outer_vapour_pa)
        out[:, 0] += leave_in
        out[:, -1] += leave_out - drink
        self.water = self.water - out * dt / self.volume
        self.heat_in += hot * (aim - temperature[:, 0]) * dt
        self.heat_out += cold * (temperature[:, -1] - around.outer_c) * dt
        self.vapour_out += (leave_in + leave_out) * dt
        self.rain_in += drink * dt
        self.stored += (heat_mass * (temperature - before_t)).sum(axis=1) * dt
        self.surface = temperature[:, 0] + hot * (aim - temperature[:, 0]) * half[:, 0]
        shed = cold * (temperature[:, -1] - around.outer_c) / self.face[:, -1]
        self.outer_surface = temperature[:, -1] - shed * half[:, -1]
        self.temperature, self.pressure = temperature, pressure
        self.hottest = np.maximum(self.hottest, temperature)
        return True

    def _pores(self) -> tuple[Floats, Floats, Floats]:
        """How open the pores are at the start of a step: the share that no water fills, their
        permeability to steam (m²), and that to liquid water by its density (kg/m)."""
        full = np.clip(self.water / (2.0 * self.held), 0.0, 1.0)
        opened = 0.15 + 0.85 / (1 + np.exp(-(self.hottest - 105.0) / 6.0))
        opened = opened * (1 + np.clip((self.hottest - 200.0) / 200.0, 0, 2))
        steam_kappa = self.permeability * opened * (1 - full) ** 1.5
        return 1 - full, steam_kappa, 95.0 * self.permeability * full**6

    def _resistance(
        self,
        pores: tuple[Floats, Floats, Floats],
        temperature: Floats,
        kelvin: Floats,
        pressure: Floats,
    ) -> tuple[Floats, Floats]:
        """Resistance of half a cell to steam and to liquid water, m² s Pa/kg."""
        empty, steam_kappa, liquid_kappa = pores
        viscosity = 1.2e-5 + 4e-8 * np.maximum(temperature - 100.0, -60.0)
        # Vapour diffuses through air: where it has driven the air out, only its pressure drives it.
        air = np.clip(1 - pressure / ATMOSPHERE_PA, 0.0, 1.0)
        air_d = 2.5e-5 / 20.0 * (kelvin / 293.0) ** 1.8 * air
        steam = (air_d * empty + steam_kappa * pressure / viscosity) / (WATER_GAS_J_KGK * kelvin)
        liquid_viscosity = 2.4e-5 * 10 ** (247.8 / np.maximum(kelvin - 140.0, 80.0))
        liquid = liquid_kappa / liquid_viscosity
        return self.half / (steam + 1e-20), self.half / (liquid + 1e-22)

    def _isotherm(self, temperature: Floats, pressure: Floats) -> tuple[Floats, Floats, Floats]:
        """Water held, and its slopes by pressure and by temperature."""
        saturated, by_t = saturation_pa(temperature)
        power, power_t = _spread(temperature)
        relative = np.maximum(pressure / saturated, 1e-9)
        log_h = np.log(relative)
        thin = self.held * np.exp(log_h / power)
        over = relative > 1.0
        content = np.where(over, self.held * (1 + OVERFULL * (relative - 1)), thin)
        by_h = np.where(over, self.held * OVERFULL, thin / (power * relative))
        by_power = np.where(over, 0.0, -thin * log_h / power**2)
        gas = self.porosity / (WATER_GAS_J_KGK * (temperature + 273.15))
        slope_p = by_h / saturated + gas
        slope_t = -by_h * relative / saturated * by_t + by_power * power_t
        return content + gas * pressure, slope_p, slope_t - gas * pressure / (temperature + 273.15)

    def _solve(
        self, heat_mass: Floats, by_p: Floats, by_t: Floats, conduct: Floats, hot: Floats,
        cold: Floats, vapour_g: Floats, both_g: Floats, inner_g: Floats, outer_g: Floats,
        rest_t: Floats, rest_p: Floats,
    ) -> tuple[Floats, Floats]:  # fmt: skip
        """One banded solve of all cells, T and P interleaved, zones end to end."""
        size = 2 * rest_t.size
        ab = np.zeros((8, size))  # two rows of fill-in, three above, the diagonal, two below
        diagonal, latent = 5, LATENT_J_KG
        own_t, own_v, own_b = heat_mass.copy(), np.zeros(self.shape), np.zeros(self.shape)
        for own, link in ((own_t, conduct), (own_v, vapour_g), (own_b, both_g)):
            own[:, :-1] += link
            own[:, 1:] += link
        own_t[:, 0] += hot
        own_t[:, -1] += cold
        for own in (own_v, own_b):
            own[:, 0] += inner_g
            own[:, -1] += outer_g
        ab[diagonal, 0::2] = own_t.ravel()
        ab[diagonal - 1, 1::2] = latent * own_v.ravel()
        ab[diagonal + 1, 0::2] = by_t.ravel()
        ab[diagonal, 1::2] = (by_p + own_b).ravel()

        zones, cells = self.shape
        band = ab.reshape(8, zones, cells, 2)
        band[diagonal - 2, :, 1:, 0] = -conduct
        band[diagonal + 2, :, :-1, 0] = -conduct
        band[diagonal - 3, :, 1:, 1] = -latent * vapour_g
        band[diagonal + 1, :, :-1, 1] = -latent * vapour_g
        band[diagonal - 2, :, 1:, 1] = -both_g
        band[diagonal + 2, :, :-1, 1] = -both_g
        right = np.empty(size)
        right[0::2], right[1::2] = rest_t.ravel(), rest_p.ravel()
        _, _, moves, fault = dgbsv(2, 3, ab, right)
        if fault:
            return np.full(self.shape, np.inf), np.full(self.shape, np.inf)
        return moves[0::2].reshape(self.shape), moves[1::2].reshape(self.shape)


def _divergence(link: Floats, field: Floats) -> Floats:
    """Net flow out of each cell through its inner faces, flow being link times difference."""
    flow = link * (field[:, :-1] - field[:, 1:])
    out = np.zeros(field.shape)
    out[:, :-1] += flow
    out[:, 1:] -= flow
    return out


def _spread(temperature_c: Floats) -> tuple[Floats, Floats]:
    """Exponent m(T) of the isotherm w = w₁ h^(1/m), and its slope (Bažant & Thonguthai 1978)."""
    warmth = ((np.clip(temperature_c, -5.0, 600.0) + 10.0) / 35.0) ** 2
    power = 1.04 - warmth / (22.34 + warmth)
    slope = -22.34 / (22.34 + warmth) ** 2 * 2 * (temperature_c + 10.0) / 35.0**2
    return power, slope


def _mesh(zone: Sequence[Course]) -> tuple[list[float], list[int]]:
    """Cell sizes, and which course each cell belongs to; the first course is graded."""
    sizes: list[float] = []
    owner: list[int] = []
    for number, course in enumerate(zone):
        if number == 0:
            rough = [course.cell_m * min(1.0, 0.25 * 1.12**i) for i in range(400)]
            count = 1 + int(np.searchsorted(np.cumsum(rough), course.thickness_m))
            cells = np.array(rough[:count]) * course.thickness_m / sum(rough[:count])
        else:
            count = max(2, round(course.thickness_m / course.cell_m))
            cells = np.full(count, course.thickness_m / count)
        sizes.extend(float(cell) for cell in cells)
        owner.extend([number] * count)
    return sizes, owner
