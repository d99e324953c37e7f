"""Ovens that nobody here has met, with owners of all kinds, through the real bot to the end.

    python -m tests.trials.unmet_ovens --ovens N --seed S --structures a,b --workers 2 [--show]

Structures: a zones, b skin (to tune on: ``tuning``); c leaky, d lopsided (``kept-back``). An oven
is the same whenever seed, number and structures are: ``--only K`` plays one of them again.
"""

import argparse
from time import monotonic

from tests.trials.unmet_ovens.cases import PATIENCE_D, cases, structures_named
from tests.trials.unmet_ovens.crew import played
from tests.trials.unmet_ovens.habits import Kind
from tests.trials.unmet_ovens.table import MEANING, endings, line, table, trace


def main() -> None:
    """Play the trial and print its table."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--ovens", type=int, default=10)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--structures", type=structures_named, default="tuning")
    parser.add_argument("--owners", default=",".join(Kind), help="kinds, by comma")
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--only", type=int, nargs="*", help="numbers of ovens")
    parser.add_argument("--days", type=int, default=PATIENCE_D, help="until owners give up")
    parser.add_argument("--show", action="store_true", help="the whole course of each")
    told = parser.parse_args()
    kinds = [Kind(word) for word in told.owners.split(",")]
    count = max(told.only) + 1 if told.only else told.ovens
    wanted = cases(told.seed, count, told.structures, kinds, told.days)
    if told.only:
        wanted = [wanted[number] for number in told.only]
    began, outcomes = monotonic(), []
    for outcome in played(wanted, told.workers):
        outcomes.append(outcome)
        print(line(outcome), flush=True)
        if told.show:
            print(trace(outcome), flush=True)
    print(f"\n{table(outcomes)}\n\n{MEANING}\n\n{endings(outcomes)}")
    cpu = sum(one.cpu_s for one in outcomes) / max(len(outcomes), 1)
    print(f"{monotonic() - began:.0f} s with {told.workers} workers, {cpu:.0f} s of CPU an oven")


if __name__ == "__main__":
    main()
