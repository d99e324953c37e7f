"""Walks happenings down the one road: read, advance, write everything in one unit of work.

What the engine asks of a record (``scheduling.record`` provides it):

    record.applied(entry)      the record after one more journal entry
    record.believing(belief)   the same with the ensemble that was kept (or None)
    record.zone                the oven's own time zone, an IANA name
    record.promised            the days that the owner was told
    record.card(card, now)     the stored card, with state, needs, name and place brought up to date

and of the book that it is kept in: an empty record for a card, the pure ``advance``, and how an
ensemble is packed into bytes.

Reading and advancing (which may take a second of arithmetic) happen before the write lock is
taken; then the journal must still end where it was read, or all is done again.
"""

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable, Sequence
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Generic, Protocol, Self, TypeVar

import structlog

from scheduling.alarm import Alarm
from scheduling.clock import Clock
from scheduling.happening import Came, Happening
from scheduling.journal import Entry
from scheduling.outcome import BUILDER, TEAM_PREFIX, TENDERS, Message, Outcome
from scheduling.oven.belief import Belief
from scheduling.ports import (
    Conflict,
    DueAlarm,
    Letter,
    OutboxState,
    OvenCard,
    Parcel,
    Person,
    PromisedDay,
    Store,
    UnitOfWork,
    Voice,
)
from scheduling.waking.gathering import Told, gathered
from scheduling.waking.quiet import not_before
from scheduling.waking.report import HOUSE, Report

ATTEMPTS = 20
"""So often a happening is begun anew because somebody else wrote to the same oven."""

AT_ONCE = 20

POSTPONED = timedelta(minutes=1)
"""An alarm whose handling failed is looked at again after this."""

KEPT_RECORDS = 256

Also = Callable[[UnitOfWork], Awaitable[bool]]
"""Something to be done in the same unit; False means that nothing at all is to be done."""

_log = structlog.get_logger(__name__)


class Record(Protocol):
    """An oven's journal, folded."""

    @property
    def zone(self) -> str:
        """The oven's own time zone, an IANA name."""
        ...

    @property
    def promised(self) -> Sequence[PromisedDay]:
        """The days that the owner was told."""
        ...

    def applied(self, entry: Entry) -> Self:
        """The record after one more entry."""
        ...

    def believing(self, belief: Belief | None) -> Self:
        """The record with an ensemble that was kept."""
        ...

    def card(self, card: OvenCard, now: datetime) -> OvenCard:
        """The stored card brought up to date."""
        ...


R = TypeVar("R", bound=Record)


class Book(Protocol[R]):
    """How records begin and go on."""

    def empty(self, card: OvenCard) -> R:
        """The record of an oven with an empty journal."""
        ...

    def advance(self, record: R, happening: Happening, now: datetime) -> Outcome:
        """Pure: what follows from ``happening``."""
        ...

    def pack(self, belief: Belief) -> bytes:
        """Whatever ``unpack`` reads."""
        ...

    def unpack(self, packed: bytes) -> Belief | None:
        """The ensemble, or None when these bytes are of an older shape."""
        ...


class NoSuchOvenError(LookupError):
    """Nothing here: no oven has that id."""


