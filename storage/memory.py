"""Everything kept in memory, with the same behaviour: for rehearsals and tests.

A unit of work has copies of the tables (their rows are immutable, so that is cheap) and puts them
in place when it commits.
"""

import asyncio
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from datetime import UTC, datetime, timedelta
from types import TracebackType
from typing import Self

from scheduling.alarm import Alarm, AlarmName
from scheduling.journal import Entry
from scheduling.outcome import Urgency
from scheduling.pacing import Pacing
from scheduling.ports import (
    EVERYBODY,
    Alarms,
    Conflict,
    DueAlarm,
    Inbox,
    InboxRow,
    InboxState,
    Journaled,
    Letter,
    Outbox,
    OutboxState,
    OvenCard,
    Ovens,
    People,
    Person,
    Pressed,
    PromisedDay,
    Promises,
)
from storage.faults import RuleBroken

_LONG_AGO = datetime.min.replace(tzinfo=UTC)
_RANK = {Urgency.DANGER: 0, Urgency.FIRE: 1, Urgency.ANSWER: 2, Urgency.CALM: 3}


@dataclass(frozen=True, slots=True)
class _Kept:
    row: InboxRow
    state: InboxState = InboxState.WAITING
    why: str = ""


@dataclass(frozen=True, slots=True)
class _Tried:
    """A letter with what only the outbox knows of it."""

    letter: Letter
    seq: int
    lease_until: datetime | None = None
    tried_at: datetime | None = None


@dataclass
class _Tables:
    people: dict[str, Person] = field(default_factory=dict)
    ovens: dict[str, OvenCard] = field(default_factory=dict)
    journal: dict[str, tuple[Journaled, ...]] = field(default_factory=dict)
    beliefs: dict[str, tuple[int, bytes]] = field(default_factory=dict)
    promises: dict[str, tuple[PromisedDay, ...]] = field(default_factory=dict)
    alarms: dict[tuple[str, AlarmName], datetime] = field(default_factory=dict)
    inbox: dict[tuple[str, str], _Kept] = field(default_factory=dict)
    outbox: dict[str, _Tried] = field(default_factory=dict)
    buttons: dict[str, tuple[str, str]] = field(default_factory=dict)
    pauses: dict[str, datetime] = field(default_factory=dict)

    def copied(self) -> "_Tables":
        return _Tables(**{one.name: dict(getattr(self, one.name)) for one in fields(self)})


class MemoryStore:
    """A ``Store`` that forgets everything at its end."""

    def __init__(self) -> None:
        self._tables = _Tables()
        self._turn = asyncio.Lock()

    def write(self) -> "MemoryUnit":
        """A unit that no other writer runs beside."""
        return MemoryUnit(self, self._turn)

    def read(self) -> "MemoryUnit":
        """A unit for looking only."""
        return MemoryUnit(self, None)

    async def close(self) -> None:
        """Nothing to let go of."""

    def connections_in_use(self) -> int:
        """Whether a writer is at work."""
        return int(self._turn.locked())


class MemoryUnit:
    """A unit of work over memory."""

    people: People
    ovens: Ovens
    alarms: Alarms
    inbox: Inbox
    outbox: Outbox
    promises: Promises

    def __init__(self, store: MemoryStore, turn: asyncio.Lock | None) -> None:
        self._store = store
        self._turn = turn
        self._tables: _Tables | None = None

    async def __aenter__(self) -> Self:
        if self._turn is not None:
            await self._turn.acquire()
        tables = self._store._tables.copied()
        self._tables = tables
        self.people = _People(tables)
        self.ovens = _Ovens(tables)
        self.alarms = _Alarms(tables)
        self.inbox = _Inbox(tables)
        self.outbox = _Outbox(tables)
        self.promises = _Promises(tables)
        return self

    async def __aexit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._tables = None
        if self._turn is not None:
            self._turn.release()

    async def commit(self) -> None:
        """Keep what was done; the unit is over."""
        if self._tables is None:
            raise RuntimeError("a unit of work is open only inside its block")
        if self._turn is not None:
            self._store._tables = self._tables.copied()


