"""Walks happenings down the one road: read, advance, write everything in one unit of work.

Reading and advancing (which may take a second of arithmetic) happen before the write lock is
taken; then the journal must still end where it was read, or all is done again.

Alarms that are due at once walk together: their ovens are read in one unit and written in
another, since it is the units that cost time. One that fails there is taken alone, so that its
fault is no other's.
"""

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable, Mapping, Sequence
from contextlib import AsyncExitStack, asynccontextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Generic

import structlog

from scheduling.alarm import Alarm
from scheduling.clock import Clock
from scheduling.happening import Came, Happening
from scheduling.outcome import Outcome
from scheduling.ports import (
    Conflict,
    DueAlarm,
    InboxRow,
    Letter,
    Pages,
    Store,
    UnitOfWork,
    Voice,
)
from scheduling.waking.posting import Poster, looks_back, named
from scheduling.waking.records import Book, R, Read, Records
from scheduling.waking.report import HOUSE, Report

ATTEMPTS = 20
"""So often a happening is begun anew because somebody else wrote to the same oven."""

AT_ONCE = 50
FEW = 20
"""Of many that are told one thing so many go together: others write to the store in between."""


TOGETHER = timedelta(seconds=0.25)
"""What has been advanced in this time is written; the rest does not keep it waiting. By the
engine's own clock, so that a clock moved by hand gives the same in every run."""

POSTPONED = timedelta(minutes=1)
"""An alarm whose handling failed is looked at again after this."""

Also = Callable[[UnitOfWork], Awaitable[bool]]
"""Something to be done in the same unit; False means that nothing at all is to be done."""

Fate = Outcome | None | Exception
"""What followed; None for nothing because the row was done before; or why it failed."""

_log = structlog.get_logger(__name__)


class NoSuchOvenError(LookupError):
    """Nothing here: no oven has that id."""


@dataclass(frozen=True, slots=True)
class _Step:
    """A happening on its way to an oven, with the row that is done when it got there."""

    oven: str
    happening: Happening
    inbox: tuple[str, str] | None = None
    alarm: Alarm | None = None
    also: Also | None = None


@dataclass(frozen=True, slots=True, eq=False)
class _Turn(Generic[R]):
    """A step, the record that it met, and what followed."""

    step: _Step
    read: Read[R]
    outcome: Outcome
    after: Read[R] = field(init=False)

    def __post_init__(self) -> None:
        after = self.read.after(self.outcome.entries)
        if self.outcome.belief is not None:
            after = Read(after.seq, after.record.believing(self.outcome.belief))
        object.__setattr__(self, "after", after)


