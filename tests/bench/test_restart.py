"""How soon the first of 50,000 stored alarms can be sent after a restart, as ratios.

Ours is sent, and that it was sent is written down: read, advanced, kept in the outbox, claimed and
settled, in three commits. The rival's is called, and nothing is kept of it. With one alarm due
that difference is all there is to see: no statement of ours takes longer for 50,000 than for 500
(both are printed), and it takes some milliseconds to build each of them once.
"""

import multiprocessing
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path

import pytest

from tests.bench.restarting import (
    Measured,
    fill_ours,
    fill_rival,
    restart_ours,
    restart_rival,
)

COUNT, FEW = 50_000, 500

SECONDS_AWAY = 140
"""Of as many nudges that come once an hour, so many come due in ten seconds."""

PATIENCE_S = 120
"""No restart is waited for longer."""


def tell(work: Callable[[Path], Measured], path: Path, pipe: Connection) -> None:
    pipe.send(work(path))


def alone(work: Callable[[Path], Measured], path: Path) -> Measured | None:
    """In a fresh process, so that its growth is its own; None where it takes too long."""
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=tell, args=(work, path, theirs), daemon=True)
    process.start()
    measured: Measured | None = ours.recv() if ours.poll(PATIENCE_S) else None
    process.kill()
    process.join()
    return measured


@pytest.mark.bench
@pytest.mark.timeout(1800)
@pytest.mark.parametrize(
    "due",
    [1, SECONDS_AWAY, COUNT],
    ids=["one is due", "those of ten seconds are due", "all came due meanwhile"],
)
def test_a_restart_over_fifty_thousand_alarms(due: int, tmp_path: Path) -> None:
    ours, rival, few = (tmp_path / name for name in ("ours.sqlite", "rival.sqlite", "few.sqlite"))
    fill_ours(ours, COUNT, due)
    fill_rival(rival, COUNT, due)
    measured = alone(restart_ours, ours)
    assert measured is not None
    seconds, grew = measured
    print(f"\n{due} of {COUNT} due: first sent after {seconds:.3f} s and {grew / 2**20:.0f} MiB")
    if due < FEW:
        fill_ours(few, FEW, due)
        of_few = alone(restart_ours, few)
        assert of_few is not None
        print(f"{due} of {FEW} due: first sent after {of_few[0]:.3f} s")
    theirs = alone(restart_rival, rival)
    if theirs is None:
        print(f"APScheduler's SQL store: not in {PATIENCE_S} s: {PATIENCE_S / seconds:.0f} times")
        return
    rival_seconds, rival_grew = theirs
    print(
        f"APScheduler's SQL store: {rival_seconds:.3f} s and {rival_grew / 2**20:.0f} MiB: "
        f"{rival_seconds / seconds:.1f} times as long, "
        f"{rival_grew / max(grew, 1):.1f} times as much"
    )
