"""How wood burns on an invented hearth: charges that kindle, flame, char and glow.

Each charge gives up its water and volatiles at the rate of a burning crib and leaves char.
Air through the mouth limits both. Heat set free by a kilogram of wood, burnt out with all the
air it wants, is its net calorific value as fired (ISO 17225), by construction.
"""

import math
from dataclasses import dataclass, field

NET_DRY_J_KG = 19.0e6
"""Net calorific value of dry wood (ISO 17225, usual value)."""
WATER_LOSS_J_KG = 2.443e6
"""Heat that a kilogram of water in wood takes along (ISO 17225 Annex D)."""
CHAR_SHARE = 0.20
CHAR_J_KG = 32.0e6
"""Share of dry wood left as char, and its heat (from memory)."""
VOLATILE_J_KG = (NET_DRY_J_KG - CHAR_SHARE * CHAR_J_KG) / (1 - CHAR_SHARE)
HEAT_OF_AIR_J_KG = 3.0e6
"""Heat that a kilogram of air can set free, whatever burns (Huggett 1980, from memory)."""
LOG_PILE = 0.5
"""Logs on a hearth burn slower than the crib whose law is used (own choice)."""


@dataclass(slots=True)
class Charge:
    """Wood put on at once: what is left of it, in kg."""

    size_m: float
    water: float
    volatile: float
    char_to_come: float
    laid: float
    kindled: float = 0.0


@dataclass(frozen=True, slots=True)
class Burning:
    """What the fire gives during a step, in W, and what an onlooker sees."""

    flame_w: float
    ember_w: float
    starved: float
    """Share of the gas that found no air: smoke, and flames where it finds some."""

    @property
    def heat_w(self) -> float:
        """All heat set free."""
        return self.flame_w + self.ember_w


@dataclass(slots=True)
class Fire:
    """Everything that burns on the hearth."""

    charges: list[Charge] = field(default_factory=list)
    embers: float = 0.0
    ember_size_m: float = 0.04
    raked: float = 1.0
    """Below 1 the fire was spread apart, which halves its vigour."""
    released_j: float = 0.0
    escaped_j: float = 0.0

    def add(self, kg: float, size_m: float, moisture: float, *, kindling: bool = False) -> None:
        """Lay ``kg`` of wood, ``moisture`` of it (0-1) water."""
        dry = kg * (1 - moisture)
        self.charges.append(
            Charge(
                size_m,
                kg * moisture,
                dry * (1 - CHAR_SHARE),
                dry * CHAR_SHARE,
                kg,
                0.6 if kindling else 0.0,
            )
        )

    def unburnt_j(self) -> float:
        """Heat still in the wood and embers."""
        wood = sum(
            one.volatile * VOLATILE_J_KG
            + one.char_to_come * CHAR_J_KG
            - one.water * WATER_LOSS_J_KG
            for one in self.charges
        )
        return wood + self.embers * CHAR_J_KG

    def burn(self, seconds: float, air_kg_s: float, chamber_c: float) -> Burning:
        """Burn for ``seconds`` with at most ``air_kg_s`` of air."""
        flaming = any(one.kindled > 0.3 and one.volatile > 0.02 for one in self.charges)
        supply_w = air_kg_s * HEAT_OF_AIR_J_KG
        wanted: list[tuple[Charge, float]] = []
        for one in self.charges:
            self._kindle(one, seconds, flaming, chamber_c)
            dry = one.volatile + one.char_to_come
            if one.kindled <= 0.05 or dry <= 0:
                continue
            rate = (
                4.0 / one.size_m * 2.2e-6 * one.size_m**-0.6
                * math.sqrt(max(dry, 0.02 * one.laid) * one.laid)
                * LOG_PILE * one.kindled * self.raked
                * max(0.3, 1.15 - one.water / (dry + one.water))
                * (0.75 + 0.45 * min(chamber_c, 500.0) / 500.0)
            )  # fmt: skip
            wanted.append((one, min(1.0, rate * seconds / dry)))
        gas_j = sum(part * self._gas_j(one) for one, part in wanted)
        glow = min(1.0, self.raked**-1 * seconds / (2600.0 * self.ember_size_m / 0.04))
        glow_j = glow * self.embers * CHAR_J_KG
        allowed = supply_w * seconds
        choke = min(1.0, allowed * 1.3 / gas_j) if gas_j > 0 else 1.0
        gas_j *= choke
        burnt_j = min(gas_j, allowed)
        for one, part in wanted:
            part *= choke
            self.embers += one.char_to_come * part
            for name in ("water", "volatile", "char_to_come"):
                setattr(one, name, getattr(one, name) * (1 - part))
            self.ember_size_m = 0.98 * self.ember_size_m + 0.02 * one.size_m * 0.8
        used_glow_j = min(glow_j, max(allowed - burnt_j, 0.1 * allowed))
        self.embers = max(0.0, self.embers - used_glow_j / CHAR_J_KG)
        spent = [one for one in self.charges if one.volatile + one.char_to_come <= 1e-4]
        self.charges = [one for one in self.charges if one not in spent]
        self.released_j += burnt_j + used_glow_j
        self.escaped_j += (
            gas_j - burnt_j + sum(self._gas_j(one) + one.char_to_come * CHAR_J_KG for one in spent)
        )
        starved = 1 - burnt_j / gas_j * choke if gas_j > 0 else 0.0
        return Burning(burnt_j / seconds, used_glow_j / seconds, starved)

    @staticmethod
    def _gas_j(one: Charge) -> float:
        return max(0.0, one.volatile * VOLATILE_J_KG - one.water * WATER_LOSS_J_KG)

    def _kindle(self, one: Charge, seconds: float, flaming: bool, chamber_c: float) -> None:
        """Wood catches from flames, more slowly from embers or a glowing hot chamber."""
        hot_enough = self.embers > 0.06 or chamber_c > 330
        source = 1.0 if flaming else 0.5 if hot_enough else 0.0
        wetness = one.water / max(one.laid, 1e-9)
        pause_s = 140.0 * (one.size_m / 0.05) * (1 + 4 * wetness)
        one.kindled = min(1.0, one.kindled + source * seconds / pause_s)
        if one.kindled < 0.05 and source == 0.0:
            one.kindled = max(0.0, one.kindled - seconds / 1200.0)
