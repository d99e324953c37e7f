"""Meeting people: who is admitted, and the oven that opens for them.

Admitted is who comes with a code: an invitation (a key that a letter of ours carried), or one of
the installation's own first-run codes. Where only the person at the machine can speak, everybody
is admitted.
"""

import hashlib
import hmac
from dataclasses import dataclass
from datetime import timedelta

from bot.conversation.door import oven_at_hand
from bot.conversation.foundation import Foundation
from bot.conversation.incoming import Incoming
from scheduling.choice import Choice, Command, CommandName, Tending
from scheduling.ports import OvenCard, Person, UnitOfWork

OPEN_CHANNELS = frozenset({"terminal", "replay"})
INVITED = "invited"
"""State of an oven that waits for its owner."""

GOOD_FOR = timedelta(days=30)
"""After this an invitation has expired."""

SHORTEST_CODE = 12


@dataclass(frozen=True, slots=True)
class FirstRunCodes:
    """What the person who installed the bot sends it first, as an owner alone or as a builder."""

    owner: str
    builder: str


def first_run_codes(secret: str) -> FirstRunCodes:
    """Codes that follow from the installation's secret, so that none needs to be kept."""
    owner, builder = (
        hmac.new(secret.encode(), what, hashlib.sha256).hexdigest()[:20]
        for what in (b"first run, owner", b"first run, builder")
    )
    return FirstRunCodes(owner, builder)


def code_in(incoming: Incoming) -> str:
    """The code that somebody came with; "" for none."""
    if incoming.command is not None and incoming.command.name is CommandName.START:
        return incoming.command.rest.strip()
    text = (incoming.text or "").strip()
    return text if len(text) >= SHORTEST_CODE and len(text.split()) == 1 else ""


@dataclass(frozen=True, slots=True)
class Joining:
    """A second person comes to an oven that is in the book. ``code`` is used up by it."""

    oven: OvenCard
    code: str


class Meeting:
    """Knows people, and opens ovens for those who are admitted."""

    def __init__(self, base: Foundation, codes: FirstRunCodes | None = None) -> None:
        self._base = base
        self._codes = codes

    async def known(self, incoming: Incoming) -> Person | None:
        """Who is reached in that chat."""
        async with self._base.store.read() as unit:
            return await unit.people.at(incoming.channel, incoming.chat)

    async def stranger(self, incoming: Incoming) -> Person:
        """A chat that nobody has written from before."""
        quiet = self._base.quiet
        return await self.put(
            Person(
                id=self._base.new_id(),
                channel=incoming.channel,
                address=incoming.chat,
                name=incoming.sender_name,
                quiet_from=quiet[0] if quiet else None,
                quiet_until=quiet[1] if quiet else None,
            )
        )

    async def put(self, person: Person) -> Person:
        """Keep a person; returns who is kept at that address."""
        async with self._base.store.write() as unit:
            known = await unit.people.at(person.channel, person.address)
            if known is not None and known.id != person.id:
                return known
            await unit.people.put(person)
            await unit.commit()
        return person

    async def oven_of(self, person: Person, channel: str) -> OvenCard | None:
        """The oven at hand. Where everybody is admitted, one opens for who has none."""
        async with self._base.store.read() as unit:
            oven = await oven_at_hand(unit, person)
        if oven is not None or person.builder is not None or channel not in OPEN_CHANNELS:
            return oven
        return await self._open(person, self._base.builder)

    async def by_code(self, person: Person, code: str) -> OvenCard | Joining | Person | None:
        """What a code opens: an oven of their own, one to join, or the standing of a builder.

        None where it is no code of ours, or has expired or been used: nobody is told which.
        """
        if self._codes is not None and hmac.compare_digest(code, self._codes.builder):
            return await self.put(person.model_copy(update={"builder": f"team-{person.id}"}))
        if self._codes is not None and hmac.compare_digest(code, self._codes.owner):
            async with self._base.store.read() as unit:
                theirs = await oven_at_hand(unit, person)
            return theirs or await self._open(person, None)
        async with self._base.store.write() as unit:
            found = await self._invited(unit, code)
            if found is None:
                return None
            choice, card = found
            if isinstance(choice, Tending):
                return Joining(card, code)
            card = card.model_copy(update={"owners": (person.id,), "state": "set_up"})
            await unit.ovens.put(card)
            await unit.commit()
        return card

    async def _open(self, person: Person, builder: str | None) -> OvenCard:
        card = OvenCard(
            id=self._base.new_id(), name=person.name, builder=builder, owners=(person.id,)
        )
        async with self._base.store.write() as unit:
            await unit.ovens.put(card)
            await unit.commit()
        return card

    async def _invited(self, unit: UnitOfWork, code: str) -> tuple[Choice, OvenCard] | None:
        pressed = await unit.outbox.pressed(code)
        if pressed is None or pressed.oven is None:
            return None
        letter = await unit.outbox.get(pressed.letter)
        card = await unit.ovens.get(pressed.oven)
        now = self._base.clock.now()
        if card is None or letter is None or now - letter.created_at > GOOD_FOR:
            return None
        match pressed.choice:
            case Tending(person="", joined=True):
                journal = await unit.ovens.journal(card.id)
                used = any(one.entry.key == code for one in journal)
                return None if used else (pressed.choice, card)
            case Command(name=CommandName.START) if card.state == INVITED and not card.owners:
                return pressed.choice, card
        return None
