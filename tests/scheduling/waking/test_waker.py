"""The waker over APScheduler: it knocks late rather than never, and keeps nothing of its own."""

import asyncio
from datetime import UTC, datetime, time, timedelta
from typing import Any

from apscheduler.jobstores.memory import MemoryJobStore

from scheduling.waking.waker import Daily, SchedulerWaker

NOW = datetime.now(UTC)
HOURLY_S = 3600.0
SOON = timedelta(milliseconds=150)


class Work:
    def __init__(self) -> None:
        self.calls = 0
        self.at_once = 0
        self.most_at_once = 0
        self.due: datetime | None = None
        self.fails = 0
        self.go_on = asyncio.Event()
        self.go_on.set()
        self._changed = asyncio.Event()

    async def do(self) -> None:
        self.calls += 1
        self.at_once += 1
        self.most_at_once = max(self.most_at_once, self.at_once)
        self._changed.set()
        await self.go_on.wait()
        self.at_once -= 1
        if self.fails:
            self.fails -= 1
            raise OSError("disk full")

    async def next_due(self) -> datetime | None:
        due, self.due = self.due, None
        return due

    async def until(self, calls: int) -> None:
        while self.calls < calls:
            self._changed.clear()
            await asyncio.wait_for(self._changed.wait(), 5)


def jobs(waker: SchedulerWaker) -> dict[str, Any]:
    return {job.id: job for job in waker._scheduler.get_jobs()}


async def test_it_calls_at_the_start_and_at_the_row_that_is_due_next() -> None:
    work = Work()
    work.due = datetime.now(UTC) + SOON
    waker = SchedulerWaker(work.do, work.next_due, sweep_s=HOURLY_S)
    waker.start()
    await work.until(2)
    await waker.stop()
    assert work.calls == 2


async def test_no_job_is_dropped_for_being_late_or_kept_on_a_disk() -> None:
    work, due = Work(), NOW + timedelta(days=3)
    work.due = due
    waker = SchedulerWaker(work.do, work.next_due, sweep_s=HOURLY_S)
    waker.start()
    await work.until(1)
    await asyncio.sleep(0)
    assert jobs(waker)["next due row"].trigger.run_date == due
    for job in jobs(waker).values():
        assert (job.misfire_grace_time, job.coalesce, job.max_instances) == (None, True, 1)
    assert isinstance(waker._scheduler._lookup_jobstore("default"), MemoryJobStore)
    await waker.stop()


async def test_a_row_long_overdue_is_minded_at_once() -> None:
    work = Work()
    work.due = NOW - timedelta(days=2)
    waker = SchedulerWaker(work.do, work.next_due, sweep_s=HOURLY_S)
    waker.start()
    await work.until(2)
    await waker.stop()


async def test_a_call_in_hand_is_followed_by_one_more_and_never_doubled() -> None:
    work = Work()
    work.go_on.clear()
    waker = SchedulerWaker(work.do, work.next_due, sweep_s=HOURLY_S)
    waker.start()
    await work.until(1)
    for _ in range(5):
        waker.wake()
    work.go_on.set()
    await work.until(2)
    await waker.stop()
    assert (work.calls, work.most_at_once) == (2, 1)


async def test_a_call_that_fails_is_followed_by_the_next() -> None:
    work = Work()
    work.fails = 1
    waker = SchedulerWaker(work.do, work.next_due, sweep_s=HOURLY_S)
    waker.start()
    await work.until(1)
    waker.wake()
    await work.until(2)
    assert waker.fault() is None
    await waker.stop()


async def test_stopping_waits_for_the_call_in_hand() -> None:
    work = Work()
    work.go_on.clear()
    waker = SchedulerWaker(work.do, work.next_due, sweep_s=HOURLY_S)
    waker.start()
    await work.until(1)
    stopping = asyncio.create_task(waker.stop())
    await asyncio.sleep(0)
    assert not stopping.done()
    work.go_on.set()
    await asyncio.wait_for(stopping, 5)
    waker.wake()
    await asyncio.sleep(0)
    assert (work.calls, work.at_once) == (1, 0)


async def test_daily_work_is_done_at_the_start_and_at_its_hour_in_utc() -> None:
    work, daily = Work(), Work()
    told = Daily("backup", time(2, 30), daily.do)
    waker = SchedulerWaker(work.do, work.next_due, (told,), HOURLY_S)
    waker.start()
    await daily.until(1)
    await asyncio.sleep(0)
    coming = jobs(waker)["daily backup"].next_run_time
    assert (coming.hour, coming.minute, coming.utcoffset()) == (2, 30, timedelta(0))
    assert timedelta(0) < coming - datetime.now(UTC) <= timedelta(days=1)
    await waker.stop()


async def test_a_waker_that_stopped_by_itself_is_told() -> None:
    work = Work()
    waker = SchedulerWaker(work.do, work.next_due, sweep_s=HOURLY_S)
    assert waker.fault() is None
    waker.start()
    await work.until(1)
    waker._scheduler.shutdown(wait=False)
    await asyncio.sleep(0.01)
    assert waker.fault() == "the waker stopped"
    await waker.stop()