class Engine(Generic[R]):
    """``happen`` for what comes in, ``run_due`` for what comes due."""

    def __init__(
        self,
        store: Store,
        voice: Voice,
        clock: Clock,
        book: Book[R],
        new_id: Callable[[], str],
        *,
        failed: Callable[[DueAlarm, Exception], None] = lambda *_: None,
    ) -> None:
        """``new_id`` makes ids of at most 64 bytes; ``failed`` is told of an alarm's failure."""
        self._store = store
        self._clock = clock
        self._book = book
        self._poster = Poster(voice, new_id)
        self._failed = failed
        self._records = Records(book)
        self._locks: dict[str, asyncio.Lock] = {}

    async def happen(
        self,
        oven_id: str,
        happening: Happening,
        *,
        inbox: tuple[str, str] | None = None,
        also: Also | None = None,
    ) -> Outcome | None:
        """Take ``happening`` to the oven; returns what followed.

        ``inbox`` (channel, key) is marked done in the same unit; None is returned, and nothing
        done, when it was done before, or when ``also`` says so. Raises NoSuchOvenError, and
        Conflict after many attempts.
        """
        fates = await self._walk([_Step(oven_id, happening, inbox, also=also)])
        fate = fates[oven_id]
        if isinstance(fate, Exception):
            raise fate
        return fate

    async def happen_each(self, happenings: Mapping[str, Happening]) -> Mapping[str, Fate]:
        """Take a happening to each of many ovens, some at a time, so that others have their turn
        in between; what became of it, by oven. To do it once more does nothing twice as long as
        the happenings have keys."""
        fates: dict[str, Fate] = {}
        while left := [one for one in happenings if one not in fates]:
            steps = [_Step(one, happenings[one]) for one in left[:FEW]]
            fates |= await self._walk(steps)
        return fates

    @asynccontextmanager
    async def standing_still(self, oven_id: str) -> AsyncIterator[None]:
        """Nothing happens to the oven in this block; afterwards its journal is read anew."""
        async with self._locks.setdefault(oven_id, asyncio.Lock()):
            try:
                yield
            finally:
                self._records.forget(oven_id)

    async def run_due(self, now: datetime | None = None) -> int:
        """Act on reports of deliveries and on every alarm due until ``now``; returns how many."""
        count = 0
        while acted := await self.run_some(now):
            count += acted
        return count

    async def run_some(self, now: datetime | None = None, limit: int = AT_ONCE) -> int:
        """The same for some of the first ``limit`` alarms; 0 when nothing is left.

        An oven's alarms go in the order in which they were due, each with its own ``due``: what a
        late one is still worth is for ``advance`` to say, and a later message replaces an unsent
        one.
        """
        now = now or self._clock.now()
        async with self._store.read() as unit:
            reports = await unit.inbox.waiting(HOUSE)
            due = await unit.alarms.due(now, limit)
        count = await self._take_reports(reports)
        firsts: dict[str, DueAlarm] = {}
        for one in due:
            firsts.setdefault(one.oven, one)
        return count + await self._come(list(firsts.values()))

    async def next_wake_up(self) -> datetime | None:
        """The earliest due alarm; now, when a report waits; None for never."""
        async with self._store.read() as unit:
            if await unit.inbox.waiting(HOUSE, 1):
                return self._clock.now()
            return await unit.alarms.next_due()

    async def record(self, oven_id: str) -> R:
        """The record as it stands: for questions that change nothing. Raises NoSuchOvenError."""
        async with self._store.read() as unit:
            reads = await self._records.read(unit, [oven_id])
        if oven_id not in reads:
            raise NoSuchOvenError(oven_id)
        return reads[oven_id].record

    async def _come(self, due: Sequence[DueAlarm]) -> int:
        """How many of these alarms, of different ovens, were dealt with: at least one."""
        steps = [_Step(d.oven, Came(d.alarm.name, d.alarm.due), alarm=d.alarm) for d in due]
        fates = await self._walk(steps) if steps else {}
        for one in due:
            fate = fates.get(one.oven)
            if isinstance(fate, Exception):
                _log.error("alarm failed", oven=one.oven, alarm=one.alarm.name, exc_info=fate)
                self._failed(one, fate)
                await self._postpone(one)
        return len(fates)

    async def _postpone(self, one: DueAlarm) -> None:
        again = Alarm(one.alarm.name, max(self._clock.now(), one.alarm.due) + POSTPONED)
        async with self._store.write() as unit:
            if await unit.alarms.take(one.oven, one.alarm):
                await unit.alarms.set(one.oven, again)
            await unit.commit()

    async def _take_reports(self, rows: Sequence[InboxRow]) -> int:
        taken = 0
        for row in rows:
            try:
                report = Report.model_validate_json(row.body)
                await self.happen(report.oven, report.happening(), inbox=(HOUSE, row.key))
                taken += 1
            except Exception as error:  # noqa: BLE001 - a report that fails is set aside, not lost
                _log.exception("report failed", key=row.key)
                async with self._store.write() as unit:
                    await unit.inbox.failed(HOUSE, row.key, repr(error), row.attempts >= 4)
                    await unit.commit()
        return taken

    async def _walk(self, steps: Sequence[_Step]) -> Mapping[str, Fate]:
        """Take steps to different ovens; what became, by oven, of at least one of them."""
        for attempt in range(1, ATTEMPTS + 1):
            if fates := await self._together(steps):
                return fates
            _log.info("begun anew", oven=steps[0].oven, attempt=attempt)
        first = steps[0].oven
        return {first: Conflict(f"oven {first} was written to {ATTEMPTS} times meanwhile")}

    async def _together(self, steps: Sequence[_Step]) -> dict[str, Fate]:
        try:
            return await self._once(steps)
        except Exception as error:  # noqa: BLE001 - whose it is will be seen when each is alone
            if len(steps) == 1:
                return {steps[0].oven: error}
            _log.warning("one by one", why=repr(error))
        fates: dict[str, Fate] = {}
        for step in steps:
            fates |= await self._together([step])
        return fates

    async def _once(self, steps: Sequence[_Step]) -> dict[str, Fate]:
        """Without those that are not reached in time, or that somebody else wrote to meanwhile."""
        # Within this process one at a time: a conflict would only cost a second calculation.
        async with AsyncExitStack() as held:
            for oven_id in sorted(step.oven for step in steps):
                await held.enter_async_context(self._locks.setdefault(oven_id, asyncio.Lock()))
            now = self._clock.now()
            async with self._store.read() as unit:
                reads = await self._records.read(unit, [step.oven for step in steps])
            turns, fates = await asyncio.to_thread(self._advance, steps, reads, now)
            if turns:
                fates |= await self._write(turns, now)
        return fates

    def _advance(
        self, steps: Sequence[_Step], reads: Mapping[str, Read[R]], now: datetime
    ) -> tuple[list[_Turn[R]], dict[str, Fate]]:
        turns: list[_Turn[R]] = []
        fates: dict[str, Fate] = {}
        for step in steps:
            if (read := reads.get(step.oven)) is None:
                fates[step.oven] = NoSuchOvenError(step.oven)
                continue
            try:
                outcome = self._book.advance(read.record, step.happening, now)
                turns.append(_Turn(step, read, outcome))
            except Exception as error:  # noqa: BLE001 - one oven's fault must not stop the others
                fates[step.oven] = error
            if self._clock.now() - now > TOGETHER:
                break
        return turns, fates

    async def _write(self, turns: Sequence[_Turn[R]], now: datetime) -> dict[str, Fate]:
        """All that follows, in one unit; without the ovens that were written to meanwhile."""
        async with self._store.write() as unit:
            ends = await unit.ovens.ends([turn.step.oven for turn in turns])
            standing = [turn for turn in turns if ends.get(turn.step.oven) == turn.read.seq]
            for turn in turns:
                if turn not in standing:
                    self._records.forget(turn.step.oven)
            ours = await _still_to_do(unit, standing)
            if ours:
                await self._keep(unit, ours, now)
                await unit.commit()
        for turn in ours:
            self._records.keep(turn.step.oven, turn.after)
        done: dict[str, Fate] = {turn.step.oven: None for turn in standing}
        return done | {turn.step.oven: turn.outcome for turn in ours}

    async def _keep(self, unit: UnitOfWork, turns: Sequence[_Turn[R]], now: datetime) -> None:
        ids = [turn.step.oven for turn in turns]
        await unit.ovens.append_each(
            [Pages(turn.step.oven, turn.read.seq, turn.outcome.entries) for turn in turns]
        )
        await unit.alarms.change(
            [(t.step.oven, name) for t in turns for name in t.outcome.drop_alarms],
            [DueAlarm(t.step.oven, alarm) for t in turns for alarm in t.outcome.set_alarms],
        )
        cards = await unit.ovens.several(ids)
        fresh = {t.step.oven: t.after.record.card(cards[t.step.oven], now) for t in turns}
        await unit.ovens.put_each([fresh[one] for one in ids if fresh[one] != cards[one]])
        for turn in turns:
            await self._keep_derived(unit, turn)
        asked = {one for t in turns for one in named(fresh[t.step.oven], t.outcome.messages)}
        people = await unit.people.several(sorted(asked))
        letters: list[Letter] = []
        for turn in turns:
            card, zone = fresh[turn.step.oven], turn.after.record.zone
            for message in turn.outcome.messages:
                if looks_back(message):
                    await unit.outbox.post_each(letters)
                    letters.clear()
                letters += await self._poster.letters(unit, card, people, zone, message, now)
        await unit.outbox.post_each(letters)

    async def _keep_derived(self, unit: UnitOfWork, turn: _Turn[R]) -> None:
        oven_id, after = turn.step.oven, turn.after
        if turn.outcome.belief is not None:
            packed = self._book.pack(turn.outcome.belief)
            await unit.ovens.keep_belief(oven_id, after.seq, packed)
        if tuple(after.record.promised) != tuple(turn.read.record.promised):
            await unit.promises.replace(oven_id, after.record.promised)


async def _still_to_do(unit: UnitOfWork, turns: Sequence[_Turn[R]]) -> list[_Turn[R]]:
    """Those whose row was not done before; it is done now."""
    due = [DueAlarm(t.step.oven, t.step.alarm) for t in turns if t.step.alarm is not None]
    taken = await unit.alarms.take_each(due)
    ours = []
    for turn in turns:
        step = turn.step
        if step.alarm is not None and DueAlarm(step.oven, step.alarm) not in taken:
            continue
        if step.inbox is not None and not await unit.inbox.done(*step.inbox):
            continue
        # Only a step that goes alone has one: what it did is undone with the whole unit.
        if step.also is not None and not await step.also(unit):
            continue
        ours.append(turn)
    return ours
