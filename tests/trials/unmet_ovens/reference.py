"""An old hand who sees the true crown: the classical five fires, to know what an oven allows.

    python -m tests.trials.unmet_ovens.reference --ovens N --seed S --structures all

What she cannot finish in these fires nobody should be blamed for. It is also the measure of how
much wood these ovens take.
"""

import argparse
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from tests.trials.unmet_ovens.cases import Case, cases, structures_named
from tests.trials.unmet_ovens.draw import Drawn, draw_oven, generators
from tests.trials.unmet_ovens.habits import Kind
from tests.trials.unmet_ovens.oven import Oven, Weather
from tests.trials.unmet_ovens.structures import Structure

AIMS_C = (150.0, 200.0, 250.0, 300.0, 350.0, 400.0)
CLIMB_K_H = 90.0
HOLD = timedelta(hours=3)
LOOKS_EVERY = timedelta(minutes=8)
FAIR_SHARE = 0.7
MOISTURE = 0.17
THICK_MM = 40.0
KG_M2_PER_LOOK = 0.35
"""At most, for each square metre inside."""


@dataclass(frozen=True, slots=True)
class Burnt:
    """What one of her fires did."""

    aim_c: float
    peak_c: float
    hours: float
    wood_kg: float
    morning_c: float
    water_kg: float
    worst_share: float


def fire_to(oven: Oven, aim_c: float) -> Burnt:
    """One fire, led by looking every eight minutes; then the door, until the next morning."""
    began, start_c, wood = oven.now, oven.crown_c, oven.fire.wood_kg
    room = float(oven.cavity.areas.sum())
    gain_k = 60.0 / room
    oven.light(0.35 * room, MOISTURE, 25.0)
    peak, reached, keep_kg = oven.crown_c, None, 0.0
    while True:
        oven.run_until(oven.now + LOOKS_EVERY)
        peak = max(peak, oven.crown_c)
        hours = (oven.now - began) / timedelta(hours=1)
        led_c = min(aim_c, max(start_c, 60.0) + CLIMB_K_H * (hours + 0.35))
        if reached is None and oven.crown_c > aim_c - 12.0:
            reached = oven.now
        if (reached is not None and oven.now - reached > HOLD) or hours > 9.0:
            break
        lacks = led_c - oven.crown_c - gain_k * oven.fire.unburnt_kg * 0.7
        keep_kg = min(max(keep_kg + 0.06 * lacks / gain_k, 0.0), KG_M2_PER_LOOK * room)
        kg = min(0.5 * lacks / gain_k + keep_kg, 2.0 * KG_M2_PER_LOOK * room)
        if kg > 0.05 * room:
            oven.stoke(kg, MOISTURE, THICK_MM, paper=not oven.fire.flames)
    lasted = (oven.now - began) / timedelta(hours=1)
    while oven.fire.flames:
        oven.run_until(oven.now + LOOKS_EVERY)
    oven.door_on = True
    oven.run_until(began + timedelta(hours=24))
    return Burnt(
        aim_c, peak, lasted, oven.fire.wood_kg - wood, oven.crown_c, oven.water_kg,
        oven.account.worst_share,
    )  # fmt: skip


def hard(oven: Oven) -> Burnt:
    """No hand at all: as much as fits, until it reads 420 °C or four hours are over."""
    began, wood, room = oven.now, oven.fire.wood_kg, float(oven.cavity.areas.sum())
    oven.light(0.8 * room, MOISTURE, 25.0)
    while oven.crown_c < 420.0 and oven.now - began < timedelta(hours=4):
        oven.run_until(oven.now + LOOKS_EVERY)
        if oven.fire.unburnt_kg < 2.5 * room:
            oven.stoke(0.8 * room, MOISTURE, THICK_MM)
    hours = (oven.now - began) / timedelta(hours=1)
    return Burnt(
        420.0, oven.crown_c, hours, oven.fire.wood_kg - wood, 0.0, oven.water_kg,
        oven.account.worst_share,
    )  # fmt: skip


def classical(oven: Oven) -> list[Burnt]:
    """All of them, and the hottest again while it is not dry or black."""
    done = [fire_to(oven, aim) for aim in AIMS_C]
    while not (oven.dry and oven.clear) and len(done) < len(AIMS_C) + 3:
        done.append(fire_to(oven, AIMS_C[-1]))
    return done


@dataclass(frozen=True, slots=True)
class Allowed:
    """What an oven allows: what she made of it."""

    fires: int
    wood_kg: float
    worst_share: float
    finished: bool

    @property
    def fair(self) -> bool:
        """Nobody has an excuse with it: she dried and cleared it with steam to spare."""
        return self.finished and self.worst_share < FAIR_SHARE


def allowed(case: Case) -> Allowed:
    """Her fires at the oven of that case."""
    oven = drawn(case.seed, case.number, case.structure).oven
    fires = classical(oven)
    return Allowed(len(fires), oven.fire.wood_kg, oven.account.worst_share, oven.dry and oven.clear)


def calm(_: datetime) -> Weather:
    """An even day."""
    return Weather(14.0, 1.0)


def drawn(seed: int, number: int, structure: Structure) -> Drawn:
    """The same oven as in a trial of that seed and number."""
    start = datetime.combine(date(2026, 6, 1), datetime.min.time(), UTC) + timedelta(hours=8)
    return draw_oven(structure, generators(seed, number, 3)[0], start, calm)


def main() -> None:
    """Print what the ovens of a seed allow."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--ovens", type=int, default=8)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--structures", type=structures_named, default="all")
    told = parser.parse_args()
    for case in cases(told.seed, told.ovens, told.structures, tuple(Kind)):
        number, structure = case.number, case.structure
        one = drawn(told.seed, number, structure)
        had = one.oven.water_kg
        fires = classical(one.oven)
        headline = _headline(number, one, had, len(fires))
        wet, dry = hard(drawn(told.seed, number, structure).oven), hard(one.oven)
        print(headline)
        for name, fire in (("hard, wet", wet), ("hard, dry", dry)):
            print(
                f"      {name}: {fire.peak_c:3.0f} in {fire.hours:3.1f} h, {fire.wood_kg:4.1f} kg, "
                f"worst {fire.worst_share:.2f}"
            )
        for fire in fires:
            print(
                f"      {fire.aim_c:3.0f}: peak {fire.peak_c:3.0f}, {fire.hours:3.1f} h, "
                f"{fire.wood_kg:4.1f} kg, morning {fire.morning_c:3.0f}, "
                f"water {fire.water_kg:4.1f}, worst {fire.worst_share:.2f}"
            )


def _headline(number: int, one: Drawn, had_kg: float, fires: int) -> str:
    make, oven = one.make, one.oven
    return (
        f"{number:3d} {one.structure:9s} {make.construction.key:13s} {make.diameter_m * 100:3.0f} "
        f"cm {make.shell_m * 1e3:3.0f} mm  water {had_kg:4.1f} kg  burn-out "
        f"{oven.fire.burning.burn_out_min:2.0f}  k {make.permeability_m2:.0e}  worst "
        f"{oven.account.worst_share:.2f} wettest {oven.wettest_share:.2f} bare "
        f"{oven.bare_share:.2f} after {fires} fires"
    )


if __name__ == "__main__":
    main()
