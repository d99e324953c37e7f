"""Meeting people: who is admitted, and the oven that opens for them.

Admitted is who comes with a code: an invitation (a key that a letter of ours carried), or one of
the installation's own first-run codes. Where only the person at the machine can speak, everybody
is admitted.
"""

import hashlib
import hmac
from dataclasses import dataclass
from datetime import timedelta

from bot.conversation.incoming import Incoming
from scheduling.choice import Command, CommandName, Tending
from scheduling.clock import Clock
from scheduling.ports import OvenCard, Person, Pressed, UnitOfWork

OPEN_CHANNELS = frozenset({"terminal", "replay"})
INVITED = "invited"
"""State of an oven that waits for its owner."""

GOOD_FOR = timedelta(days=30)
"""After this an invitation has expired."""


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


@dataclass(frozen=True, slots=True)
class Admitted:
    """Somebody who may come in. ``oven`` is set where they tend an oven from now on that is in
    the book already (``joins``: beside its owner)."""

    person: Person
    oven: OvenCard | None
    joins: bool = False


def code_in(incoming: Incoming) -> str:
    """The code that somebody came with; "" for none."""
    if incoming.command is not None and incoming.command.name is CommandName.START:
        return incoming.command.rest.strip()
    text = (incoming.text or "").strip()
    return text if text and " " not in text and len(text) >= 12 else ""


async def invitation(unit: UnitOfWork, code: str, clock: Clock) -> tuple[Pressed, OvenCard] | None:
    """What an invitation opens; None if there is none, or it has expired or been used."""
    if not code:
        return None
    pressed = await unit.outbox.pressed(code)
    if pressed is None or pressed.oven is None:
        return None
    letter = await unit.outbox.get(pressed.letter)
    if letter is None or clock.now() - letter.created_at > GOOD_FOR:
        return None
    card = await unit.ovens.get(pressed.oven)
    if card is None:
        return None
    match pressed.choice:
        case Tending(person="", joined=True):
            journal = await unit.ovens.journal(card.id)
            used = any(one.entry.key == code for one in journal)
            return None if used else (pressed, card)
        case Command(name=CommandName.START):
            return (pressed, card) if card.state == INVITED and not card.owners else None
        case _:
            return None
