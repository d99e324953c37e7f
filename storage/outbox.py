"""What is to be said, and what became of it."""

import dataclasses
from collections.abc import Collection, Mapping, Sequence
from datetime import datetime

from sqlalchemy import (
    ColumnElement,
    and_,
    delete,
    exists,
    false,
    func,
    insert,
    or_,
    select,
    update,
)
from sqlalchemy.ext.asyncio import AsyncConnection

from scheduling.blotting import blotted
from scheduling.outcome import FIRE_THREAD, Urgency
from scheduling.pacing import Pacing
from scheduling.ports import EVERYBODY, Letter, OutboxState, Parcel, Pressed, takes_the_place
from storage import sending, tables
from storage.blotting import blotted_labels, blotted_parcel, named_in
from storage.breath import out_of_breath, tried
from storage.letters import RANK, letter_of, row_of
from storage.sending import OPEN, REPLACED, SENDING, TODO
from storage.upsert import put, put_each_if_new

_L, _P, _B, _Z = tables.outbox, tables.people, tables.buttons, tables.pauses

_CLAIMS = 7_358_104
"""Key of PostgreSQL's advisory lock: claims of several processes go one after another."""


class SqlOutbox:
    """``Outbox`` in tables."""

    def __init__(self, connection: AsyncConnection) -> None:
        self._connection = connection

    async def post(self, letter: Letter) -> None:
        """Store; cancels what the letter takes the place of."""
        await self.post_each([letter])

    async def post_each(self, letters: Sequence[Letter]) -> None:
        """The same for several, in their order: a later one cancels an earlier one too."""
        if not letters:
            return
        rows = [row_of(letter) for letter in letters]
        unsent: list[tuple[Letter, dict[str, object]]] = []
        for letter, row in zip(letters, rows, strict=True):
            if letter.state is OutboxState.TODO:
                for old, old_row in unsent:
                    if takes_the_place(letter, old):
                        old_row.update(REPLACED)
                unsent.append((letter, row))
        await self._cancel([letter for letter, _ in unsent])
        await self._connection.execute(insert(_L), rows)
        # A repeated letter has the buttons of the first: whichever is pressed, it is one press.
        buttons = [
            {"key": key, "letter": letter.id, "label": label}
            for letter in letters
            for label, key in letter.button_keys.items()
        ]
        await put_each_if_new(self._connection, _B, buttons, ["key"])

    async def get(self, letter_id: str) -> Letter | None:
        """By id."""
        row = (await self._connection.execute(select(_L).where(_L.c.id == letter_id))).first()
        return None if row is None else letter_of(row)

    async def claim(
        self,
        now: datetime,
        lease_until: datetime,
        limit: int,
        pacing: Pacing | None = None,
        *,
        danger_only: bool = False,
    ) -> tuple[Letter, ...]:
        """Take sendable letters and mark them sending."""
        if self._connection.dialect.name == "postgresql":
            await self._connection.execute(select(func.pg_advisory_xact_lock(_CLAIMS)))
        await self._connection.execute(sending.EXPIRE, {"now": now})
        paused = await self.paused(now)
        if EVERYBODY in paused:
            return ()
        held = set(paused)
        if pacing is not None:
            limit = min(limit, pacing.room(await tried(self._connection, now)))
            held |= await out_of_breath(self._connection, now, pacing)
        if limit <= 0:
            return ()
        rank = RANK[Urgency.DANGER if danger_only else Urgency.CALM]
        wanted = {"now": now, "held": sorted(held), "most": limit, "rank": rank}
        ids = list((await self._connection.execute(sending.SENDABLE, wanted)).scalars())
        if not ids:
            return ()
        taken = {"ids": ids, "now": now, "lease": lease_until}
        rows = await self._connection.execute(sending.CLAIM, taken)
        place = {letter_id: n for n, letter_id in enumerate(ids)}
        return tuple(sorted(map(letter_of, rows), key=lambda letter: place[letter.id]))

    async def settle(
        self,
        letter_id: str,
        state: OutboxState,
        at: datetime,
        *,
        ref: str | None = None,
        why: str = "",
        not_before: datetime | None = None,
        in_doubt: bool = False,
    ) -> bool:
        """Write what became of a claimed letter; False if it was no longer ours to settle."""
        ours = sending.MAY_BE_SENT if state is OutboxState.SENT else _L.c.state == SENDING
        values: dict[str, object] = {"state": state.value, "why": why, "lease_until": None}
        if state is OutboxState.SENT:
            values |= {"sent_at": at, "ref": ref}
        if not_before is not None:
            values["not_before"] = not_before
        if in_doubt:
            values["doubts"] = _L.c.doubts + 1
        done = await self._connection.execute(
            update(_L).where(_L.c.id == letter_id, ours).values(**values)
        )
        return bool(done.rowcount)

    async def sent(self, refs: Mapping[str, str], at: datetime) -> None:
        """Settle these letters as sent, each with the channel's id of it."""
        if not refs:
            return
        rows = [{"letter": one, "its_ref": ref, "now": at} for one, ref in refs.items()]
        await self._connection.execute(sending.SENT, rows)

    async def lapsed(self, now: datetime) -> tuple[Letter, ...]:
        """Letters whose lease ran out while sending."""
        rows = await self._connection.execute(sending.LAPSED, {"now": now})
        return tuple(map(letter_of, rows))

    async def renew(self, letter_ids: Collection[str], lease_until: datetime) -> None:
        """They are still being sent: ours until then."""
        renewed = {"ids": sorted(letter_ids), "lease": lease_until}
        await self._connection.execute(sending.RENEW, renewed)

    async def hasten(self, now: datetime, person_id: str | None = None) -> None:
        """Those that wait because a try failed wait no longer."""
        waiting = sending.HASTEN
        if person_id is not None:
            waiting = waiting.where(_L.c.person == person_id)
        await self._connection.execute(waiting, {"now": now})

    async def superseded(self, letter: Letter) -> bool:
        """Whether a newer letter to the same person takes its place."""
        if letter.replaces is None:
            return False
        own = select(_L.c.seq).where(_L.c.id == letter.id).scalar_subquery()
        by = [_L.c.replaces == letter.replaces]
        if letter.replaces == FIRE_THREAD:
            by.append((_L.c.rank == RANK[Urgency.DANGER]) & (_L.c.oven == letter.oven))
        newer = and_(_L.c.person == letter.person, or_(*by), _L.c.seq > own)
        found = await self._connection.execute(select(exists().where(newer)))
        return bool(found.scalar_one())

    async def take_back(self, person_id: str, threads: str) -> tuple[Letter, ...]:
        """Cancel, and return, the unsent letters to this person whose ``replaces`` begins so."""
        rows = await self._connection.execute(
            update(_L)
            .where(OPEN, _L.c.state == TODO, *self._threads(person_id, threads))
            .values(state=OutboxState.CANCELLED.value, why="told together with others")
            .returning(_L)
        )
        return tuple(sorted(map(letter_of, rows), key=lambda letter: letter.created_at))

    async def told_since(self, person_id: str, threads: str, since: datetime) -> int:
        """How many letters of such threads were made for this person since; none cancelled."""
        told = select(func.count()).where(
            *self._threads(person_id, threads),
            _L.c.created_at > since,
            _L.c.state != OutboxState.CANCELLED.value,
        )
        return int((await self._connection.execute(told)).scalar_one())

    async def stands(self, person_id: str, slot: str) -> bool:
        """Whether a letter of that slot was sent, or still will be."""
        gone = (OutboxState.CANCELLED.value, OutboxState.EXPIRED.value, OutboxState.FAILED.value)
        there = exists().where(_L.c.person == person_id, _L.c.slot == slot, _L.c.state.not_in(gone))
        return bool((await self._connection.execute(select(there))).scalar_one())

    async def cancel_for(self, person_id: str, why: str) -> int:
        """Cancel what is unsent; returns how many."""
        gone = await self._connection.execute(
            update(_L)
            .where(_L.c.person == person_id, _L.c.state == TODO)
            .values(state=OutboxState.CANCELLED.value, why=why)
        )
        return gone.rowcount

    async def replace(self, letter_id: str, parcel: Parcel) -> bool:
        """Keep another parcel in place of one that is no longer on its way."""
        letter = await self.get(letter_id)
        if letter is None or letter.state in (OutboxState.TODO, OutboxState.SENDING):
            return False
        keys = {label: key for label, key in letter.button_keys.items() if label in parcel.choices}
        values = row_of(dataclasses.replace(letter, parcel=parcel, button_keys=keys))
        kept = {name: values[name] for name in ("parcel", "button_keys")}
        await self._connection.execute(update(_L).where(_L.c.id == letter_id).values(**kept))
        gone = (_B.c.letter == letter_id) & _B.c.label.not_in(list(keys))
        await self._connection.execute(delete(_B).where(gone))
        return True

    async def forget(self, person_id: str, oven_ids: Sequence[str] = ()) -> None:
        """Delete every letter to this person, about these ovens, or listing any of them."""
        about = _L.c.oven.in_(list(oven_ids))
        await self._connection.execute(delete(_L).where(_L.c.person == person_id))
        await self._connection.execute(delete(_Z).where(_Z.c.who == person_id))
        await self._connection.execute(delete(_L).where(about, _L.c.state != SENDING))
        # One that is in somebody's hands is settled by its row.
        empty = Parcel(text="").model_dump_json()
        await self._connection.execute(update(_L).where(about).values(parcel=empty))
        named = [_L.c.parcel.contains(f'"{oven}"', autoescape=True) for oven in oven_ids]
        listed = or_(false(), *named), _L.c.state.not_in((TODO, SENDING))
        await self._connection.execute(delete(_L).where(*listed))

    async def blot(self, words: Sequence[str], calm_to: Sequence[str] = ()) -> None:
        """Take words that name somebody out of all letters that are no longer on their way."""
        calm = (_L.c.state == TODO) & (_L.c.urgency == Urgency.CALM.value)
        free = _L.c.state.not_in((TODO, SENDING)) | (calm & _L.c.person.in_(list(calm_to)))
        named = free & (named_in(_L.c.parcel, words) | named_in(_L.c.button_keys, words))
        for letter in map(
            letter_of, (await self._connection.execute(select(_L).where(named))).all()
        ):
            parcel = blotted_parcel(letter.parcel, words)
            keys = blotted_labels(letter.button_keys, words)
            new = dataclasses.replace(letter, parcel=parcel, button_keys=keys)
            values = {name: row_of(new)[name] for name in ("parcel", "button_keys")}
            await self._connection.execute(update(_L).where(_L.c.id == letter.id).values(**values))
        of_free = _B.c.letter.in_(select(_L.c.id).where(free))
        labels = select(_B.c.key, _B.c.label).where(of_free, named_in(_B.c.label, words))
        for key, label in (await self._connection.execute(labels)).all():
            await self._connection.execute(
                update(_B).where(_B.c.key == key).values(label=blotted(label, words))
            )

    async def pause(self, person_id: str, until: datetime) -> None:
        """Claim nothing for this person, or for EVERYBODY, until then."""
        await put(self._connection, _Z, {"who": person_id, "until": until}, ["who"])

    async def paused(self, now: datetime) -> Mapping[str, datetime]:
        """Who is paused now, and until when."""
        rows = await self._connection.execute(sending.PAUSES_NOW, {"now": now})
        return {row.who: row.until for row in rows}

    async def sent_in_slot(self, person_id: str, slot: str) -> Letter | None:
        """The newest letter sent in that slot: the one to edit."""
        return await self._newest_sent(person_id, slot)

    async def last_sent(self, person_id: str) -> Letter | None:
        """The newest letter that arrived."""
        return await self._newest_sent(person_id)

    async def pressed(self, key: str) -> Pressed | None:
        """What a button key stands for."""
        row = (
            await self._connection.execute(
                select(_L, _B.c.label).join(_B, _B.c.letter == _L.c.id).where(_B.c.key == key)
            )
        ).first()
        if row is None:
            return None
        choice = Parcel.model_validate_json(row.parcel).choices.get(row.label)
        if choice is None:
            return None
        in_doubt = row.doubts > 0 and row.state != OutboxState.SENT.value
        return Pressed(row.oven, row.person, row.id, choice, in_doubt)

    async def next_sendable(self, in_hand: Collection[str] = ()) -> datetime | None:
        """When there is next something to claim or a lease to look at; None for never."""
        rows = await self._connection.execute(sending.WAITING)
        pauses = {row.who: row.until for row in await self._connection.execute(sending.PAUSES)}
        for_all = pauses.get(EVERYBODY)
        times = []
        for person, first in rows:
            times.append(max(t for t in (first, pauses.get(person), for_all) if t is not None))
        lease = await self._connection.execute(sending.LEASES_END, {"in_hand": sorted(in_hand)})
        times += [until for until in lease.scalars() if until is not None]
        return min(times, default=None)

    async def shown_as(self, person_id: str, ref: str) -> Letter | None:
        """The letter that this person has before them as the channel's message ``ref``."""
        # A channel may note behind the number what kind of message it is.
        which = (_L.c.ref == ref) | _L.c.ref.startswith(f"{ref}:", autoescape=True)
        newest = select(_L).where(_L.c.person == person_id, which).order_by(_L.c.seq.desc())
        row = (await self._connection.execute(newest.limit(1))).first()
        return None if row is None else letter_of(row)

    async def sent_since(self, person_id: str, since: datetime, limit: int) -> tuple[Letter, ...]:
        """The letters that arrived at this person after that moment, the newest first."""
        which = select(_L).where(_L.c.person == person_id, _L.c.sent_at > since)
        newest = which.order_by(_L.c.sent_at.desc(), _L.c.seq.desc()).limit(limit)
        return tuple(map(letter_of, await self._connection.execute(newest)))

    async def _cancel(self, letters: Sequence[Letter]) -> None:
        """Whatever unsent letters these take the place of."""
        threads = {(one.person, one.replaces) for one in letters if one.replaces is not None}
        if threads:
            rows = [{"who": person, "thread": replaces} for person, replaces in sorted(threads)]
            await self._connection.execute(sending.REPLACE_THREAD, rows)
        dangers = {(one.person, one.oven) for one in letters if one.urgency is Urgency.DANGER}
        rows = [{"who": person, "about": oven} for person, oven in dangers if oven is not None]
        if rows:
            await self._connection.execute(sending.REPLACE_AT_FIRE, rows)

    async def _newest_sent(self, person_id: str, slot: str | None = None) -> Letter | None:
        which = select(_L).where(_L.c.person == person_id, _L.c.sent_at.is_not(None))
        which = which.where(_L.c.state == OutboxState.SENT.value)
        if slot is not None:
            which = which.where(_L.c.slot == slot)
        newest = which.order_by(_L.c.sent_at.desc(), _L.c.seq.desc()).limit(1)
        row = (await self._connection.execute(newest)).first()
        return None if row is None else letter_of(row)

    def _threads(self, person_id: str, threads: str) -> tuple[ColumnElement[bool], ...]:
        return _L.c.person == person_id, _L.c.replaces.startswith(threads, autoescape=True)
