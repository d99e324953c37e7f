"""Meeting people: who is known, who is a stranger, and which oven their words are about.

Admitted is who comes with a code: an invitation, or one of the installation's own first-run codes.
Where only the person at the machine can speak, everybody is admitted.
"""

import hashlib
import hmac
import re

from bot.conversation.door import oven_at_hand
from bot.conversation.foundation import Foundation
from bot.conversation.incoming import Incoming
from bot.conversation.people.arriving import FirstRunCodes
from scheduling.choice import CommandName
from scheduling.ports import OvenCard, Person

OPEN_CHANNELS = frozenset({"terminal", "replay"})

CODE = re.compile(r"[A-Za-z0-9_-]{12,64}", re.ASCII)
"""What any code of ours looks like, and what a link can carry (core.telegram.org/bots/features,
"Deep linking"): anything else that people write is never compared with one."""


def first_run_codes(secret: str) -> FirstRunCodes:
    """Codes that follow from the installation's secret, so that none needs to be kept."""
    owner, builder = (
        hmac.new(secret.encode(), what, hashlib.sha256).hexdigest()[:20]
        for what in (b"first run, owner", b"first run, builder")
    )
    return FirstRunCodes(owner, builder)


def code_in(incoming: Incoming) -> str:
    """The code that somebody came with; "" for none."""
    said = incoming.command
    if said is not None:
        word = said.rest if said.name is CommandName.START else ""
    else:
        word = incoming.text or ""
    return word.strip() if CODE.fullmatch(word.strip()) else ""


class Meeting:
    """Knows people, and opens ovens for those who are admitted anyhow."""

    def __init__(self, base: Foundation) -> None:
        self._base = base

    async def known(self, incoming: Incoming) -> Person | None:
        """Who is reached in that chat."""
        async with self._base.store.read() as unit:
            return await unit.people.at(incoming.channel, incoming.chat)

    async def is_going(self, person: Person) -> bool:
        """They asked to be forgotten, and only their farewell is still kept."""
        async with self._base.store.read() as unit:
            return await unit.erasures.get(person.id) is not None

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
        card = OvenCard(
            id=self._base.new_id(),
            name=person.name,
            builder=self._base.builder,
            owners=(person.id,),
        )
        async with self._base.store.write() as unit:
            await unit.ovens.put(card)
            await unit.commit()
        return card