@dataclass(frozen=True, slots=True)
class _Read(Generic[R]):
    """A record as of entry ``seq``."""

    seq: int
    record: R


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
        self._voice = voice
        self._clock = clock
        self._book = book
        self._new_id = new_id
        self._failed = failed
        self._records: dict[str, _Read[R]] = {}
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
        return await self._walk(oven_id, happening, inbox=inbox, also=also)

    @asynccontextmanager
    async def standing_still(self, oven_id: str) -> AsyncIterator[None]:
        """Nothing happens to the oven in this block; afterwards its journal is read anew."""
        async with self._locks.setdefault(oven_id, asyncio.Lock()):
            try:
                yield
            finally:
                self._records.pop(oven_id, None)

    async def run_due(self, now: datetime | None = None) -> int:
        """Act on reports of deliveries and on every alarm due until ``now``; returns how many."""
        count = 0
        while acted := await self.run_some(now):
            count += acted
        return count

    async def run_some(self, now: datetime | None = None, limit: int = AT_ONCE) -> int:
        """The same for the first ``limit`` alarms; 0 when nothing is left.

        Alarms go in the order in which they were due, each with its own ``due``: what a late one
        is still worth is for ``advance`` to say, and a later message replaces an unsent one.
        """
        now = now or self._clock.now()
        count = await self._take_reports()
        async with self._store.read() as unit:
            due = await unit.alarms.due(now, limit)
        for one in due:
            # One that an earlier alarm dropped counts too: it is dealt with.
            await self._come(one)
        return count + len(due)

    async def next_wake_up(self) -> datetime | None:
        """The earliest due alarm; now, when a report waits; None for never."""
        async with self._store.read() as unit:
            if await unit.inbox.waiting(HOUSE, 1):
                return self._clock.now()
            return await unit.alarms.next_due()

    async def record(self, oven_id: str) -> R:
        """The record as it stands: for questions that change nothing. Raises NoSuchOvenError."""
        async with self._store.read() as unit:
            return (await self._read(unit, oven_id)).record

    async def _come(self, one: DueAlarm) -> bool:
        came = Came(one.alarm.name, one.alarm.due)
        try:
            return await self._walk(one.oven, came, alarm=one.alarm) is not None
        except Exception as error:  # noqa: BLE001 - one oven's fault must not stop the others
            _log.exception("alarm failed", oven=one.oven, alarm=one.alarm.name)
            self._failed(one, error)
            await self._postpone(one)
            return True

    async def _postpone(self, one: DueAlarm) -> None:
        again = Alarm(one.alarm.name, max(self._clock.now(), one.alarm.due) + POSTPONED)
        async with self._store.write() as unit:
            if await unit.alarms.take(one.oven, one.alarm):
                await unit.alarms.set(one.oven, again)
            await unit.commit()

    async def _take_reports(self) -> int:
        async with self._store.read() as unit:
            rows = await unit.inbox.waiting(HOUSE)
        taken = 0
        for row in rows:
            try:
                report = Report.model_validate_json(row.body)
                await self._walk(report.oven, report.happening(), inbox=(HOUSE, row.key))
                taken += 1
            except Exception as error:  # noqa: BLE001 - a report that fails is set aside, not lost
                _log.exception("report failed", key=row.key)
                async with self._store.write() as unit:
                    await unit.inbox.failed(HOUSE, row.key, repr(error), row.attempts >= 4)
                    await unit.commit()
        return taken

    async def _walk(
        self,
        oven_id: str,
        happening: Happening,
        *,
        inbox: tuple[str, str] | None = None,
        alarm: Alarm | None = None,
        also: Also | None = None,
    ) -> Outcome | None:
        # Within this process one at a time: a conflict would only cost a second calculation.
        async with self._locks.setdefault(oven_id, asyncio.Lock()):
            for attempt in range(1, ATTEMPTS + 1):
                now = self._clock.now()
                async with self._store.read() as unit:
                    read = await self._read(unit, oven_id)
                outcome = await asyncio.to_thread(self._book.advance, read.record, happening, now)
                try:
                    return await self._write(oven_id, read, outcome, now, inbox, alarm, also)
                except Conflict:
                    self._records.pop(oven_id, None)
                    _log.info("begun anew", oven=oven_id, attempt=attempt)
            raise Conflict(f"oven {oven_id} was written to {ATTEMPTS} times meanwhile")

    async def _read(self, unit: UnitOfWork, oven_id: str) -> _Read[R]:
        known = self._records.get(oven_id)
        if known is None:
            card = await unit.ovens.get(oven_id)
            if card is None:
                raise NoSuchOvenError(oven_id)
            known = _Read(0, self._book.empty(card))
            entries = [one.entry for one in await unit.ovens.journal(oven_id)]
            seq, packed = await unit.ovens.belief(oven_id) or (0, b"")
            known = _applied(known, entries[:seq])
            if packed and known.seq == seq:
                belief = self._book.unpack(packed)
                known = _Read(seq, known.record.believing(belief))
            known = _applied(known, entries[known.seq :])
        else:
            newer = await unit.ovens.journal(oven_id, known.seq)
            known = _applied(known, [j.entry for j in newer])
        self._keep(oven_id, known)
        return known

    async def _write(
        self,
        oven_id: str,
        read: _Read[R],
        outcome: Outcome,
        now: datetime,
        inbox: tuple[str, str] | None,
        alarm: Alarm | None,
        also: Also | None,
    ) -> Outcome | None:
        after = _applied(read, outcome.entries)
        if outcome.belief is not None:
            after = _Read(after.seq, after.record.believing(outcome.belief))
        async with self._store.write() as unit:
            await unit.ovens.append(oven_id, read.seq, outcome.entries)
            if inbox is not None and not await unit.inbox.done(*inbox):
                return None
            if alarm is not None and not await unit.alarms.take(oven_id, alarm):
                return None
            if also is not None and not await also(unit):
                return None
            card = await unit.ovens.get(oven_id)
            if card is None:
                raise NoSuchOvenError(oven_id)
            for name in outcome.drop_alarms:
                await unit.alarms.drop(oven_id, name)
            for alarm_set in outcome.set_alarms:
                await unit.alarms.set(oven_id, alarm_set)
            if outcome.belief is not None:
                packed = self._book.pack(outcome.belief)
                await unit.ovens.keep_belief(oven_id, after.seq, packed)
            fresh = after.record.card(card, now)
            if fresh != card:
                await unit.ovens.put(fresh)
            if tuple(after.record.promised) != tuple(read.record.promised):
                await unit.promises.replace(oven_id, after.record.promised)
            for message in outcome.messages:
                await self._post(unit, fresh, after.record.zone, message, now)
            await unit.commit()
        self._keep(oven_id, after)
        return outcome

    async def _post(
        self, unit: UnitOfWork, card: OvenCard, zone: str, message: Message, now: datetime
    ) -> None:
        for reader in await readers(unit, card, message):
            if message.amends and not await unit.outbox.stands(reader.id, message.slot or ""):
                continue
            told = Told.plainly(message, not_before(message.urgency, reader, now))
            if reader.builder is not None and reader.builder == card.builder:
                told = told.naming(card)
            if message.gathers:
                told = await gathered(unit, reader, card, told, now)
            # Rendered for the moment of reading, so that "today" is right in the morning.
            parcel = addressed(
                self._voice.render(told.meaning, reader, zone, told.first), card, told.first
            )
            letter = Letter(
                id=self._new_id(),
                person=reader.id,
                oven=card.id,
                parcel=parcel,
                urgency=message.urgency,
                created_at=now,
                not_before=told.first,
                expires=message.expires,
                replaces=told.replaces,
                slot=told.slot,
                state=OutboxState.CANCELLED if reader.blocked else OutboxState.TODO,
                why="blocked" if reader.blocked else "",
                button_keys=button_keys(parcel, self._new_id),
            )
            await unit.outbox.post(letter)

    def _keep(self, oven_id: str, read: _Read[R]) -> None:
        self._records.pop(oven_id, None)
        self._records[oven_id] = read
        while len(self._records) > KEPT_RECORDS:
            self._records.pop(next(iter(self._records)))


