"""A builder's own ways and figures, in the chat: shown, changed, applied, added up."""

import re
from typing import Final

from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.sent_files import content_of
from bot.papers.tallying import Tallying
from bot.ways.applying import models_shown, taken_by, ways_in
from bot.ways.editing import edited, is_edit
from bot.ways.reading import WaysError, read_ways
from bot.ways.shape import OwnWays
from bot.ways.writing import written
from scheduling.choice import Applying, CommandName
from scheduling.meaning import (
    StaleTap,
    WaysApplied,
    WaysKept,
    WaysOutrun,
    WaysRefused,
    WaysShown,
    WaysUnchanged,
)
from scheduling.meaning.ways import WayFault
from scheduling.ports import Builder, Conflict, OvenCard, Person, Pressed, Way
from scheduling.record import Record

FILE_HEADS: Final = (
    "[limits]", "[words]", "[checklist]", "[paper]", "[presets.", "[materials.", "[models.",
)  # fmt: skip
"""Words that begin a line of a file of ways: it may be pasted as a message as well."""


LOGO: Final = re.compile(r"\s*(?:(?:this is )?(?:my|our|the) )?logo\W*", re.IGNORECASE)
"""The word under a picture that makes it the head of their papers."""


class Workshop:
    """``hear`` and ``press`` say whether it was theirs to answer at all."""

    def __init__(self, base: Foundation) -> None:
        self._base = base
        self._tallying = Tallying(base.store)

    async def hear(self, incoming: Incoming, person: Person) -> bool:
        """Act on a command, a line or a file of somebody of a team. False for all else."""
        said, text = incoming.command, incoming.text or ""
        if person.builder is None:
            return False
        if incoming.file is not None:
            await self._take_file(incoming, person)
        elif incoming.photo is not None and LOGO.fullmatch(text):
            await self._take_logo(incoming, person, incoming.photo)
        elif said is not None and said.name is CommandName.STATISTICS:
            await self._tell_tally(incoming, person, person.builder)
        elif said is not None and said.name is CommandName.WAYS:
            await self._change(incoming, person, said.rest) if said.rest else await self._show(
                incoming, person
            )
        elif said is None and not incoming.edited and _is_file(text):
            await self._take(incoming, person, text)
        elif said is None and not incoming.edited and is_edit(text):
            await self._change(incoming, person, text)
        else:
            return False
        return True

    async def press(self, incoming: Incoming, person: Person, pressed: Pressed) -> bool:
        """Act on a button of ours. False for any other."""
        choice = pressed.choice
        if not isinstance(choice, Applying) or person.builder is None:
            return False
        await self._apply(incoming, person, choice)
        return True

    # ------------------------------------------------------------ ways

    async def _show(self, incoming: Incoming, person: Person) -> None:
        way = await self._latest(person)
        ways = ways_in(way)
        async with self._base.store.read() as unit:
            maker = await unit.people.get(way.made_by) if way is not None else None
            by = maker.name if maker is not None else ""
            taught = await unit.ovens.taught(person.builder or "")
        told = WaysShown(
            version=way.version if way is not None else 0,
            made_at=way.made_at if way is not None else None,
            by=by,
            limits=tuple(ways.limits.told().items()),
            cautions=len(ways.words.cautions),
            checks=len(ways.checklist.before) + len(ways.checklist.after),
            presets=tuple(one.title for one in ways.presets.values()),
            models=tuple(one.title for one in ways.models.values()),
            greeting=bool(ways.words.greeting),
            head=tuple(name for name, told in ways.paper if told),
            learn=ways.learn,
            teaching=models_shown(taught, ways),
            file=written(ways, person.unit),
        )
        await reply(self._base, incoming, person, told)

    async def _take_file(self, incoming: Incoming, person: Person) -> None:
        content = await self._content(incoming)
        if content is None:
            fault = WayFault(what="not_toml")
            await reply(self._base, incoming, person, WaysRefused(faults=(fault,)))
        else:
            await self._take(incoming, person, content)

    async def _take(self, incoming: Incoming, person: Person, text: str) -> None:
        try:
            ways = read_ways(text)
        except WaysError as error:
            await reply(self._base, incoming, person, WaysRefused(faults=error.faults))
            return
        await self._keep(incoming, person, await self._latest(person), ways)

    async def _change(self, incoming: Incoming, person: Person, typed: str) -> None:
        way = await self._latest(person)
        try:
            ways = edited(ways_in(way), typed)
        except WaysError as error:
            await reply(self._base, incoming, person, WaysRefused(faults=error.faults))
            return
        await self._keep(incoming, person, way, ways)

    async def _take_logo(self, incoming: Incoming, person: Person, photo: str) -> None:
        """The head of their papers bears this picture from now on."""
        way = await self._latest(person)
        ways = ways_in(way)
        paper = ways.paper.model_copy(update={"logo": photo})
        await self._keep(incoming, person, way, ways.model_copy(update={"paper": paper}))

    async def _keep(
        self, incoming: Incoming, person: Person, before: Way | None, ways: OwnWays
    ) -> None:
        """The next version, unless nothing differs."""
        version = before.version if before is not None else 0
        if ways == ways_in(before):
            await reply(self._base, incoming, person, WaysUnchanged(version=version))
            return
        now, builder = self._base.clock.now(), person.builder or ""
        way = Way(
            builder=builder,
            version=version + 1,
            made_at=now,
            made_by=person.id,
            body=ways.model_dump_json(exclude_none=True),
        )
        try:
            async with self._base.store.write() as unit:
                if await unit.builders.get(builder) is None:
                    founded = Builder(
                        id=builder, name=person.name, founder=person.id, founded_at=now
                    )
                    await unit.builders.put(founded)
                await unit.ways.put(way)
                await unit.commit()
        except Conflict:
            await reply(self._base, incoming, person, WaysOutrun())
            return
        told = WaysKept(
            version=way.version,
            changed=_changed(ways_in(before), ways),
            running=len(await self._running(builder)),
        )
        await reply(self._base, incoming, person, told)

    async def _apply(self, incoming: Incoming, person: Person, choice: Applying) -> None:
        """To every client that is not done. Done again after a crash it finds nothing new."""
        way = await self._latest(person)
        if way is None or way.version != choice.version:
            await reply(self._base, incoming, person, StaleTap())
            return
        clients = gentler = 0
        if choice.running:
            for card in await self._running(person.builder or ""):
                record: Record = await self._base.engine.record(card.id)
                taken = taken_by(way, person.id, self._base.clock.now(), record)
                gentler += taken.kept_gentler
                if taken.limits or taken.worded or taken.constructed or taken.learnt:
                    await self._base.engine.happen(card.id, taken)
                    clients += 1
        told = WaysApplied(version=choice.version, clients=clients, kept_gentler=gentler)
        await reply(self._base, incoming, person, told)

    async def _running(self, builder: str) -> list[OvenCard]:
        """Clients whose book is open, and whose break-in is not done."""
        async with self._base.store.read() as unit:
            cards = await unit.ovens.of_builder(builder)
        return [card for card in cards if card.owners and card.state != "done"]

    async def _latest(self, person: Person) -> Way | None:
        async with self._base.store.read() as unit:
            return await unit.ways.latest(person.builder or "")

    async def _content(self, incoming: Incoming) -> str | None:
        """The text of a file that was sent; None where it cannot be had or is no text."""
        content = await content_of(self._base, incoming)
        try:
            return None if content is None else content.decode("utf-8-sig")
        except UnicodeDecodeError:
            return None

    # ------------------------------------------------------------ figures

    async def _tell_tally(self, incoming: Incoming, person: Person, builder: str) -> None:
        await reply(self._base, incoming, person, await self._tallying.of(builder))


def _is_file(text: str) -> bool:
    return any(line.strip().startswith(FILE_HEADS) for line in text.splitlines())


def _changed(before: OwnWays, after: OwnWays) -> tuple[str, ...]:
    """The names of what differs."""
    found: list[str] = []
    for part in ("limits", "words", "checklist", "paper"):
        old, new = getattr(before, part), getattr(after, part)
        names = type(old).model_fields
        found += [name for name in names if getattr(old, name) != getattr(new, name)]
    for name in ("materials", "presets", "models", "reason", "learn", "less_gentle"):
        if getattr(before, name) != getattr(after, name):
            found.append(name)
    return tuple(found)
