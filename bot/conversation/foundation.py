"""What everything that receives stands on."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from bot.conversation.incoming import Incoming
from scheduling.clock import Clock
from scheduling.meaning import Meaning
from scheduling.outcome import Urgency
from scheduling.ports import Letter, OvenCard, Person, Store, Voice
from scheduling.waking.engine import Engine, button_keys

NewId = Callable[[], str]
Quiet = tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Foundation:
    """The store, the road into it, and what a person new to it begins with."""

    store: Store
    clock: Clock
    engine: Engine[Any]
    new_id: NewId
    quiet: Quiet
    voice: Voice
    builder: str | None = None
    """The team that looks after whoever comes without an invitation; None for nobody."""


async def reply(
    base: Foundation,
    incoming: Incoming,
    person: Person,
    meaning: Meaning,
    oven: OvenCard | None = None,
) -> None:
    """Answer without changing any oven's record; the inbox row is done in the same unit."""
    now = base.clock.now()
    parcel = base.voice.render(meaning, person, person.zone, now)
    letter = Letter(
        id=base.new_id(),
        person=person.id,
        oven=oven.id if oven is not None else None,
        parcel=parcel,
        urgency=Urgency.ANSWER,
        created_at=now,
        not_before=now,
        button_keys=button_keys(parcel, base.new_id),
    )
    async with base.store.write() as unit:
        if await unit.inbox.done(incoming.channel, incoming.key):
            await unit.outbox.post(letter)
            await unit.commit()
