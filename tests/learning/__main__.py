"""``python -m tests.learning``: widths and coverage of ovens held out, as a table."""

import argparse
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from math import sqrt

import numpy as np

from tests.learning.trial import FORETOLD, Held, tried


def by_fleet(found: Sequence[Held], what: str, of: Callable[[Held], float]) -> tuple[float, float]:
    """Mean and standard error: ovens of a fleet are alike, so that each fleet counts as one."""
    fleets = sorted({one.fleet for one in found})
    means = [
        np.mean([of(one) for one in found if (one.fleet, one.what) == (fleet, what)])
        for fleet in fleets
    ]
    error = np.std(means, ddof=1) / sqrt(len(means)) if len(means) > 1 else float("nan")
    return float(np.mean(means)), float(error)


def report(found: Sequence[Held]) -> str:
    """Per cent covered alone and with what was learnt, and the learnt width over the other."""
    rows = [f"{'of 90 %':<10}{'n':>5}{'alone':>8}{'±':>4}{'learnt':>8}{'±':>4}{'width':>8}{'±':>6}"]
    for what in FORETOLD:
        count = sum(one.what == what for one in found)
        alone = by_fleet(found, what, lambda one: one.covered(learnt=False))
        learnt = by_fleet(found, what, lambda one: one.covered(learnt=True))
        width = by_fleet(found, what, lambda one: one.narrower)
        cells = "".join(f"{100 * mean:8.0f}{100 * error:4.0f}" for mean, error in (alone, learnt))
        rows.append(f"{what:<10}{count:5d}{cells}{width[0]:8.2f}{width[1]:6.3f}")
    return "\n".join(rows)


def main() -> None:
    """Print the report."""
    wanted = argparse.ArgumentParser(description=__doc__)
    wanted.add_argument("--fleets", type=int, default=8)
    wanted.add_argument("--ovens", type=int, default=8)
    wanted.add_argument("--seed", type=int, default=1)
    wanted.add_argument("--workers", type=int, default=2)
    told = wanted.parse_args()
    with ProcessPoolExecutor(told.workers) as pool:
        numbers = range(told.fleets)
        batches = pool.map(tried, numbers, [told.ovens] * told.fleets, [told.seed] * told.fleets)
        print(report([one for batch in batches for one in batch]))


if __name__ == "__main__":
    main()
