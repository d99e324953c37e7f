"""Writes down what became of letters, and whether and when each is tried again.

A letter is tried until it arrives, until it is not worth saying any more (a newer one takes its
place, a danger takes the place of what was to be done at the fire, its time is over), until the
channel refuses it for good, or until our patience for its kind is over. What does not arrive is
reported to the oven concerned, and so is its arrival after all.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Final

import structlog

from scheduling.outcome import Urgency
from scheduling.patience import PATIENCE, Patience
from scheduling.ports import EVERYBODY, Letter, OutboxState, UnitOfWork
from scheduling.waking.carrying import Blocked, CarrierError, Fate, Load, NotSent, Refused, Sent
from scheduling.waking.report import Report, file_report

BLOCKED: Final = "blocked"
LATE: Final = "late"
GIVEN_UP: Final = "given_up"
UNKNOWN: Final = "unknown"
REFUSED: Final = "refused"
ARRIVED: Final = "arrived"
"""``why`` of a Delivery: it is still tried, was given up, may or may not have arrived before that,
is a fault of ours, or has arrived after it was late."""

STOPPED = "stopped while it was being sent"

_log = structlog.get_logger(__name__)


class Settling:
    """Each in the unit that it is given."""

    def __init__(self, patience: Mapping[Urgency, Patience] = PATIENCE) -> None:
        self._patience = patience
        self.filed = 0
        """Reports filed so far: each is a happening that waits for the engine."""

    async def all(
        self, unit: UnitOfWork, fates: Sequence[tuple[Load, Fate]], now: datetime
    ) -> None:
        """What became of these."""
        refs = {load.letter.id: fate.ref for load, fate in fates if isinstance(fate, Sent)}
        await unit.outbox.sent(refs, now)
        for load, fate in fates:
            if isinstance(fate, CarrierError):
                await self._not_arrived(unit, load, fate, now)
            elif self._is_overdue(load.letter, now):
                await self._tell_oven(unit, load.letter, now, ARRIVED, reached=True)

    async def left(self, unit: UnitOfWork, letters: Sequence[Letter], now: datetime) -> None:
        """Whoever sent these is gone, and nobody knows how far it had come."""
        for letter in letters:
            # They have waited already: each at once.
            await self._try_again(unit, letter, now, STOPPED, timedelta(0), in_doubt=True)

    async def _not_arrived(
        self, unit: UnitOfWork, load: Load, fate: CarrierError, now: datetime
    ) -> None:
        letter, why = load.letter, str(fate)
        match fate:
            case NotSent(retry_after=None):
                wait = self._patience[letter.urgency].not_sent.wait(letter.attempts)
                await self._try_again(unit, letter, now, why, wait, in_doubt=False)
            case NotSent(retry_after=timedelta() as wait):
                await self._try_again(unit, letter, now, why, wait, in_doubt=False)
                await _pause(unit, letter.person, now, wait)
            case Blocked():
                await self._lock_out(unit, load, now, why)
            case Refused():
                _log.error("refused", letter=letter.id, why=why)
                await unit.outbox.settle(letter.id, OutboxState.FAILED, now, why=why)
                await self._tell_oven(unit, letter, now, REFUSED)
            case _:
                wait = self._patience[letter.urgency].in_doubt.wait(letter.doubts + 1)
                await self._try_again(unit, letter, now, why, wait, in_doubt=True)

    async def _try_again(
        self,
        unit: UnitOfWork,
        letter: Letter,
        now: datetime,
        why: str,
        wait: timedelta,
        *,
        in_doubt: bool,
    ) -> None:
        state = await self._goes_on_as(unit, letter, now, in_doubt=in_doubt)
        ours = await unit.outbox.settle(
            letter.id, state, now, why=why, not_before=now + wait, in_doubt=in_doubt
        )
        if not ours:
            return
        _log.warning("not arrived", letter=letter.id, state=state.value, doubt=in_doubt, why=why)
        if state is OutboxState.TODO and self._is_overdue(letter, now):
            await self._tell_oven(unit, letter, now, LATE)
        elif state is OutboxState.FAILED:
            await self._tell_oven(unit, letter, now, GIVEN_UP)
        elif state is OutboxState.UNKNOWN:
            await self._tell_oven(unit, letter, now, UNKNOWN)

    async def _goes_on_as(
        self, unit: UnitOfWork, letter: Letter, now: datetime, *, in_doubt: bool
    ) -> OutboxState:
        if letter.expires is not None and letter.expires <= now:
            return OutboxState.EXPIRED
        if await unit.outbox.superseded(letter):
            return OutboxState.CANCELLED
        if self._tried_for(letter, now) > self._patience[letter.urgency].give_up:
            doubted = in_doubt or letter.doubts > 0
            return OutboxState.UNKNOWN if doubted else OutboxState.FAILED
        return OutboxState.TODO

    def _is_overdue(self, letter: Letter, now: datetime) -> bool:
        return self._tried_for(letter, now) >= self._patience[letter.urgency].overdue

    def _tried_for(self, letter: Letter, now: datetime) -> timedelta:
        return now - (letter.first_tried_at or now)

    async def _lock_out(self, unit: UnitOfWork, load: Load, now: datetime, why: str) -> None:
        letter, person = load.letter, load.person
        await unit.outbox.settle(letter.id, OutboxState.CANCELLED, now, why=BLOCKED)
        if person is None:
            return
        _log.warning("blocked", person=person.id, why=why)
        current = await unit.people.get(person.id) or person
        await unit.people.put(current.model_copy(update={"blocked": True}))
        await unit.outbox.cancel_for(person.id, BLOCKED)
        for card in await unit.ovens.of_person(person.id):
            report = Report(oven=card.id, person=person.id, reached=False, why=BLOCKED)
            await self._file(unit, report, f"{letter.id}/{BLOCKED}", now)

    async def _tell_oven(
        self, unit: UnitOfWork, letter: Letter, now: datetime, why: str, *, reached: bool = False
    ) -> None:
        """Only of letters to those who tend it: a failed one to the builder begets no other."""
        card = await unit.ovens.get(letter.oven) if letter.oven else None
        if card is None or letter.person not in card.owners:
            return
        report = Report(oven=card.id, person=letter.person, reached=reached, why=why)
        await self._file(unit, report, f"{letter.id}/{why}", now)

    async def _file(self, unit: UnitOfWork, report: Report, key: str, now: datetime) -> None:
        await file_report(unit, report, key, now)
        self.filed += 1


async def _pause(unit: UnitOfWork, person: str, now: datetime, wait: timedelta) -> None:
    """A wait does not say whether it is about the chat or about all of us; a second chat told to
    wait meanwhile says that it is about all."""
    others = set(await unit.outbox.paused(now)) - {person}
    await unit.outbox.pause(EVERYBODY if others else person, now + wait)
