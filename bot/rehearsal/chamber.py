"""Heat between flames, embers, gas, dome and hearth of an invented oven, and out of its mouth.

Radiation uses the exact view factors of a hemisphere: from any patch of a sphere to another
patch is the other's share of the whole sphere, and half of what a patch sees is the hearth.
"""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.linalg.lapack import dptsv

Floats = npt.NDArray[np.float64]
SIGMA = 5.670374e-8


@dataclass(frozen=True, slots=True)
class Mouth:
    """The mouth: its size, and how it is shut. ``leak`` is the share of air past the door."""

    area_m2: float
    height_m: float
    leak: float
    door_w_m2k: float

    def air_kg_s(self, door_on: bool, gusty_ms: float) -> float:
        """Air that can come in while hot gas goes out (Kawagoe's 0.5 A√H, halved for a mouth
        that has no chimney of its own), wind stirring it."""
        full = 0.25 * self.area_m2 * math.sqrt(self.height_m) * (1 + 0.03 * min(gusty_ms, 15.0))
        return full * (self.leak if door_on else 1.0)


class Hearth:
    """The floor: tile over insulation on the ground, a plane slab with no water left in it."""

    def __init__(self, temperature_c: float, tile_m: float, conductivity_w_mk: float) -> None:
        self.dx = np.array([tile_m / 8] * 8 + [0.015] * 6)
        self.k = np.array([conductivity_w_mk] * 8 + [0.16] * 6)
        self.c = np.array([2.05e6] * 8 + [0.4e6] * 6)
        self.temperature = np.full(14, temperature_c)
        self.surface = temperature_c

    def step(self, seconds: float, flux_w_m2: float, slope_w_m2k: float, ground_c: float) -> None:
        """Advance with ``flux - slope (T - T_now)`` into its top."""
        half = self.dx / (2 * self.k)
        link = 1 / (half[:-1] + half[1:])
        hot = slope_w_m2k / (1 + slope_w_m2k * half[0])
        aim = self.surface + flux_w_m2 / slope_w_m2k
        mass = self.c * self.dx / seconds
        middle = mass.copy()
        middle[:-1] += link
        middle[1:] += link
        middle[0] += hot
        middle[-1] += 1 / half[-1]
        right = mass * self.temperature
        right[0] += hot * aim
        right[-1] += ground_c / half[-1]
        self.temperature = dptsv(middle, -link, right)[2]
        self.surface = float(self.temperature[0] + hot * (aim - self.temperature[0]) * half[0])


@dataclass(frozen=True, slots=True)
class Exchange:
    """Net heat into crown, sides and hearth (W/m²), its slope by own temperature, and losses."""

    flux: Floats
    slope: Floats
    gas_c: float
    mouth_w: float


@dataclass(frozen=True, slots=True)
class Chamber:
    """The room under a dome of inner radius ``radius_m``; flames favour the crown."""

    radius_m: float
    mouth: Mouth
    crown_lick: float
    """How much more flame heat a m² of crown takes than one of the sides."""
    arch_w_k: float = 0.0
    """Heat that the masonry of the mouth's arch leads past the insulation, W/K."""

    @property
    def areas(self) -> Floats:
        """Crown, sides (less the mouth) and hearth, m²."""
        half = math.pi * self.radius_m**2
        return np.array([half, half - self.mouth.area_m2, half])

    def exchange(
        self, surface_c: Floats, flame_w: float, ember_w: float, air_c: float, wind_ms: float,
        door_on: bool, emissivity: float,
    ) -> Exchange:  # fmt: skip
        """Heat at the present surfaces (crown, sides, hearth)."""
        area = self.areas
        sphere = 4 * math.pi * self.radius_m**2
        kelvin = surface_c + 273.15
        bright = emissivity * SIGMA * kelvin**4
        to_mouth = self.mouth.area_m2 / sphere
        seen = np.array([
            [area[0] / sphere, area[1] / sphere, 0.5],
            [area[0] / sphere, area[1] / sphere, 0.5],
            [0.5, 0.5 - 2 * to_mouth, 0.0],
        ])  # fmt: skip
        view_out = np.array([to_mouth, to_mouth, 2 * to_mouth])
        outside = emissivity * SIGMA * (air_c + 273.15) ** 4
        shut_k = self.mouth.door_w_m2k / (self.mouth.door_w_m2k + 25.0)
        open_share = shut_k if door_on else 1.0
        lost = view_out * open_share * (bright - outside)
        flux = seen @ bright - bright * seen.sum(axis=1) - lost
        radiant = 0.35 * flame_w + 0.60 * ember_w
        weights = area * np.array([self.crown_lick, 1.0, 0.35])
        escaping = radiant * 2 * to_mouth * open_share
        flux = flux + (radiant - escaping) * weights / weights.sum() / area
        film = np.array([9.0, 6.0, 5.0]) if flame_w > 200 else np.array([3.0, 3.0, 3.5])
        if flame_w > 200:
            film = film * np.array([1.0 + 0.25 * (self.crown_lick - 1), 1.0, 1.0])
        stir = 0.12 + min(0.88, 0.00006 * (flame_w + ember_w))
        flow = self.mouth.air_kg_s(door_on, wind_ms) * stir * 1.6
        carry = max(flow * 1100.0, 0.05)
        convective = flame_w + ember_w - radiant
        gas_c = (convective + carry * air_c + float(film @ (area * surface_c))) / (
            carry + float(film @ area)
        )
        flux = flux + film * (gas_c - surface_c)
        arch_w = self.arch_w_k * (float(surface_c[1]) - air_c)
        flux[1] -= arch_w / area[1]
        slope = 4 * emissivity * SIGMA * kelvin**3 * (seen.sum(axis=1) + view_out) + film
        mouth_w = float(lost @ area) + escaping + carry * (gas_c - air_c) + arch_w
        return Exchange(flux, slope, gas_c, mouth_w)