async def readers(unit: UnitOfWork, card: OvenCard, message: Message) -> tuple[Person, ...]:
    """Whom a message goes to, each once: groups are told apart, unknown ids dropped."""
    if message.to == BUILDER:
        team = await unit.people.team(card.builder) if card.builder else ()
        # Somebody who has blocked us hears nothing first: then it is for all of them.
        first = [one for one in team if one.id in message.first and not one.blocked]
        return tuple(one for one in first or team if one.id not in message.but)
    if message.to.startswith(TEAM_PREFIX):
        return await unit.people.team(message.to.removeprefix(TEAM_PREFIX))
    ids = card.owners if message.to == TENDERS else (message.to,)
    found = [await unit.people.get(person_id) for person_id in dict.fromkeys(ids)]
    return tuple(person for person in found if person is not None)


def button_keys(parcel: Parcel, new_id: Callable[[], str]) -> dict[str, str]:
    """A key for each label that is shown, in the order in which they are read."""
    return {label: new_id() for row in parcel.buttons for label in row}


def addressed(parcel: Parcel, card: OvenCard, at: datetime) -> Parcel:
    """What is drawn or written when it is sent also knows whose oven it is, and as of when."""
    of = {"oven_id": card.id, "oven": card.name, "at": at.isoformat()}
    return parcel.model_copy(
        update={
            "attachments": tuple(
                one.model_copy(update={"data": of | one.data}) for one in parcel.attachments
            )
        }
    )


def _applied(read: _Read[R], entries: Sequence[Entry]) -> _Read[R]:
    record = read.record
    for entry in entries:
        record = record.applied(entry)
    return _Read(read.seq + len(entries), record)
