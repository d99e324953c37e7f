"""The outbox in memory."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from scheduling.blotting import blotted
from scheduling.outcome import Urgency
from scheduling.pacing import Pacing
from scheduling.ports import EVERYBODY, Letter, OutboxState, Parcel, Pressed, takes_the_place
from storage.blotting import blotted_labels, blotted_parcel
from storage.faults import RuleBroken
from storage.letters import RANK
from storage.memory.tables import Room, Tried

_LONG_AGO = datetime.min.replace(tzinfo=UTC)


class MemoryOutbox(Room):
    """``Outbox`` in memory."""

    async def post(self, letter: Letter) -> None:
        """Store; cancels what the letter takes the place of."""
        self._needs_person(letter.person)
        if letter.id in self._t.outbox:
            raise RuleBroken(f"a row was refused: letter {letter.id} is there already")
        if letter.state is OutboxState.TODO:
            for old in self._in(OutboxState.TODO):
                if takes_the_place(letter, old.letter):
                    self._put(old, state=OutboxState.CANCELLED, why="replaced by a newer one")
        self._t.outbox[letter.id] = Tried(letter, len(self._t.outbox))
        for label, key in letter.button_keys.items():
            self._t.buttons.setdefault(key, (letter.id, label))

    async def post_each(self, letters: Sequence[Letter]) -> None:
        """The same for several, in their order: a later one cancels an earlier one too."""
        for letter in letters:
            await self.post(letter)

    async def get(self, letter_id: str) -> Letter | None:
        """By id."""
        one = self._t.outbox.get(letter_id)
        return one.letter if one else None

    async def claim(
        self,
        now: datetime,
        lease_until: datetime,
        limit: int,
        pacing: Pacing | None = None,
        *,
        danger_only: bool = False,
    ) -> tuple[Letter, ...]:
        """Take sendable letters (todo, ``not_before`` reached) and mark them sending."""
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
        ready = [one for one in self._in_turn() if one.letter.not_before <= now]
        if danger_only:
            ready = [one for one in ready if one.letter.urgency is Urgency.DANGER]
        ready.sort(key=lambda o: (RANK[o.letter.urgency], o.letter.created_at, o.seq))
        claimed: list[Letter] = []
        for one in ready:
            if len(claimed) >= limit or one.letter.person in held:
                continue
            held.add(one.letter.person)
            letter = replace(
                one.letter,
                state=OutboxState.SENDING,
                attempts=one.letter.attempts + 1,
                first_tried_at=one.letter.first_tried_at or now,
            )
            self._t.outbox[letter.id] = Tried(letter, one.seq, lease_until, now)
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
        in_doubt: bool = False,
    ) -> bool:
        """Write what became of a claimed letter; False if it was no longer ours to settle."""
        one = self._t.outbox.get(letter_id)
        if one is None:
            return False
        turned_out = state is OutboxState.SENT and _in_doubt(one.letter)
        if one.letter.state is not OutboxState.SENDING and not turned_out:
            return False
        doubts = one.letter.doubts + in_doubt
        letter = replace(one.letter, state=state, why=why, doubts=doubts)
        if state is OutboxState.SENT:
            letter = replace(letter, sent_at=at, ref=ref)
        if not_before is not None:
            letter = replace(letter, not_before=not_before)
        self._t.outbox[letter_id] = replace(one, letter=letter, lease_until=None)
        return True

    async def sent(self, refs: Mapping[str, str], at: datetime) -> None:
        """Settle these letters as sent, each with the channel's id of it."""
        for letter_id, ref in refs.items():
            await self.settle(letter_id, OutboxState.SENT, at, ref=ref)

    async def lapsed(self, now: datetime) -> tuple[Letter, ...]:
        """Letters whose lease ran out while sending: nobody knows whether they were sent."""
        return tuple(
            one.letter
            for one in self._in(OutboxState.SENDING)
            if one.lease_until is not None and one.lease_until <= now
        )

    async def renew(self, letter_ids: Collection[str], lease_until: datetime) -> None:
        """They are still being sent: ours until then."""
        for one in self._in(OutboxState.SENDING):
            if one.letter.id in letter_ids:
                self._t.outbox[one.letter.id] = replace(one, lease_until=lease_until)

    async def hasten(self, now: datetime, person_id: str | None = None) -> None:
        """Those that wait because a try failed wait no longer."""
        for one in self._in(OutboxState.TODO):
            waits = one.letter.attempts > 0 and one.letter.not_before > now
            if waits and person_id in (None, one.letter.person):
                sooner = replace(one.letter, not_before=now)
                self._t.outbox[one.letter.id] = replace(one, letter=sooner)

    async def superseded(self, letter: Letter) -> bool:
        """Whether a newer letter to the same person takes its place."""
        own = self._t.outbox.get(letter.id)
        return own is not None and any(
            one.seq > own.seq and takes_the_place(one.letter, letter)
            for one in self._t.outbox.values()
        )

    async def take_back(self, person_id: str, threads: str) -> tuple[Letter, ...]:
        """Cancel, and return, the unsent letters to this person whose ``replaces`` begins so."""
        found = [
            one
            for one in self._in(OutboxState.TODO)
            if one.letter.person == person_id and (one.letter.replaces or "").startswith(threads)
        ]
        for one in found:
            self._put(one, state=OutboxState.CANCELLED, why="told together with others")
        return tuple(sorted((one.letter for one in found), key=lambda letter: letter.created_at))

    async def told_since(self, person_id: str, threads: str, since: datetime) -> int:
        """How many letters of such threads were made for this person since; none cancelled."""
        return sum(
            one.letter.person == person_id
            and (one.letter.replaces or "").startswith(threads)
            and one.letter.created_at > since
            and one.letter.state is not OutboxState.CANCELLED
            for one in self._t.outbox.values()
        )

    async def stands(self, person_id: str, slot: str) -> bool:
        """Whether a letter of that slot was sent, or still will be."""
        gone = (OutboxState.CANCELLED, OutboxState.EXPIRED, OutboxState.FAILED)
        return any(
            (one.letter.person, one.letter.slot) == (person_id, slot)
            and one.letter.state not in gone
            for one in self._t.outbox.values()
        )

    async def cancel_for(self, person_id: str, why: str) -> int:
        """Cancel what is unsent; returns how many."""
        theirs = [one for one in self._in(OutboxState.TODO) if one.letter.person == person_id]
        for one in theirs:
            self._put(one, state=OutboxState.CANCELLED, why=why)
        return len(theirs)

    async def replace(self, letter_id: str, parcel: Parcel) -> bool:
        """Keep another parcel in place of one that is no longer on its way."""
        one = self._t.outbox.get(letter_id)
        if one is None or one.letter.state in (OutboxState.TODO, OutboxState.SENDING):
            return False
        old = one.letter.button_keys
        keys = {label: key for label, key in old.items() if label in parcel.choices}
        letter = replace(one.letter, parcel=parcel, button_keys=keys)
        self._t.outbox[letter_id] = replace(one, letter=letter)
        self._drop_buttons({letter_id}, spare=set(keys))
        return True

    async def forget(self, person_id: str, oven_ids: Sequence[str] = ()) -> None:
        """Delete every letter to this person, about these ovens, or listing any of them."""
        self._t.pauses.pop(person_id, None)
        for letter_id, one in list(self._t.outbox.items()):
            letter = one.letter
            about = letter.oven in oven_ids
            told = letter.state not in (OutboxState.TODO, OutboxState.SENDING)
            goes = about and letter.state is not OutboxState.SENDING
            if letter.person == person_id or goes or (told and _lists(letter, oven_ids)):
                del self._t.outbox[letter_id]
                self._drop_buttons({letter_id})
            elif about:
                emptied = replace(letter, parcel=Parcel(text=""))
                self._t.outbox[letter_id] = replace(one, letter=emptied)

    async def blot(self, words: Sequence[str], calm_to: Sequence[str] = ()) -> None:
        """Take words that name somebody out of all letters that are no longer on their way."""
        free = set()
        for letter_id, one in list(self._t.outbox.items()):
            old = one.letter
            calm = old.state is OutboxState.TODO and old.urgency is Urgency.CALM
            under_way = old.state in (OutboxState.TODO, OutboxState.SENDING)
            if under_way and not (calm and old.person in calm_to):
                continue
            free.add(letter_id)
            parcel = blotted_parcel(old.parcel, words)
            new = replace(old, parcel=parcel, button_keys=blotted_labels(old.button_keys, words))
            self._t.outbox[letter_id] = replace(one, letter=new)
        for key, (letter_id, label) in list(self._t.buttons.items()):
            if letter_id in free:
                self._t.buttons[key] = (letter_id, blotted(label, words))

    async def pause(self, person_id: str, until: datetime) -> None:
        """Claim nothing for this person, or for EVERYBODY, until then."""
        self._t.pauses[person_id] = until

    async def paused(self, now: datetime) -> Mapping[str, datetime]:
        """Who is paused now (EVERYBODY may be among them), and until when."""
        return {who: until for who, until in self._t.pauses.items() if until > now}

    async def sent_in_slot(self, person_id: str, slot: str) -> Letter | None:
        """The newest letter sent in that slot: the one to edit."""
        return self._newest_sent(person_id, slot)

    async def last_sent(self, person_id: str) -> Letter | None:
        """The newest letter that arrived."""
        return self._newest_sent(person_id, None)

    async def pressed(self, key: str) -> Pressed | None:
        """What a button key stands for."""
        letter_id, label = self._t.buttons.get(key, ("", ""))
        one = self._t.outbox.get(letter_id)
        choice = one.letter.parcel.choices.get(label) if one else None
        if one is None or choice is None:
            return None
        in_doubt = _in_doubt(one.letter)
        return Pressed(one.letter.oven, one.letter.person, letter_id, choice, in_doubt)

    async def shown_as(self, person_id: str, ref: str) -> Letter | None:
        """The letter that this person has before them as the channel's message ``ref``."""
        shown = [
            one
            for one in self._t.outbox.values()
            if one.letter.person == person_id and (one.letter.ref or "").partition(":")[0] == ref
        ]
        return max(shown, key=lambda one: one.seq).letter if shown else None

    async def sent_since(self, person_id: str, since: datetime, limit: int) -> tuple[Letter, ...]:
        """The letters that arrived at this person after that moment, the newest first."""
        sent = [
            (one.letter.sent_at, one.seq, one.letter)
            for one in self._t.outbox.values()
            if one.letter.person == person_id
            and one.letter.sent_at is not None
            and one.letter.sent_at > since
        ]
        newest = sorted(sent, key=lambda one: one[:2], reverse=True)
        return tuple(letter for _, _, letter in newest[:limit])

    async def next_sendable(self, in_hand: Collection[str] = ()) -> datetime | None:
        """When there is next something to claim or a lease to look at; None for never."""
        leases = [
            one.lease_until
            for one in self._in(OutboxState.SENDING)
            if one.letter.id not in in_hand and one.lease_until is not None
        ]
        times = [
            max(
                one.letter.not_before,
                self._t.pauses.get(one.letter.person, _LONG_AGO),
                self._t.pauses.get(EVERYBODY, _LONG_AGO),
            )
            for one in self._in_turn()
        ]
        return min(times + leases, default=None)

    def _in_turn(self) -> list[Tried]:
        """Nobody is written two letters at once; a danger waits for no other kind."""
        sending = self._in(OutboxState.SENDING)
        busy = {one.letter.person for one in sending}
        warned = {one.letter.person for one in sending if one.letter.urgency is Urgency.DANGER}
        return [
            one
            for one in self._in(OutboxState.TODO)
            if one.letter.person not in (warned if one.letter.urgency is Urgency.DANGER else busy)
        ]

    def _in(self, state: OutboxState) -> list[Tried]:
        return [one for one in self._t.outbox.values() if one.letter.state is state]

    def _put(self, one: Tried, *, state: OutboxState, why: str) -> None:
        letter = replace(one.letter, state=state, why=why)
        self._t.outbox[letter.id] = replace(one, letter=letter)

    def _drop_buttons(self, letters: Collection[str], spare: Collection[str] = ()) -> None:
        for key, (letter, label) in list(self._t.buttons.items()):
            if letter in letters and label not in spare:
                del self._t.buttons[key]

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


def _in_doubt(letter: Letter) -> bool:
    return letter.doubts > 0 and letter.state is not OutboxState.SENT


def _lists(letter: Letter, oven_ids: Sequence[str]) -> bool:
    """Whether one of its buttons opens one of these ovens."""
    written = letter.parcel.model_dump_json()
    return any(f'"{oven}"' in written for oven in oven_ids)