class _Room:
    def __init__(self, tables: _Tables) -> None:
        self._t = tables

    def _needs_oven(self, oven_id: str) -> None:
        if oven_id not in self._t.ovens:
            raise RuleBroken(f"a row was refused: there is no oven {oven_id}")

    def _needs_person(self, person_id: str) -> None:
        if person_id not in self._t.people:
            raise RuleBroken(f"a row was refused: there is no person {person_id}")


class _People(_Room):
    async def get(self, person_id: str) -> Person | None:
        return self._t.people.get(person_id)

    async def at(self, channel: str, address: str) -> Person | None:
        there = (p for p in self._t.people.values() if (p.channel, p.address) == (channel, address))
        return next(there, None)

    async def put(self, person: Person) -> None:
        there = await self.at(person.channel, person.address)
        if there is not None and there.id != person.id:
            raise RuleBroken("a row was refused: somebody else is reached there")
        self._t.people[person.id] = person

    async def team(self, builder_id: str) -> tuple[Person, ...]:
        team = (p for p in self._t.people.values() if p.builder == builder_id)
        return tuple(sorted(team, key=lambda p: p.id))


class _Ovens(_Room):
    async def get(self, oven_id: str) -> OvenCard | None:
        return self._t.ovens.get(oven_id)

    async def put(self, card: OvenCard) -> None:
        for person in card.owners:
            self._needs_person(person)
        self._t.ovens[card.id] = card

    async def of_person(self, person_id: str) -> tuple[OvenCard, ...]:
        return self._where(lambda card: person_id in card.owners)

    async def of_builder(self, builder_id: str) -> tuple[OvenCard, ...]:
        return self._where(lambda card: card.builder == builder_id)

    async def in_states(self, states: Sequence[str]) -> tuple[OvenCard, ...]:
        return self._where(lambda card: card.state in states)

    async def journal(self, oven_id: str, after: int = 0) -> tuple[Journaled, ...]:
        return self._t.journal.get(oven_id, ())[max(after, 0) :]

    async def append(self, oven_id: str, after: int, entries: Sequence[Entry]) -> int:
        old = self._t.journal.get(oven_id, ())
        if oven_id not in self._t.ovens or len(old) != after:
            raise Conflict(f"the journal of {oven_id} does not end at {after}")
        new = tuple(Journaled(seq=n, entry=entry) for n, entry in enumerate(entries, after + 1))
        self._t.journal[oven_id] = old + new
        return after + len(new)

    async def keep_belief(self, oven_id: str, seq: int, packed: bytes) -> None:
        self._needs_oven(oven_id)
        self._t.beliefs[oven_id] = (seq, packed)

    async def belief(self, oven_id: str) -> tuple[int, bytes] | None:
        return self._t.beliefs.get(oven_id)

    def _where(self, wanted: Callable[[OvenCard], bool]) -> tuple[OvenCard, ...]:
        return tuple(sorted(filter(wanted, self._t.ovens.values()), key=lambda card: card.id))


class _Promises(_Room):
    async def of(self, oven_id: str) -> tuple[PromisedDay, ...]:
        return self._t.promises.get(oven_id, ())

    async def replace(self, oven_id: str, days: Sequence[PromisedDay]) -> None:
        self._needs_oven(oven_id)
        self._t.promises[oven_id] = tuple(days)


class _Alarms(_Room):
    async def set(self, oven_id: str, alarm: Alarm) -> None:
        self._needs_oven(oven_id)
        self._t.alarms[oven_id, alarm.name] = alarm.due

    async def drop(self, oven_id: str, name: AlarmName) -> None:
        self._t.alarms.pop((oven_id, name), None)

    async def take(self, oven_id: str, alarm: Alarm) -> bool:
        if self._t.alarms.get((oven_id, alarm.name)) != alarm.due:
            return False
        del self._t.alarms[oven_id, alarm.name]
        return True

    async def of(self, oven_id: str) -> Mapping[AlarmName, datetime]:
        theirs = [(due, name) for (oven, name), due in self._t.alarms.items() if oven == oven_id]
        return {name: due for due, name in sorted(theirs)}

    async def due(self, until: datetime, limit: int = 100) -> tuple[DueAlarm, ...]:
        due = sorted((d, oven, name) for (oven, name), d in self._t.alarms.items() if d <= until)
        return tuple(DueAlarm(oven, Alarm(name, d)) for d, oven, name in due[:limit])

    async def next_due(self) -> datetime | None:
        return min(self._t.alarms.values(), default=None)


