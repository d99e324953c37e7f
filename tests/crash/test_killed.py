"""A process is killed at each step of the road; the next one finds everything, and tells no lie.

The road: an update is stored (commit 1) and answered (2), the answer claimed (3), sent and settled
(4), and nothing more found to claim (5); an alarm comes due (6), its nudge is claimed (7), sent and
settled (8), and again nothing more is found (9).
"""

import asyncio
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest

from scheduling.outcome import Urgency
from scheduling.ports import OutboxState
from storage.address import sqlite_url
from storage.store import SqlStore, make_engine
from tests.contract.samples import NOON
from tests.crash.mortal import Step
from tests.crash.processes import is_killed
from tests.crash.victim import Road, walk_the_road

COMMITS, SENDS = 9, 2
POINTS = [
    *((step, n) for n in range(1, COMMITS + 1) for step in (Step.BEFORE_COMMIT, Step.AFTER_COMMIT)),
    *((step, n) for n in range(1, SENDS + 1) for step in (Step.BEFORE_SEND, Step.AFTER_SEND)),
]


@dataclass(frozen=True)
class Found:
    entries: int
    states: dict[str, OutboxState]
    doubts: dict[str, int]
    shown: list[str]
    reports: int
    waiting: int


IN_THE_AIR = {
    (Step.AFTER_COMMIT, 3),
    (Step.BEFORE_SEND, 1),
    (Step.AFTER_SEND, 1),
    (Step.BEFORE_COMMIT, 4),
    (Step.AFTER_COMMIT, 7),
    (Step.BEFORE_SEND, 2),
    (Step.AFTER_SEND, 2),
    (Step.BEFORE_COMMIT, 8),
}
"""Between a claim and its settling: nobody can know whether the letter arrived."""

CASES = [
    *((point, Urgency.FIRE) for point in POINTS),
    *((point, Urgency.ANSWER) for point in POINTS if point in IN_THE_AIR and point[1] < 5),
]


async def restart(path: Path, shown: Path, urgency: Urgency) -> None:
    """The next process: Telegram hands over again what was not acknowledged."""
    store = SqlStore(make_engine(sqlite_url(path)))
    # Longer than any lease: what was claimed is nobody's by now.
    road = Road(store, shown, urgency, "second", NOON + timedelta(seconds=90), lambda _: None)
    await road.fetch()
    await road.answer()
    await road.dispatcher.begin()
    await road.dispatcher.deliver()
    await road.nudge()
    await road.dispatcher.deliver()
    await store.close()


def look(path: Path, shown: Path) -> Found:
    with closing(sqlite3.connect(path)) as plain:
        letters = plain.execute("select id, state, doubts from outbox order by seq").fetchall()
        reports = "select count(*) from inbox where channel = 'house'"
        waiting = "select count(*) from inbox where channel = 'telegram' and state = 'waiting'"
        return Found(
            entries=plain.execute("select count(*) from journal").fetchone()[0],
            states={letter: OutboxState(state) for letter, state, _ in letters},
            doubts={letter: doubts for letter, _, doubts in letters if doubts},
            shown=shown.read_text().split() if shown.exists() else [],
            reports=plain.execute(reports).fetchone()[0],
            waiting=plain.execute(waiting).fetchone()[0],
        )


@pytest.mark.parametrize(("point", "urgency"), CASES)
def test_killed_anywhere_on_the_road(
    point: tuple[Step, int], urgency: Urgency, house_file: Path, tmp_path: Path
) -> None:
    step, number = point
    shown = tmp_path / "shown"
    assert is_killed(walk_the_road, house_file, shown, urgency.value, step.value, number)
    asyncio.run(restart(house_file, shown, urgency))
    found = look(house_file, shown)

    # Nothing is lost and nothing had two effects: the update and the alarm happened once each, and
    # what they led to was shown, whatever its kind.
    assert found.waiting == 0
    assert found.entries == len(found.states) == 2
    assert set(found.states.values()) == {OutboxState.SENT}
    assert set(found.shown) == set(found.states)
    # Only what nobody can know is marked, and nothing but that is doubled.
    assert list(found.doubts.values()) == [1] * (point in IN_THE_AIR)
    twice = {letter for letter in found.shown if found.shown.count(letter) > 1}
    assert twice <= set(found.doubts)
    assert found.reports == 0


def test_a_road_that_is_not_killed_has_as_many_steps(house_file: Path, tmp_path: Path) -> None:
    """Or the points above would leave some out."""
    shown = tmp_path / "shown"
    after = (Step.AFTER_COMMIT.value, COMMITS + 1)
    assert not is_killed(walk_the_road, house_file, shown, Urgency.FIRE.value, *after)
    assert look(house_file, shown).shown == ["first1", "first2"]
