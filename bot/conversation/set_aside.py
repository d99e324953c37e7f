"""A message that could not be worked on: whoever wrote it is told, and it is kept.

It is told down the one road, so that a fire knows of it. Where that road is what fails, it is told
in words that need nothing of anybody.
"""

import structlog

from bot.conversation.door import oven_at_hand
from bot.conversation.foundation import Foundation, letter_to
from bot.conversation.incoming import Incoming
from bot.conversation.meeting import Meeting
from bot.logs import place_of
from bot.wording.hazards import NOT_WORKED_ON
from scheduling.happening import WentUnheard
from scheduling.meaning import NotHeard
from scheduling.outcome import Urgency
from scheduling.ports import Letter, OvenCard, Parcel, Person, UnitOfWork
from storage.faults import of_the_store

_log = structlog.get_logger(__name__)


class SetAside:
    """Takes what nobody else could."""

    def __init__(self, base: Foundation, meeting: Meeting) -> None:
        self._base = base
        self._meeting = meeting

    async def take(self, incoming: Incoming, why: str) -> None:
        """Tell them, once: nothing follows where its row waits no more."""
        person = await self._meeting.known(incoming) or await self._meeting.stranger(incoming)
        async with self._base.store.read() as unit:
            oven = await oven_at_hand(unit, person)

        async def set_aside(unit: UnitOfWork) -> bool:
            return await unit.inbox.failed(incoming.channel, incoming.key, why, set_aside=True)

        if oven is not None:
            told = WentUnheard(person.id)
            try:
                await self._base.engine.happen(oven.id, told, also=set_aside)
            except Exception as error:
                if of_the_store(error):
                    raise
                _log.error("not even that it went unheard", oven=oven.id, why=place_of(error))
            else:
                return
        letter = self._barely(person, oven)
        async with self._base.store.write() as unit:
            if await set_aside(unit):
                await unit.outbox.post(letter)
                await unit.commit()

    def _barely(self, person: Person, oven: OvenCard | None) -> Letter:
        base = self._base
        lit = oven is not None and oven.state in ("lit", "embers")
        urgency = Urgency.FIRE if lit else Urgency.ANSWER
        of = None if oven is None else oven.id
        try:
            return letter_to(base, person, NotHeard(words="", lit=lit), of, urgency=urgency)
        except Exception as error:  # noqa: BLE001 - said in any case
            _log.error("not rendered", why=place_of(error))
        now = base.clock.now()
        return Letter(
            id=base.new_id(),
            person=person.id,
            oven=of,
            parcel=Parcel(text=NOT_WORKED_ON),
            urgency=urgency,
            created_at=now,
            not_before=now,
        )
