"""From a message at a burning fire to the answer stored for sending, with the wall and without.

An afternoon of messages as an owner sends them, on SQLite: readings, wood, weather, questions.
The bare road is the same conversation by the rule of thumb alone, with no ensemble behind it.
"""

import os
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
from sqlalchemy import insert

from scheduling.ports import OvenCard
from scheduling.record import Record
from scheduling.waking.book import OvenBook
from storage import tables
from storage.address import sqlite_url
from storage.store import make_engine, open_store
from tests.bench.stopwatch import PLAIN, Timed, row
from tests.scheduling.road import ANA, Road, lit

MEDIAN_MS, MOST_MS = 60.0, 150.0
FIRES = 3


class BareBook(OvenBook):
    """Ovens without a wall: what is left is the road."""

    def empty(self, card: OvenCard) -> Record:
        return replace(Record.empty(card), members=0)


def afternoon() -> list[str]:
    """Three dozen messages, ten minutes apart."""
    said: list[str] = []
    top_c = 40.0
    for number in range(20):
        top_c = min(152.0, top_c + 9.0) + (number % 3 - 1)
        said.append(f"top {top_c:.0f} sides {top_c - 24:.0f}")
        said += [["put 2 bits on just now"], [], ["what now?"], ["bit windy now"]][number % 4]
    return said


async def filled(path: Path, road: Road) -> None:
    await (await open_store(sqlite_url(path))).close()
    card = road.record.card(OvenCard(id="o", name="Ana's oven", owners=(ANA,)), road.now)
    entries = road.record.entries
    engine = make_engine(sqlite_url(path))
    async with engine.begin() as connection:
        for table, rows in (
            (tables.people, [{"id": ANA, "address": ANA, "name": "Ana", **PLAIN}]),
            (tables.ovens, [card.model_dump(exclude={"owners"})
                            | {"find": "ana", "entries": len(entries)}]),
            (tables.tenders, [{"oven": "o", "position": 0, "person": ANA}]),
            (tables.journal, [row("o", seq, one) for seq, one in enumerate(entries, 1)]),
        ):  # fmt: skip
            await connection.execute(insert(table), rows)
    await engine.dispose()


async def answered(path: Path, book: OvenBook) -> tuple[list[float], list[float]]:
    """Milliseconds of work and on the wall, for every message but the first."""
    road = lit()
    await filled(path, road)
    store = await open_store(sqlite_url(path))
    try:
        ana = Timed(store, ANA, road.now, book)
        worked = [await ana.receive(timedelta(minutes=10), text=text) for text in afternoon()]
        heard = len(ana.listener.take())
        assert heard >= len(worked), "somebody was not answered"
        return worked[1:], ana.waited[1:]
    finally:
        await store.close()


@pytest.mark.bench
@pytest.mark.timeout(900)
async def test_a_reply_at_the_fire_with_the_full_ensemble(tmp_path: Path) -> None:
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    middles = {}
    for name, book in (("bare road", BareBook()), ("with the wall", OvenBook())):
        work, wall = [], []
        for fire in range(FIRES):
            worked, waited = await answered(tmp_path / f"{name} {fire}.sqlite", book)
            work += worked
            wall += waited
        middles[name] = float(np.median(work))
        print(
            f"\n{name:14s} {len(work)} replies: median {np.median(work):5.1f} ms, "
            f"95 % {np.percentile(work, 95):5.1f} ms, worst {max(work):5.1f} ms of work; on the "
            f"wall {np.median(wall):5.1f} ms, 95 % {np.percentile(wall, 95):5.1f} ms"
        )
    print(
        f"the wall costs {middles['with the wall'] / middles['bare road']:.1f} bare replies; "
        f"median {middles['with the wall'] / MEDIAN_MS:.2f} of the {MEDIAN_MS:.0f} ms asked for"
    )
    assert middles["with the wall"] > middles["bare road"]
