"""``python -m tests.calibration``: the coverage of every part after every fire, as a table."""

import argparse
from concurrent.futures import ProcessPoolExecutor

from tests.calibration.report import report
from tests.calibration.trial import dealt, tried


def main() -> None:
    """Print the report."""
    wanted = argparse.ArgumentParser(description=__doc__)
    wanted.add_argument("--ovens", type=int, default=200)
    wanted.add_argument("--seed", type=int, default=1)
    wanted.add_argument("--members", type=int, default=60)
    wanted.add_argument("--workers", type=int, default=2)
    told = wanted.parse_args()
    with ProcessPoolExecutor(told.workers) as pool:
        found = pool.map(tried, dealt(told.ovens, told.seed, told.members))
        print(report([one for batch in found for one in batch]))


if __name__ == "__main__":
    main()
