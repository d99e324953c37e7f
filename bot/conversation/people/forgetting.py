"""Forgetting somebody: every trace of them in what is kept, in one unit of work.

It needs no engine, so that a backup that is put back can be made to forget likewise.
"""

from collections.abc import Sequence
from datetime import datetime

from bot.conversation.people.keepsakes import agreed_in, left_behind, left_card
from bot.understanding.phones import written_forms
from scheduling.alarm import AlarmName
from scheduling.blotting import blotted_json, without_name
from scheduling.choice import Keep
from scheduling.clients import WORDS
from scheduling.journal import (
    CaseClosed,
    CrackSeen,
    Entry,
    HazardSeen,
    Jotted,
    Left,
    LookedAfter,
    Order,
    TalkSaid,
)
from scheduling.journal.forgetting import SOMEBODY, Forgotten, ever_tending, tending, without
from scheduling.ports import Erasure, OvenCard, Person, UnitOfWork


async def let_go(
    unit: UnitOfWork, card: OvenCard, keeps: Keep, now: datetime, words: Sequence[str] = ()
) -> None:
    """The last who tended an oven is gone for good: erase it, or keep its figures."""
    written = [one.entry for one in await unit.ovens.journal(card.id)]
    await unit.outbox.forget("", [card.id])
    await unit.hands.put_down(card.id)
    if keeps is Keep.NOTHING or card.builder is None:
        await unit.ovens.erase(card.id)
    else:
        left = left_behind(written, Keep.NAMELESS, card, now, words)
        await unit.ovens.rewrite(card.id, left)
        await unit.ovens.put(left_card(card, left, Keep.NAMELESS, now))
        for name in AlarmName:
            await unit.alarms.drop(card.id, name)
    team = await unit.people.team(card.builder) if card.builder is not None else ()
    # Letters about several ovens stay for the sake of the others.
    named = [card.name, *words]
    told = [*named, *_shown_of_owner(written)]
    await unit.outbox.blot(told, [one.id for one in team])
    await unit.inbox.blot([*named, *_said_by_builder(written)])
    for member in team:
        # What a builder typed of somebody whose card lay open cannot be told from all the rest.
        await unit.inbox.forget(member.channel, member.address)


def _said_by_builder(entries: Sequence[Entry]) -> list[str]:
    """What was noted of them and said to them: it came in as messages of the builder's."""
    said = [one.text for one in entries if isinstance(one, Jotted | TalkSaid)]
    said += [one.why for one in entries if isinstance(one, Order | CaseClosed)]
    return [text for text in said if text]


def _shown_of_owner(entries: Sequence[Entry]) -> list[str]:
    """What they wrote of a danger, as far as a line of many shows it."""
    told = [one.words for one in entries if isinstance(one, HazardSeen | CrackSeen)]
    return [text[:WORDS] for text in told if text]


async def forget(
    unit: UnitOfWork, person: Person, now: datetime, kept: Sequence[str] = ()
) -> tuple[str, ...]:
    """Take a person out of everything but their own row, letters and messages, which ``finish``
    deletes once their farewell is sent. Returns the ovens that a builder keeps without them.

    ``kept`` are ovens that were kept when it was done before: for a backup put back.
    """
    words = [
        person.name,
        person.address,
        *written_forms(person.phone),
        *await unit.invitations.forget(person.id),
    ]
    ids = {card.id for card in await unit.ovens.of_person(person.id)}
    ids |= set(await unit.ovens.written_by(person.id))
    left: list[str] = []
    for oven_id in sorted(ids):
        card = await unit.ovens.get(oven_id)
        if card is not None and await _leave(unit, card, person, now, words, oven_id in kept):
            left.append(oven_id)
    team = await unit.people.team(person.builder) if person.builder is not None else ()
    await _leave_team(unit, person, now)
    await unit.outbox.blot(words, [one.id for one in team])
    await unit.inbox.blot([*words, person.id])
    return tuple(left)


async def finish(unit: UnitOfWork, erasure: Erasure, now: datetime) -> None:
    """The last of it: their row, the letters to them and what they sent."""
    person = await unit.people.get(erasure.person)
    if person is not None:
        # What was on its way to others when they were forgotten has arrived by now.
        await unit.outbox.blot([person.name, person.address, *written_forms(person.phone)])
        await unit.outbox.forget(person.id)
        await unit.inbox.forget(person.channel, person.address)
        await unit.people.forget(person.id)
    await unit.erasures.put(erasure.model_copy(update={"done_at": now}))


async def _leave(
    unit: UnitOfWork,
    card: OvenCard,
    person: Person,
    now: datetime,
    words: Sequence[str],
    was_kept: bool,
) -> bool:
    """Take them out of one oven; True where it stays with a builder, without anybody."""
    entries = [one.entry for one in await unit.ovens.journal(card.id)]
    await unit.hands.put_down(card.id)
    if card.taken_by == person.id:
        card = card.model_copy(update={"taken_by": None, "taken_at": None})
    others = tuple(one for one in card.owners if one != person.id)
    tended = person.id in ever_tending(entries) or person.id in card.owners
    if tended and not others:
        stays = card.builder is not None and (
            was_kept or not card.owners or agreed_in(entries) is not Keep.NOTHING
        )
        await let_go(unit, card, Keep.NAMELESS if stays else Keep.NOTHING, now, words)
        return stays
    told = without(entries, Forgotten(frozenset({person.id}), tuple(words)))
    if person.id in tending(entries):
        told = (*told, Left(at=now, by=SOMEBODY, person=SOMEBODY))
    await unit.ovens.rewrite(card.id, told)
    name = without_name(card.name, words)
    await unit.ovens.put(card.model_copy(update={"owners": others, "name": name}))
    return False


async def _leave_team(unit: UnitOfWork, person: Person, now: datetime) -> None:
    await unit.builders.blot_log(person.id, SOMEBODY)
    if person.builder is None:
        return
    await unit.people.put(person.model_copy(update={"builder": None}))
    builder = await unit.builders.get(person.builder)
    if await unit.people.team(person.builder):
        if builder is not None and person.id == builder.founder:
            name = "" if builder.name == person.name else builder.name
            await unit.builders.put(builder.model_copy(update={"founder": None, "name": name}))
        await _leave_ways(unit, person)
        return
    for card in await unit.ovens.of_builder(person.builder):
        if not card.owners:
            await unit.ovens.erase(card.id)
            continue
        entries = [one.entry for one in await unit.ovens.journal(card.id)]
        await unit.ovens.rewrite(card.id, (*entries, LookedAfter(at=now, builder=None)))
        await unit.ovens.put(card.model_copy(update={"builder": None}))
    await unit.builders.forget(person.builder)


async def _leave_ways(unit: UnitOfWork, person: Person) -> None:
    """The team's own ways stay, and nothing in them names who has gone."""
    for way in await unit.ways.all(person.builder or ""):
        made_by = SOMEBODY if way.made_by == person.id else way.made_by
        body = blotted_json(way.body, [person.name, person.address])
        if (made_by, body) != (way.made_by, way.body):
            await unit.ways.rewrite(way.model_copy(update={"made_by": made_by, "body": body}))
