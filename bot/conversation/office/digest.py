"""The morning's digest: one message to each of a team for everything that is no danger.

It is due once a day at an hour of the reader's own zone. That it was due is written in the same
unit of work as the message, so a crash neither loses nor doubles it; it is written of what stands
at that moment, so a late one is right as well.
"""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import structlog

from bot.conversation.foundation import NewId
from bot.conversation.office.roster import counts_of
from scheduling.breakin.walltime import instant
from scheduling.clients import lines_of
from scheduling.clock import Clock
from scheduling.meaning import Digest
from scheduling.outcome import Urgency
from scheduling.ports import (
    RANKS_IN_GROUP,
    InHand,
    Letter,
    Opens,
    Person,
    Roster,
    Store,
    UnitOfWork,
    Voice,
)
from scheduling.record import Phase
from scheduling.record.standing import Group
from scheduling.waking.posting import button_keys
from scheduling.waking.quiet import not_before

HOUR = 7.0
"""In the reader's own zone; later for those whose quiet hours end later (own choice)."""

LINES, NAMES = 6, 8
"""What a phone shows; the list has all."""

DUE = (Phase.FIRING_DAY.value, Phase.WAITING.value)
"""States in which a fire that is due will be lit: on no hold, and in no danger."""

FIRST_WITHIN = timedelta(minutes=30)
"""Somebody new to the team gets their first digest on time, or the next morning."""

_log = structlog.get_logger(__name__)


class MorningDigest:
    """``look`` does what is due and can be called at any time; ``next_due`` says when."""

    def __init__(self, store: Store, clock: Clock, voice: Voice, new_id: NewId) -> None:
        self._store = store
        self._clock = clock
        self._voice = voice
        self._new_id = new_id

    async def next_due(self) -> datetime | None:
        """When the next of all builders' people is due; None where there are none."""
        now = self._clock.now()
        async with self._store.read() as unit:
            people = await unit.people.builders()
            times = [_due(one, await unit.hands.of(one.id), now) for one in people]
        return min(times, default=None)

    async def look(self) -> int:
        """Write the digests that are due; returns how many. One that fails stops no other."""
        now = self._clock.now()
        count = 0
        async with self._store.read() as unit:
            people = await unit.people.builders()
        for person in people:
            try:
                count += await self._look_after(person, now)
            except Exception:  # noqa: BLE001 - the others want theirs
                _log.exception("no digest", person=person.id)
        return count

    async def _look_after(self, person: Person, now: datetime) -> bool:
        async with self._store.read() as unit:
            if _due(person, await unit.hands.of(person.id), now) > now:
                return False
        async with self._store.write() as unit:
            hand = await unit.hands.of(person.id)
            due = _due(person, hand, now)
            if due > now or person.builder is None:
                return False
            day = _today(person, now)
            await unit.hands.put(hand.model_copy(update={"digest": day}))
            new = hand.digest is None and now - due > FIRST_WITHIN
            digest = None if new or person.blocked else await digest_for(unit, person, day, now)
            if digest is not None:
                await unit.outbox.post(self._letter(person, digest, day, now))
            await unit.commit()
        return digest is not None

    def _letter(self, person: Person, digest: Digest, day: date, now: datetime) -> Letter:
        parcel = self._voice.render(digest, person, person.zone, now)
        return Letter(
            id=f"digest-{day:%Y%m%d}-{person.id}"[:64],
            person=person.id,
            oven=None,
            parcel=parcel,
            urgency=Urgency.CALM,
            created_at=now,
            not_before=not_before(Urgency.CALM, person, now),
            replaces="digest",
            button_keys=button_keys(parcel, self._new_id),
        )


async def digest_for(unit: UnitOfWork, person: Person, day: date, now: datetime) -> Digest | None:
    """What there is to tell that morning; None for nothing."""
    builder = person.builder or ""
    needy = ((0, (Group.LOOK + 1) * RANKS_IN_GROUP),)
    needs = await unit.ovens.roster(Roster(builder=builder, ranks=needy, limit=LINES))
    today = await unit.ovens.roster(Roster(builder=builder, states=DUE, day=day, limit=NAMES))
    mine = await unit.ovens.roster(Roster(builder=builder, taken_by=person.id, limit=NAMES))
    invited = [
        one
        for one in await unit.invitations.open_for_builder(builder, now)
        if one.opens is Opens.OVEN
    ]
    counts = counts_of(await unit.ovens.tally(builder), len(invited))
    if not (needs.total or today.total or mine.total or counts.burning):
        return None
    return Digest(
        name=person.name,
        counts=counts,
        needs=await lines_of(unit, needs.cards),
        today=await lines_of(unit, today.cards),
        fires_today=today.total,
        mine=await lines_of(unit, mine.cards),
        mine_total=mine.total,
    )


def _today(person: Person, now: datetime) -> date:
    return now.astimezone(ZoneInfo(person.zone)).date()


def _due(person: Person, hand: InHand, now: datetime) -> datetime:
    """When this person's next digest is due; it may have passed."""
    day = _today(person, now)
    if hand.digest is not None and hand.digest >= day:
        day = hand.digest + timedelta(days=1)
    hour = HOUR
    if person.quiet_until is not None and HOUR < person.quiet_until < 12.0:
        hour = person.quiet_until
    return instant(day, hour, ZoneInfo(person.zone))
