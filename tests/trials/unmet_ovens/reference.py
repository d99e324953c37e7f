"""Prints what the ovens of a seed allow an old hand, and what they do when they are fired hard.

python -m tests.trials.unmet_ovens.reference --ovens N --seed S --structures all
"""

import argparse

from tests.trials.unmet_ovens.cases import cases, structures_named
from tests.trials.unmet_ovens.draw import Drawn
from tests.trials.unmet_ovens.habits import Kind
from tests.trials.unmet_ovens.old_hand import classical, drawn, hard


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
