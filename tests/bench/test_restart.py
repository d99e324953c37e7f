"""How soon the first of 50,000 stored alarms can be sent after a restart, as ratios."""

import multiprocessing
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import pytest

from tests.bench.restarting import (
    Measured,
    fill_ours,
    fill_rival,
    restart_ours,
    restart_rival,
)

COUNT = 50_000


def alone(work: Callable[[Path], Measured], path: Path) -> Measured:
    """In a fresh process, so that its growth is its own."""
    with ProcessPoolExecutor(1, multiprocessing.get_context("spawn")) as process:
        return process.submit(work, path).result()


@pytest.mark.bench
@pytest.mark.timeout(1800)
@pytest.mark.parametrize("due", [1, COUNT], ids=["one is due", "all came due meanwhile"])
def test_a_restart_over_fifty_thousand_alarms(due: int, tmp_path: Path) -> None:
    ours, rival = tmp_path / "ours.sqlite", tmp_path / "rival.sqlite"
    fill_ours(ours, COUNT, due)
    fill_rival(rival, COUNT, due)
    seconds, grew = alone(restart_ours, ours)
    rival_seconds, rival_grew = alone(restart_rival, rival)
    print(
        f"\n{due} of {COUNT} due: first sent after {seconds:.2f} s and {grew / 2**20:.0f} MiB; "
        f"APScheduler's SQL store {rival_seconds:.2f} s and {rival_grew / 2**20:.0f} MiB: "
        f"{rival_seconds / seconds:.1f} times as long, "
        f"{rival_grew / max(grew, 1):.1f} times as much"
    )
