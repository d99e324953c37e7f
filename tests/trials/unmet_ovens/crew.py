"""Plays many trials at once, each worker on one core."""

import asyncio
import logging
import os
from collections.abc import Iterator, Sequence
from multiprocessing import get_context

from bot import logs
from tests.trials.unmet_ovens.cases import Case
from tests.trials.unmet_ovens.trial import Outcome, play

ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")


def played(wanted: Sequence[Case], workers: int) -> Iterator[Outcome]:
    """All of them, in their order."""
    for name in ONE_THREAD:
        os.environ[name] = "1"  # read when a worker first loads its arithmetic
    with get_context("spawn").Pool(workers) as pool:
        yield from pool.imap(_one, wanted)


def _one(case: Case) -> Outcome:
    logging.disable(logging.CRITICAL)
    logs.set_up(level="CRITICAL")
    return asyncio.run(play(case))
