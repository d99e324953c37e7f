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
    repeats: dict[str, str]
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
    road = Road(store, shown, urgency, "second", NOON + timedelta(minutes=5), lambda _: None)
    await road.fetch()
    await road.answer()
    await road.dispatcher.recover()
    await road.dispatcher.deliver()
    await road.nudge()
    await road.dispatcher.deliver()
    await store.close()


def look(path: Path, shown: Path) -> Found:
    with closing(sqlite3.connect(path)) as plain:
        letters = plain.execute("select id, state, repeat_of from outbox order by seq").fetchall()
        reports = "select count(*) from inbox where channel = 'house'"
        waiting = "select count(*) from inbox where channel = 'telegram' and state = 'waiting'"
        return Found(
            entries=plain.execute("select count(*) from journal").fetchone()[0],
            states={letter: OutboxState(state) for letter, state, _ in letters},
            repeats={letter: first for letter, _, first in letters if first},
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

    firsts = [letter for letter in found.states if letter not in found.repeats]
    unknown = [letter for letter, state in found.states.items() if state is OutboxState.UNKNOWN]
    sent = [letter for letter, state in found.states.items() if state is OutboxState.SENT]
    # Nothing is lost and nothing had two effects: the update, the alarm and, if a letter was left
    # in the air, the news of it (which this oven answers like anything else) happened once each.
    in_the_air = point in IN_THE_AIR
    assert found.waiting == 0
    assert found.reports == in_the_air
    assert found.entries == len(firsts) == 2 + in_the_air
    assert set(found.states.values()) <= {OutboxState.SENT, OutboxState.UNKNOWN}
    # What is called sent was shown; no letter was ever shown twice.
    assert set(sent) <= set(found.shown)
    assert len(found.shown) == len(set(found.shown))
    # What nobody can know is marked, and handled by its policy.
    assert len(unknown) == in_the_air
    repeated = in_the_air and urgency is Urgency.FIRE
    assert list(found.repeats.values()) == (unknown if repeated else [])
    assert set(found.repeats) <= set(sent)


def test_a_road_that_is_not_killed_has_as_many_steps(house_file: Path, tmp_path: Path) -> None:
    """Or the points above would leave some out."""
    shown = tmp_path / "shown"
    after = (Step.AFTER_COMMIT.value, COMMITS + 1)
    assert not is_killed(walk_the_road, house_file, shown, Urgency.FIRE.value, *after)
    assert look(house_file, shown).shown == ["first1", "first2"]
