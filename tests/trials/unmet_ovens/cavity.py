"""What the fire and the inner faces of an oven do to each other; one class a structure.

Each hands back the heat that goes into every face and what is lost to the air, both from their own
equations: that they add up to the heat of the fire is left to a test.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from tests.trials.unmet_ovens.fire import Glow
from tests.trials.unmet_ovens.steam import KELVIN, Floats

STEFAN = 5.67e-8
AIR_J_M3_K = 1200.0
BLACKNESS = 0.85


@dataclass(frozen=True, slots=True)
class Outside:
    """The air at the mouth, and how much of the mouth is open (1, or next to nothing)."""

    air_c: float
    wind_ms: float
    open_share: float


@dataclass(frozen=True, slots=True)
class Exchange:
    """Watts per square metre into each face, and watts lost to the air."""

    flux_w_m2: Floats
    lost_w: float


@dataclass(frozen=True, slots=True)
class Mouth:
    """The hole in front."""

    area_m2: float
    convects_w_m2_k: float
    """Of air that rolls in and out while nothing flames."""
    wind_robs: float
    """How much more of that for each m/s, and how much less of the flames' heat stays."""


class Cavity(Protocol):
    """The inside of an oven."""

    @property
    def areas(self) -> Floats:
        """Of its faces, m², crown first, hearth last."""
        ...

    def exchange(self, glow: Glow, surface_c: Floats, outside: Outside) -> Exchange:
        """What flows now."""
        ...


def _to_fourth(celsius: Floats) -> Floats:
    return np.asarray((celsius + KELVIN) ** 4)


def _leaks_w(surface_c: Floats, views: Floats, mouth: Mouth, outside: Outside) -> Floats:
    """What each face loses through the mouth, of which it sees ``views`` (adding up to 1)."""
    area = mouth.area_m2 * outside.open_share * views
    glare = BLACKNESS * STEFAN * (_to_fourth(surface_c) - (outside.air_c + KELVIN) ** 4)
    rolls = mouth.convects_w_m2_k * (1.0 + mouth.wind_robs * outside.wind_ms)
    return np.asarray(area * (glare + rolls * (surface_c - outside.air_c)))


@dataclass(frozen=True, slots=True)
class FaceToFace:
    """Every face radiates to every other by its share of view; flames heat them unevenly."""

    areas: Floats
    sees: Floats
    """Area times view factor between two faces, m², symmetric."""
    flames: Floats
    embers: Floats
    """How their heat is shared out, each adding up to 1."""
    keeps: float
    """Share of the heat of flames that stays in the oven."""
    keeps_of_embers: float
    views: Floats
    mouth: Mouth

    def exchange(self, glow: Glow, surface_c: Floats, outside: Outside) -> Exchange:
        blown = 1.0 / (1.0 + self.mouth.wind_robs * outside.wind_ms * outside.open_share)
        flame_w = glow.flame_w * self.keeps * blown
        ember_w = glow.ember_w * self.keeps_of_embers * blown
        fourth = _to_fourth(surface_c)
        net = STEFAN * BLACKNESS * (self.sees * (fourth[None, :] - fourth[:, None])).sum(axis=1)
        leaks = _leaks_w(surface_c, self.views, self.mouth, outside)
        into = flame_w * self.flames + ember_w * self.embers + net - leaks
        lost = glow.total_w - flame_w - ember_w + float(leaks.sum())
        return Exchange(into / self.areas, lost)


@dataclass(frozen=True, slots=True)
class OneGlow:
    """All faces bathe in one glow: they exchange with a common temperature, not with each other.

    ``leans`` is how much more of the fire's heat a face gets than its area would.
    """

    areas: Floats
    leans: Floats
    couples_w_m2_k: float
    """How strongly a face at 100 °C follows the glow; it grows with the third power."""
    keeps: float
    views: Floats
    mouth: Mouth

    def exchange(self, glow: Glow, surface_c: Floats, outside: Outside) -> Exchange:
        blown = 1.0 / (1.0 + self.mouth.wind_robs * outside.wind_ms * outside.open_share)
        kept_w = glow.total_w * self.keeps * blown
        weight = self.areas * self.leans
        warm = self.couples_w_m2_k * ((surface_c + KELVIN) / 373.15) ** 3 * self.areas
        common = float((warm * surface_c).sum() / warm.sum())
        leaks = _leaks_w(surface_c, self.views, self.mouth, outside)
        into = kept_w * weight / weight.sum() + warm * (common - surface_c) - leaks
        lost = glow.total_w - kept_w + float(leaks.sum())
        return Exchange(into / self.areas, lost)


@dataclass(frozen=True, slots=True)
class Draughty:
    """A stream of air through the mouth: flames heat it, it heats the faces, the rest blows out.

    When nothing flames the same stream cools them, the front most.
    """

    areas: Floats
    radiates: float
    """Share of the fire's heat that goes straight to what it sees."""
    sees: Floats
    """How that is shared out over the faces; what is missing from 1 shines out of the mouth."""
    warms_w_m2_k: Floats
    """From the stream to each face."""
    draught_m3_s: float
    """At a hundred kelvin of difference, with the mouth open."""
    front: Floats
    """How much of the cold stream each face meets, adding up to 1."""
    chills_w_m2_k: float
    couples_w_m2_k: float
    views: Floats
    mouth: Mouth

    def exchange(self, glow: Glow, surface_c: Floats, outside: Outside) -> Exchange:
        mean = float((self.areas * surface_c).sum() / self.areas.sum())
        pull = np.sqrt(max(mean - outside.air_c, 0.0) / 100.0 + glow.total_w / 10e3)
        wind = 1.0 + self.mouth.wind_robs * outside.wind_ms
        stream = AIR_J_M3_K * self.draught_m3_s * pull * wind * outside.open_share
        radiant = glow.total_w * self.radiates * self.sees
        hot_w = glow.total_w * (1.0 - self.radiates)
        reach = self.warms_w_m2_k * self.areas
        # A steady balance of the gas: what the fire gives, the faces and the mouth take.
        gas = (hot_w + stream * outside.air_c + float((reach * surface_c).sum())) / (
            stream + float(reach.sum())
        )
        fanned = min(1.0, glow.total_w / 1e3)
        to_faces = reach * (gas - surface_c) * fanned
        chill = (1.0 - fanned) * self.chills_w_m2_k * outside.open_share * pull * wind
        chilled = chill * self.front * self.areas.sum() * (surface_c - outside.air_c)
        lost_gas = hot_w - float((reach * (gas - surface_c)).sum()) * fanned
        leaks = _leaks_w(surface_c, self.views, self.mouth, outside)
        warm = self.couples_w_m2_k * ((surface_c + KELVIN) / 373.15) ** 3 * self.areas
        common = float((warm * surface_c).sum() / warm.sum())
        into = radiant + to_faces - chilled - leaks + warm * (common - surface_c)
        shone_out = glow.total_w * self.radiates * (1.0 - float(self.sees.sum()))
        lost = shone_out + lost_gas + float(chilled.sum() + leaks.sum())
        return Exchange(into / self.areas, lost)
