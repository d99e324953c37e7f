"""A builder's clients from a file: looked at first, and invited once the builder has said so.

Nobody is led by a file. It makes invitations, which each owner has to open for themselves.
"""

from zoneinfo import ZoneInfo

from bot.clientlist.reading import read_sheet
from bot.conversation.clients.rows import Looked, NewClient, RowReader
from bot.conversation.clients.whose import nobody_yet
from bot.conversation.foundation import Foundation, letter_to, reply
from bot.conversation.incoming import Incoming
from bot.conversation.people.inviting import GOOD_FOR
from bot.conversation.people.telling import builder_name
from bot.conversation.setting_up import SettingUp
from bot.ways.applying import ways_in
from bot.wording.importing import empty_sheet, sheet_of_invitations
from scheduling.choice import Choice, Importing
from scheduling.meaning import ImportDone, ImportHow, ImportShown, NothingHere, RowFault
from scheduling.ports import Invitation, Opens, Person, UnitOfWork, digest_of

MOST_FAULTS = 8
"""Told at once: more is not read on a phone."""


class Imports:
    """Every verb answers."""

    def __init__(self, base: Foundation, setting_up: SettingUp) -> None:
        self._base = base
        self._setting_up = setting_up

    async def explain(self, incoming: Incoming, person: Person) -> None:
        """How it is done, with an empty file."""
        async with self._base.store.read() as unit:
            ways = ways_in(await unit.ways.latest(person.builder or ""))
        titles = tuple(one.title for one in ways.models.values())
        how = ImportHow(file=empty_sheet(titles), models=titles)
        await reply(self._base, incoming, person, how)

    async def look(self, incoming: Incoming, person: Person, text: str) -> None:
        """A dry run: what would be done, and what is wrong."""
        looked = await self._looked(incoming, person, text)
        shown = ImportShown(
            new=tuple((one.name, len(one.given)) for one in looked.new),
            known=looked.known,
            faults=looked.faults[:MOST_FAULTS],
            more_faults=max(0, len(looked.faults) - MOST_FAULTS),
            text=text if looked.new else "",
        )
        await reply(self._base, incoming, person, shown)

    async def refuse(self, incoming: Incoming, person: Person) -> None:
        """A file that holds no text."""
        shown = ImportShown(faults=(RowFault(what="not_text"),))
        await reply(self._base, incoming, person, shown)

    async def invite(
        self, incoming: Incoming, person: Person, text: str, shown_in: str = ""
    ) -> None:
        """Invite all of it that has no fault and is not there yet: pressed twice, nobody new. The
        letter that it was ``shown_in`` keeps the file no longer."""
        if person.builder is None:
            await reply(self._base, incoming, person, NothingHere())
            return
        looked = await self._looked(incoming, person, text)
        if not looked.new:
            await reply(self._base, incoming, person, ImportDone(invited=0))
            return
        now = self._base.clock.now()
        expires = now + GOOD_FOR[Opens.OVEN]
        coded = [(one, self._base.new_id()) for one in looked.new]
        async with self._base.store.read() as unit:
            name = await builder_name(unit, person.builder)
        linked = [(one.name, code, self._base.links.to(code)) for one, code in coded]
        until = expires.astimezone(ZoneInfo(person.zone)).date()
        file = sheet_of_invitations(linked, name, until)
        done = ImportDone(invited=len(coded), file=file, expires_at=expires)
        letter = letter_to(self._base, person, done)
        made = [self._invitation(person, one, code, letter.id) for one, code in coded]
        async with self._base.store.write() as unit:
            if await unit.inbox.done(incoming.channel, incoming.key):
                for invitation in made:
                    await unit.invitations.put(invitation)
                await _let_go(unit, shown_in)
                await unit.outbox.post(letter)
                await unit.commit()

    async def _looked(self, incoming: Incoming, person: Person, text: str) -> Looked:
        now = self._base.clock.now()
        async with self._base.store.read() as unit:
            builder = person.builder or ""
            ways = ways_in(await unit.ways.latest(builder))
            there = {one.name.casefold() for one in await unit.ovens.of_builder(builder)}
            open_ones = await unit.invitations.open_for_builder(builder, now)
        there |= {one.name.casefold() for one in open_ones if one.opens is Opens.OVEN}
        today = now.astimezone(ZoneInfo(person.zone)).date()
        record = nobody_yet(self._base, person, ways)
        reader = RowReader(self._setting_up, incoming, person, record, ways, today)
        return await reader.look(read_sheet(text), there)

    def _invitation(self, person: Person, client: NewClient, code: str, letter: str) -> Invitation:
        now = self._base.clock.now()
        return Invitation(
            id=self._base.new_id(),
            digest=digest_of(code),
            opens=Opens.OVEN,
            builder=person.builder,
            name=client.name,
            phone=client.phone,
            made_by=person.id,
            made_at=now,
            expires_at=now + GOOD_FOR[Opens.OVEN],
            given=client.given,
            model=client.model,
            letter=letter,
        )


async def _let_go(unit: UnitOfWork, letter_id: str) -> None:
    """Where clients live is in what was made of the file; nobody needs the file itself any more."""
    letter = await unit.outbox.get(letter_id)
    if letter is None:
        return
    choices: dict[str, Choice] = {
        label: Importing(text="") if isinstance(choice, Importing) else choice
        for label, choice in letter.parcel.choices.items()
    }
    await unit.outbox.replace(letter.id, letter.parcel.model_copy(update={"choices": choices}))
