"""Rounds: done when due, when woken, and again after a failure."""

import asyncio
from datetime import UTC, datetime, timedelta

from scheduling.clock import PacedClock, SteppedClock
from scheduling.waking.rounds import Rounds

NINE = datetime(2026, 5, 13, 9, 0, tzinfo=UTC)


class Work:
    def __init__(self, fails: int = 0) -> None:
        self.fails = fails
        self.done_at: list[datetime] = []
        self.changed = asyncio.Event()

    async def until(self, count: int) -> None:
        while len(self.done_at) < count:
            self.changed.clear()
            await asyncio.wait_for(self.changed.wait(), 5)


async def never() -> datetime | None:
    return None


async def test_work_is_done_at_the_start_and_when_woken() -> None:
    clock, work = SteppedClock(NINE), Work()

    async def once() -> None:
        work.done_at.append(clock.now())
        work.changed.set()

    rounds = Rounds("test", once, never, clock)
    rounds.start()
    await work.until(1)
    rounds.wake()
    await work.until(2)
    await asyncio.wait_for(rounds.stop(), 5)
    assert len(work.done_at) == 2


async def test_work_is_done_when_it_is_due_on_its_clock() -> None:
    clock, work = PacedClock(NINE, pace=36_000), Work()
    due = [NINE + timedelta(hours=1), NINE + timedelta(hours=2)]

    async def once() -> None:
        work.done_at.append(clock.now())
        work.changed.set()

    async def next_due() -> datetime | None:
        return next((time for time in due if time > clock.now()), None)

    rounds = Rounds("test", once, next_due, clock)
    rounds.start()
    await work.until(2)
    await asyncio.wait_for(rounds.stop(), 5)
    assert work.done_at[0] < due[0] <= work.done_at[1]


async def test_a_failed_round_is_followed_by_the_next() -> None:
    clock, work = SteppedClock(NINE), Work(fails=1)

    async def once() -> None:
        work.done_at.append(clock.now())
        work.changed.set()
        if work.fails:
            work.fails -= 1
            raise OSError("disk full")

    rounds = Rounds("test", once, never, clock)
    rounds.start()
    await work.until(1)
    rounds.wake()
    await work.until(2)
    assert rounds.fault() is None
    await asyncio.wait_for(rounds.stop(), 5)