class _Inbox(_Room):
    async def store(self, row: InboxRow) -> bool:
        if (row.channel, row.key) in self._t.inbox:
            return False
        self._t.inbox[row.channel, row.key] = _Kept(row)
        return True

    async def waiting(self, channel: str, limit: int = 100) -> tuple[InboxRow, ...]:
        rows = [
            kept.row
            for kept in self._t.inbox.values()
            if kept.row.channel == channel and kept.state is InboxState.WAITING
        ]
        return tuple(rows[:limit])

    async def done(self, channel: str, key: str) -> bool:
        kept = self._t.inbox.get((channel, key))
        if kept is None or kept.state is not InboxState.WAITING:
            return False
        self._t.inbox[channel, key] = replace(kept, state=InboxState.DONE)
        return True

    async def failed(self, channel: str, key: str, why: str, set_aside: bool) -> None:
        kept = self._t.inbox.get((channel, key))
        if kept is None or kept.state is not InboxState.WAITING:
            return
        row = replace(kept.row, attempts=kept.row.attempts + 1)
        state = InboxState.SET_ASIDE if set_aside else InboxState.WAITING
        self._t.inbox[channel, key] = _Kept(row, state, why)


class _Outbox(_Room):
    async def post(self, letter: Letter) -> None:
        self._needs_person(letter.person)
        if letter.id in self._t.outbox:
            raise RuleBroken(f"a row was refused: letter {letter.id} is there already")
        if letter.replaces is not None and letter.state is OutboxState.TODO:
            for old in self._in(OutboxState.TODO):
                same = (old.letter.person, old.letter.replaces) == (letter.person, letter.replaces)
                if same:
                    self._put(old, state=OutboxState.CANCELLED, why="replaced by a newer one")
        self._t.outbox[letter.id] = _Tried(letter, len(self._t.outbox))
        for label, key in letter.button_keys.items():
            self._t.buttons.setdefault(key, (letter.id, label))

    async def get(self, letter_id: str) -> Letter | None:
        one = self._t.outbox.get(letter_id)
        return one.letter if one else None

    async def claim(
        self, now: datetime, lease_until: datetime, limit: int, pacing: Pacing | None = None
    ) -> tuple[Letter, ...]:
        for old in self._in(OutboxState.TODO):
            if old.letter.expires is not None and old.letter.expires <= now:
                self._put(old, state=OutboxState.EXPIRED, why="no longer worth saying")
        held = set(await self.paused(now))
        if EVERYBODY in held:
            return ()
        if pacing is not None:
            second = self._tried_since(now - timedelta(seconds=1))
            limit = min(limit, pacing.room(len(second)))
            minute = self._tried_since(now - timedelta(minutes=1))
            for person in self._t.people.values():
                is_full = person.group and minute.count(person.id) >= pacing.group_per_minute
                if is_full or second.count(person.id) >= pacing.chat_per_second:
                    held.add(person.id)
        held |= {one.letter.person for one in self._in(OutboxState.SENDING)}
        ready = [one for one in self._in(OutboxState.TODO) if one.letter.not_before <= now]
        ready.sort(key=lambda o: (_RANK[o.letter.urgency], o.letter.created_at, o.seq))
        claimed: list[Letter] = []
        for one in ready:
            if len(claimed) >= limit or one.letter.person in held:
                continue
            held.add(one.letter.person)
            letter = replace(
                one.letter, state=OutboxState.SENDING, attempts=one.letter.attempts + 1
            )
            self._t.outbox[letter.id] = _Tried(letter, one.seq, lease_until, now)
            claimed.append(letter)
        return tuple(claimed)

    async def settle(
        self,
        letter_id: str,
        state: OutboxState,
        at: datetime,
        *,
        ref: str | None = None,
        why: str = "",
        not_before: datetime | None = None,
    ) -> bool:
        one = self._t.outbox.get(letter_id)
        ours = {OutboxState.SENDING}
        if state is OutboxState.SENT:
            ours.add(OutboxState.UNKNOWN)
        if one is None or one.letter.state not in ours:
            return False
        letter = replace(one.letter, state=state, why=why)
        if state is OutboxState.SENT:
            letter = replace(letter, sent_at=at, ref=ref)
        if not_before is not None:
            letter = replace(letter, not_before=not_before)
        self._t.outbox[letter_id] = replace(one, letter=letter, lease_until=None)
        return True

    async def lapsed(self, now: datetime) -> tuple[Letter, ...]:
        return tuple(
            one.letter
            for one in self._in(OutboxState.SENDING)
            if one.lease_until is not None and one.lease_until <= now
        )

    async def superseded(self, letter: Letter) -> bool:
        own = self._t.outbox.get(letter.id)
        if letter.replaces is None or own is None:
            return False
        return any(
            one.seq > own.seq
            and (one.letter.person, one.letter.replaces) == (letter.person, letter.replaces)
            for one in self._t.outbox.values()
        )

    async def cancel_for(self, person_id: str, why: str) -> int:
        theirs = [one for one in self._in(OutboxState.TODO) if one.letter.person == person_id]
        for one in theirs:
            self._put(one, state=OutboxState.CANCELLED, why=why)
        return len(theirs)

    async def pause(self, person_id: str, until: datetime) -> None:
        self._t.pauses[person_id] = until

    async def paused(self, now: datetime) -> Mapping[str, datetime]:
        return {who: until for who, until in self._t.pauses.items() if until > now}

    async def unknown(self, since: datetime) -> tuple[Letter, ...]:
        letters = (one.letter for one in self._in(OutboxState.UNKNOWN))
        return tuple(letter for letter in letters if letter.created_at >= since)

    async def sent_in_slot(self, person_id: str, slot: str) -> Letter | None:
        return self._newest_sent(person_id, slot)

    async def last_sent(self, person_id: str) -> Letter | None:
        return self._newest_sent(person_id, None)

    async def pressed(self, key: str) -> Pressed | None:
        letter_id, label = self._t.buttons.get(key, ("", ""))
        one = self._t.outbox.get(letter_id)
        choice = one.letter.parcel.choices.get(label) if one else None
        if one is None or choice is None:
            return None
        return Pressed(one.letter.oven, one.letter.person, letter_id, choice)

    async def next_sendable(self) -> datetime | None:
        sending = self._in(OutboxState.SENDING)
        busy = {one.letter.person for one in sending}
        times = [
            max(
                one.letter.not_before,
                self._t.pauses.get(one.letter.person, _LONG_AGO),
                self._t.pauses.get(EVERYBODY, _LONG_AGO),
            )
            for one in self._in(OutboxState.TODO)
            if one.letter.person not in busy
        ]
        times += [one.lease_until for one in sending if one.lease_until is not None]
        return min(times, default=None)

    def _in(self, state: OutboxState) -> list[_Tried]:
        return [one for one in self._t.outbox.values() if one.letter.state is state]

    def _put(self, one: _Tried, *, state: OutboxState, why: str) -> None:
        letter = replace(one.letter, state=state, why=why)
        self._t.outbox[letter.id] = replace(one, letter=letter)

    def _tried_since(self, since: datetime) -> list[str]:
        return [
            one.letter.person
            for one in self._t.outbox.values()
            if one.tried_at is not None and one.tried_at > since
        ]

    def _newest_sent(self, person_id: str, slot: str | None) -> Letter | None:
        sent = [
            (one.letter.sent_at, one.seq, one.letter)
            for one in self._in(OutboxState.SENT)
            if one.letter.person == person_id
            and slot in (None, one.letter.slot)
            and one.letter.sent_at is not None
        ]
        return max(sent, key=lambda s: s[:2])[2] if sent else None
