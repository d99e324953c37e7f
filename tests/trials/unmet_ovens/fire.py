"""A wood fire made of charges: each dries, catches or smoulders, flames, and leaves embers."""

from dataclasses import dataclass, field

DRY_WOOD_J_KG = 18.3e6
WATER_IN_WOOD_J_KG = 2.44e6
EMBERS_J_KG = 30e6
CHAR_SHARE = 0.28
"""Of the heat of wood, what burns as embers."""

USUAL_MM = 40.0
LIVELY_BED_KG_PER_KG = 0.08
"""Embers to wood at which a charge of usual wood catches without being looked after."""
HOT_WALL_C, HOTTER_BY_K = 250.0, 150.0
"""From where on the wall alone sets wood alight."""
SMOULDERS_BELOW = 0.2
LONG_SMOULDER_MIN = 50.0
DOOR_LETS_BURN = 0.08


@dataclass(frozen=True, slots=True)
class Burning:
    """How this oven, with this owner's wood, burns."""

    burn_out_min: float
    """Of a charge of usual wood, 40 mm thick, in flames."""
    thickness_power: float
    catch_min: float
    embers_outlast: float
    """How many times longer than flames."""
    wind_fans: float
    """How much faster it burns for each m/s."""


@dataclass(slots=True)
class Charge:
    """Wood that was put on at once."""

    kg: float
    moisture: float
    thick_mm: float
    caught: bool = False
    to_catch: float = 0.0
    """From 0, put on, to 1, in flames."""
    burnt: float = 0.0
    """Share of its time in flames that has passed."""

    @property
    def heat_j(self) -> float:
        """All that it gives when it burns."""
        dry, wet = 1.0 - self.moisture, self.moisture
        return self.kg * (DRY_WOOD_J_KG * dry - WATER_IN_WOOD_J_KG * wet)

    @property
    def unburnt_kg(self) -> float:
        """What of it is still to be seen as wood."""
        return self.kg * (1.0 - _given(self.burnt))


@dataclass(slots=True)
class Glow:
    """Heat set free, in watts."""

    flame_w: float = 0.0
    ember_w: float = 0.0

    @property
    def total_w(self) -> float:
        """Of both."""
        return self.flame_w + self.ember_w


@dataclass(slots=True)
class Fire:
    """Charges, and a bed of embers."""

    burning: Burning
    charges: list[Charge] = field(default_factory=list)
    ember_j: float = 0.0
    spread: bool = False
    released_j: float = 0.0
    laid_j: float = 0.0
    wood_kg: float = 0.0
    glow: Glow = field(default_factory=Glow)

    @property
    def embers_kg(self) -> float:
        """The bed."""
        return self.ember_j / EMBERS_J_KG

    @property
    def unburnt_kg(self) -> float:
        """Wood that can be seen, burning or not."""
        return sum(one.unburnt_kg for one in self.charges)

    @property
    def flames(self) -> bool:
        """Whether there are any to be seen."""
        return self.glow.flame_w > 300.0

    @property
    def out(self) -> bool:
        """Nothing but ash."""
        return not self.charges and self.embers_kg < 0.02

    def put_on(self, kg: float, moisture: float, thick_mm: float, lit: bool = False) -> None:
        """Wood goes on; ``lit`` with paper or a firelighter under it."""
        if kg <= 0.0:
            return
        charge = Charge(kg, moisture, thick_mm, to_catch=0.5 if lit else 0.0, caught=False)
        charge.caught = lit
        self.charges.append(charge)
        self.laid_j += charge.heat_j
        self.wood_kg += kg
        self.spread = False

    def kindle(self) -> None:
        """Paper is lit under whatever lies there."""
        for one in self.charges:
            one.caught = True

    def rake_flat(self) -> None:
        """Flames fall, embers spend themselves."""
        self.spread = True

    def step(self, seconds: float, wall_c: float, wind_ms: float, door_on: bool) -> Glow:
        """Burn on for so long."""
        air = DOOR_LETS_BURN if door_on else 1.0 + self.burning.wind_fans * wind_ms
        flaming_kg = sum(one.unburnt_kg for one in self.charges if one.caught)
        flame_j = 0.0
        for one in self.charges:
            if not one.caught:
                self._catch(one, seconds, wall_c, flaming_kg, air)
                continue
            before = _given(one.burnt)
            one.burnt = min(1.0, one.burnt + seconds * air / self._lasts_s(one))
            given_j = one.heat_j * (_given(one.burnt) - before)
            flame_j += (1.0 - CHAR_SHARE) * given_j
            self.ember_j += CHAR_SHARE * given_j
        self.charges = [one for one in self.charges if one.burnt < 1.0]
        ember_j = self._embers(seconds, air)
        self.released_j += flame_j + ember_j
        self.glow = Glow(flame_j / seconds, ember_j / seconds)
        return self.glow

    def left_j(self) -> float:
        """What has not been set free of all that was put on."""
        wood = sum(one.heat_j * (1.0 - _given(one.burnt)) for one in self.charges)
        return wood + self.ember_j

    def _lasts_s(self, one: Charge) -> float:
        thick = float((one.thick_mm / USUAL_MM) ** self.burning.thickness_power)
        damp = 1.0 + 2.5 * max(0.0, one.moisture - 0.15)
        flat = 1.6 if self.spread else 1.0
        return min(max(self.burning.burn_out_min * thick, 6.0), 90.0) * damp * flat * 60.0

    def _embers(self, seconds: float, air: float) -> float:
        lasts = self.burning.burn_out_min * self.burning.embers_outlast * 60.0
        lasts *= 0.5 if self.spread else 1.0
        spent = self.ember_j * min(1.0, seconds * min(air, 1.5) / lasts)
        self.ember_j -= spent
        return spent

    def _catch(
        self, one: Charge, seconds: float, wall_c: float, flaming_kg: float, air: float
    ) -> None:
        """A charge dries and catches by what glows and burns beside it; else it smoulders."""
        bed = self.embers_kg / (LIVELY_BED_KG_PER_KG * one.kg)
        warmth = bed + 2.0 * flaming_kg / one.kg + max(0.0, (wall_c - HOT_WALL_C) / HOTTER_BY_K)
        warmth *= min(1.0, air) / (1.0 + 4.0 * max(0.0, one.moisture - 0.18))
        minutes = self.burning.catch_min * (one.thick_mm / USUAL_MM) * (1.0 + 3.0 * one.moisture)
        if warmth < SMOULDERS_BELOW:
            pace = 1.0 / LONG_SMOULDER_MIN if self.embers_kg > 0.03 else 0.0
        else:
            pace = min(warmth, 1.5) / minutes
        one.to_catch += pace * seconds / 60.0
        one.caught = one.to_catch >= 1.0


def _given(burnt: float) -> float:
    """Share of its heat that a charge has given: slow, then fast, then slow."""
    return burnt * burnt * (3.0 - 2.0 * burnt)
