"""Two hundred ovens, four owners and three weathers through the whole break-in.

The bench prints what became of all of them; the slow test takes the first dozen.
"""

import asyncio
import os
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from functools import partial

import numpy as np
import pytest

from bot.commands.ovenfile import example, read_oven
from bot.rehearsal.closing import Closing
from bot.rehearsal.owners import Kind
from bot.rehearsal.staging import Weather, stage

Case = tuple[int, str, str]
CASES: tuple[Case, ...] = tuple(
    (seed, list(Kind)[seed % 4].value, ("dry", "showery", "gale")[seed // 4 % 3])
    for seed in range(200)
)


def rehearsed(case: Case) -> Closing:
    from bot.parts import shipped
    from bot.wiring import open_chat  # as late as that: it brings the whole house with it

    seed, kind, weather = case
    make_up = read_oven(example({})).make_up
    opened = partial(
        open_chat, parts=shipped(), builder=None, database_url=None, seed=seed, out=None
    )
    return asyncio.run(stage(make_up, Kind(kind), Weather(weather), seed, opened)).closing


def all_of(cases: tuple[Case, ...]) -> list[Closing]:
    with ProcessPoolExecutor(max_workers=min(2, os.cpu_count() or 1)) as pool:
        return list(pool.map(rehearsed, cases))


def report(cases: tuple[Case, ...], closings: list[Closing]) -> str:
    lines = []
    for kind in Kind:
        ours = [one for case, one in zip(cases, closings, strict=True) if case[1] == kind.value]
        if not ours:
            continue
        shares = np.array([one.worst_share for one in ours])
        lines.append(
            f"{kind.value:>15}: {len(ours)} ovens, good {sum(one.good for one in ours)}, "
            f"firings {np.median([one.firings for one in ours]):.0f} "
            f"({min(one.firings for one in ours)}-{max(one.firings for one in ours)}), "
            f"worst share median {np.median(shares):.2f} max {shares.max():.2f}, "
            f"false alarms {sum(one.false_alarms for one in ours)}, "
            f"wood on a bad number {sum(one.bad_orders for one in ours)}"
        )
    ends = Counter(one.ended.split(":")[0] for one in closings)
    return "\n".join([*lines, f"ended: {dict(ends)}"])


def check(closings: list[Closing]) -> None:
    assert all(one.unharmed for one in closings)
    assert all(one.bad_orders == 0 for one in closings)
    assert all(one.ended == "finished" or one.ended.startswith("stopped:") for one in closings)


@pytest.mark.slow
@pytest.mark.timeout(0)
def test_a_dozen_ovens_end_well_or_are_stopped_for_a_reason() -> None:
    cases = CASES[:12]
    closings = all_of(cases)
    print("\n" + report(cases, closings))
    check(closings)


@pytest.mark.bench
@pytest.mark.timeout(0)
def test_two_hundred_ovens_end_well_or_are_stopped_for_a_reason() -> None:
    closings = all_of(CASES)
    print("\n" + report(CASES, closings))
    check(closings)
