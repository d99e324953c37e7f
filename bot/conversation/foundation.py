"""What everything that receives stands on."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from bot.channels.painter import SentFiles
from bot.conversation.incoming import Incoming
from bot.conversation.links import Links
from scheduling.clock import Clock
from scheduling.meaning import Meaning
from scheduling.outcome import Urgency
from scheduling.ports import InHand, Letter, OvenCard, Person, Store, Voice
from scheduling.waking.engine import Engine
from scheduling.waking.posting import addressed, button_keys

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
    links: Links = field(default_factory=Links)
    backup_days: int | None = None
    """How long our own backups are kept; None where we make none."""
    files: Mapping[str, SentFiles] = field(default_factory=dict)
    """Where files that people sent are had, by channel."""


async def reply(
    base: Foundation,
    incoming: Incoming,
    person: Person,
    meaning: Meaning,
    oven: OvenCard | None = None,
    *,
    zone: str | None = None,
    hand: InHand | None = None,
) -> None:
    """Answer without changing any oven's record; the inbox row is done in the same unit.

    ``zone`` is that of the times shown, the person's own by default; ``hand`` is what a builder has
    in hand from then on.
    """
    letter = letter_to(base, person, meaning, oven.id if oven is not None else None, zone=zone)
    if oven is not None:
        parcel = addressed(letter.parcel, oven, letter.created_at, person)
        letter = replace(letter, parcel=parcel)
    async with base.store.write() as unit:
        if await unit.inbox.done(incoming.channel, incoming.key):
            if hand is not None:
                await unit.hands.put(hand)
            await unit.outbox.post(letter)
            await unit.commit()


def letter_to(
    base: Foundation,
    person: Person,
    meaning: Meaning,
    oven_id: str | None = None,
    *,
    urgency: Urgency = Urgency.ANSWER,
    not_before: datetime | None = None,
    letter_id: str | None = None,
    zone: str | None = None,
) -> Letter:
    """A letter to be posted, rendered for the moment at which it is read."""
    now = base.clock.now()
    first = not_before or now
    parcel = base.voice.render(meaning, person, zone or person.zone, first)
    return Letter(
        id=letter_id or base.new_id(),
        person=person.id,
        oven=oven_id,
        parcel=parcel,
        urgency=urgency,
        created_at=now,
        not_before=first,
        button_keys=button_keys(parcel, base.new_id),
    )
