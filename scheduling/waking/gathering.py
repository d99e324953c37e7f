"""One message for many: alerts that come thick and fast to one reader are told together.

The first few go out alone, at once. While one still waits to be sent, or many were told just now,
the next takes its place and names both; what it holds is read from its buttons, each of which
opens one client. Nothing is kept aside, so nothing can be lost by a crash.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from scheduling.choice import Opening
from scheduling.clients import contacts_of, lines_of, opening_of
from scheduling.meaning import Alert, AlertsGathered, ClientLine, Meaning
from scheduling.outcome import Message
from scheduling.ports import Letter, OvenCard, Person, UnitOfWork

THREADS, OPEN, FULL = "alert", "alert/", "alerts/"
"""How the threads of alerts begin: of all, of those that take in more, and of those that are full.
Each letter has a thread of its own, so that none is thought replaced that was on its way."""

MOST = 12
"""Clients in one message: what a phone shows, and a thumb finds."""

ALONE = 3
WITHIN = timedelta(minutes=5)
"""So many within this time go out alone (own choice)."""

WAIT = timedelta(minutes=1)
"""Then others are waited for, this long from the first of them (own choice)."""


@dataclass(frozen=True, slots=True)
class Told:
    """A message on its way to one reader, not before ``first``."""

    meaning: Meaning
    first: datetime
    replaces: str | None
    slot: str | None

    @classmethod
    def plainly(cls, message: Message, first: datetime) -> "Told":
        """As the message has it."""
        return cls(message.meaning, first, message.replaces, message.slot)

    def for_team(self, reader: Person, card: OvenCard, people: Mapping[str, Person]) -> "Told":
        """The same for somebody who looks after many: an oven without a name of its own has that
        of its owner, and an alert says how its people are reached, and whether this reader has
        the case."""
        changed: dict[str, object] = {}
        if getattr(self.meaning, "oven", None) == "":
            changed["oven"] = card.name
        if "contacts" in type(self.meaning).model_fields:
            changed["contacts"] = contacts_of(card, people, reader)
        if isinstance(self.meaning, Alert):
            changed["mine"] = card.taken_by == reader.id
        return replace(self, meaning=self.meaning.model_copy(update=changed)) if changed else self


async def gathered(
    unit: UnitOfWork, reader: Person, card: OvenCard, told: Told, now: datetime
) -> Told:
    """``told``, or in its place one message of all that ``reader`` has not been sent yet."""
    waiting = await unit.outbox.take_back(reader.id, OPEN)
    recent = await unit.outbox.told_since(reader.id, THREADS, now - WITHIN)
    if not waiting and recent < ALONE:
        return told
    first = min((one.not_before for one in waiting), default=now + WAIT)
    all_told = [about for one in waiting for about in _told_of(one)] + [_about(card.id, told)]
    needs = {(about.oven, about.about): about for about in all_told}
    if len(needs) == 1:
        return replace(told, first=first)
    lines = [line for about in needs.values() if (line := await _line(unit, about)) is not None]
    lines.sort(key=lambda line: (bool(line.taken_by), line.rank, line.since or now))
    thread = f"{FULL if len(needs) >= MOST else OPEN}{now:%Y%m%dT%H%M%S%f}/{card.id}"
    return Told(AlertsGathered(lines=tuple(lines)), first, thread, None)


def _about(oven: str, told: Told) -> Opening:
    """The oven, the need that is told of, and what its people wrote and showed of it."""
    meaning = told.meaning
    if not isinstance(meaning, Alert):
        return Opening(oven=oven, about=str(getattr(meaning, "needs", "")))
    return opening_of(meaning).model_copy(update={"oven": oven})


def _told_of(letter: Letter) -> list[Opening]:
    """What a waiting letter tells: by its buttons, or alone, by its thread."""
    openings = [one for one in letter.parcel.choices.values() if isinstance(one, Opening)]
    several = [one for one in openings if one.oven]
    if several or letter.oven is None:
        return several
    parts = (letter.replaces or "").split("/")
    alone = next(iter(openings), Opening())
    need = alone.about or (parts[2] if len(parts) > 2 else "")
    return [alone.model_copy(update={"oven": letter.oven, "about": need})]


async def _line(unit: UnitOfWork, about: Opening) -> ClientLine | None:
    """The client's line with the need that was told of, which may not be the most pressing."""
    card = await unit.ovens.get(about.oven)
    if card is None:
        return None
    (line,) = await lines_of(unit, (card,))
    told: dict[str, object] = {"words": about.words, "photos": about.photos}
    if about.about and about.about != line.needs:
        told |= {"needs": about.about, "since": None}
    return line.model_copy(update=told)
