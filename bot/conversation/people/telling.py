"""Words to somebody else than who just spoke."""

from collections.abc import Iterable
from dataclasses import replace

from bot.conversation.foundation import Foundation, letter_to
from scheduling.meaning import Meaning
from scheduling.outcome import Urgency
from scheduling.ports import OvenCard, Person, UnitOfWork
from scheduling.waking.posting import addressed
from scheduling.waking.quiet import not_before


async def tell(
    unit: UnitOfWork,
    base: Foundation,
    readers: Iterable[Person],
    meaning: Meaning,
    *,
    oven: str | None = None,
    about: OvenCard | None = None,
    urgency: Urgency = Urgency.CALM,
) -> None:
    """Post ``meaning`` to each of them, in their quiet hours only what is urgent. With ``about``
    its papers are of that oven."""
    now = base.clock.now()
    oven = about.id if about is not None else oven
    for reader in readers:
        if reader.blocked:
            continue
        first = not_before(urgency, reader, now)
        letter = letter_to(base, reader, meaning, oven, urgency=urgency, not_before=first)
        if about is not None:
            letter = replace(letter, parcel=addressed(letter.parcel, about, first, reader))
        await unit.outbox.post(letter)


async def team_but(unit: UnitOfWork, builder_id: str | None, person: Person) -> tuple[Person, ...]:
    """The others of a team."""
    if builder_id is None:
        return ()
    return tuple(one for one in await unit.people.team(builder_id) if one.id != person.id)


async def builder_name(unit: UnitOfWork, builder_id: str | None) -> str:
    """What clients call a builder; "" for nobody, and for one without a name."""
    builder = await unit.builders.get(builder_id) if builder_id else None
    return builder.name if builder is not None else ""
