"""A builder's team: founded, shown, named, joined and left."""

from datetime import datetime
from typing import Literal

from bot.conversation.foundation import Foundation, letter_to, reply
from bot.conversation.incoming import Incoming
from bot.conversation.people.telling import builder_name, team_but, tell
from scheduling.choice import Admitting, Casing, LookingAfter, PuttingOut, Talking
from scheduling.happening import Chose
from scheduling.meaning import (
    JoinAsked,
    JoinRefused,
    LeftTold,
    Member,
    MemberAsks,
    MemberTold,
    NothingHere,
    OtherTeam,
    PutOutAsked,
    TeamLine,
    TeamRenamed,
    TeamShown,
)
from scheduling.outcome import Urgency
from scheduling.ports import Builder, InHand, Invitation, Person, Roster, TeamEntry, UnitOfWork

NAME_LIMIT = 60
LINES = 8
"""Of a team's journal, as many as a phone shows."""


class Teams:
    """What happens around a team."""

    def __init__(self, base: Foundation) -> None:
        self._base = base

    async def found(self, incoming: Incoming, person: Person) -> None:
        """The installation's own code: they begin a team, unless they are of one."""
        if person.builder is not None:
            await self.show(incoming, person)
            return
        now = self._base.clock.now()
        builder = Builder(
            id=f"team-{person.id}"[:64], name=person.name, founder=person.id, founded_at=now
        )
        member = person.model_copy(update={"builder": builder.id})
        async with self._base.store.write() as unit:
            if await unit.inbox.done(incoming.channel, incoming.key):
                await unit.builders.put(builder)
                await unit.people.put(member)
                await self._note(unit, builder.id, "founded", person, person)
                shown = TeamShown(builder=builder.id, name=builder.name, new=True)
                await unit.outbox.post(letter_to(self._base, member, shown))
                await unit.commit()

    async def show(self, incoming: Incoming, person: Person) -> None:
        """Who they are, who let them in, and what they can do."""
        async with self._base.store.read() as unit:
            shown = await self._shown(unit, person)
        await reply(self._base, incoming, person, shown or NothingHere())

    async def rename(self, incoming: Incoming, person: Person, name: str) -> None:
        """Another name for clients to know them by."""
        told = " ".join(name.split())[:NAME_LIMIT]
        async with self._base.store.write() as unit:
            builder = await unit.builders.get(person.builder) if person.builder else None
            if builder is not None and told:
                if await unit.inbox.done(incoming.channel, incoming.key):
                    await unit.builders.put(builder.model_copy(update={"name": told}))
                    renamed = letter_to(self._base, person, TeamRenamed(name=told))
                    await unit.outbox.post(renamed)
                    await unit.commit()
                return
        await self.show(incoming, person)

    # ------------------------------------------------------------ coming

    async def ask(self, incoming: Incoming, person: Person, invitation: Invitation) -> None:
        """They come with an invitation, which is used up, and wait for the team's yes; somebody of
        another team leaves that first."""
        builder_id = invitation.builder or ""
        if person.builder is not None:
            async with self._base.store.read() as unit:
                other = OtherTeam(name=await builder_name(unit, person.builder))
            await reply(self._base, incoming, person, other)
            return
        now = self._base.clock.now()
        async with self._base.store.write() as unit:
            if await unit.invitations.use(invitation.id, person.id, now):
                if await unit.inbox.done(incoming.channel, incoming.key):
                    await self._note(unit, builder_id, "asked", person, person)
                    waits = JoinAsked(name=await builder_name(unit, builder_id))
                    await unit.outbox.post(letter_to(self._base, person, waits))
                    asks = MemberAsks(
                        person=person.id, name=person.name or invitation.name, meant=invitation.name
                    )
                    team = await unit.people.team(builder_id)
                    await tell(unit, self._base, team, asks, urgency=Urgency.ANSWER)
                    await unit.commit()
                return
        await reply(self._base, incoming, person, NothingHere())

    async def admit(self, incoming: Incoming, person: Person, choice: Admitting) -> None:
        """A member's word on somebody who waits: the first counts."""
        async with self._base.store.write() as unit:
            asking = await self._asking(unit, person.builder, choice.person)
            if asking is not None and person.builder is not None:
                if await unit.inbox.done(incoming.channel, incoming.key):
                    await self._answer(unit, person, asking, yes=choice.yes)
                    await unit.commit()
                return
        await reply(self._base, incoming, person, NothingHere())

    async def _answer(self, unit: UnitOfWork, person: Person, asking: Person, *, yes: bool) -> None:
        builder_id = person.builder or ""
        await self._note(unit, builder_id, "let_in" if yes else "refused", asking, person)
        if yes:
            member = asking.model_copy(update={"builder": builder_id})
            await unit.people.put(member)
            shown = await self._shown(unit, member)
            if shown is not None:
                came = shown.model_copy(update={"joined": True})
                await tell(unit, self._base, (member,), came, urgency=Urgency.ANSWER)
        else:
            refused = JoinRefused(name=await builder_name(unit, builder_id))
            await tell(unit, self._base, (asking,), refused)
        told = MemberTold(name=asking.name, by=person.name, refused=not yes)
        others = await team_but(unit, builder_id, asking)
        await tell(unit, self._base, (one for one in others if one.id != person.id), told)
        mine = told.model_copy(update={"mine": True})
        await unit.outbox.post(letter_to(self._base, person, mine))

    async def _asking(
        self, unit: UnitOfWork, builder_id: str | None, person_id: str
    ) -> Person | None:
        """Whoever waits for this team's yes; None where nobody of that id does any more."""
        log = await unit.builders.log(builder_id) if builder_id else ()
        last = next((one.what for one in reversed(log) if one.person == person_id), "")
        found = await unit.people.get(person_id) if last == "asked" else None
        return found if found is not None and found.builder is None else None

    # ------------------------------------------------------------ going

    async def leave(self, incoming: Incoming, person: Person) -> None:
        """They see its clients no longer; clients of a team without anybody are told so."""
        if person.builder is None:
            await reply(self._base, incoming, person, NothingHere())
            return
        await self.dissolve(person)
        await self._step_back(person)
        async with self._base.store.write() as unit:
            if not await unit.inbox.done(incoming.channel, incoming.key):
                return
            left = person.model_copy(update={"builder": None})
            await unit.people.put(left)
            await self._note(unit, person.builder, "left", person, person)
            others = await team_but(unit, person.builder, person)
            await tell(unit, self._base, others, MemberTold(name=person.name, left=True))
            await unit.outbox.post(letter_to(self._base, left, LeftTold(what="team")))
            await unit.commit()

    async def put_out(self, incoming: Incoming, person: Person, choice: PuttingOut) -> None:
        """Ask back, then put a member out: from then on they see nothing of the team's."""
        async with self._base.store.read() as unit:
            member = await unit.people.get(choice.person)
        ours = person.builder is not None and member is not None
        if not ours or member is None or member.builder != person.builder or member == person:
            await reply(self._base, incoming, person, NothingHere())
        elif choice.yes is None:
            asked = PutOutAsked(person=member.id, name=member.name)
            await reply(self._base, incoming, person, asked)
        elif not choice.yes:
            await self.show(incoming, person)
        else:
            await self._step_back(member)
            async with self._base.store.write() as unit:
                if not await unit.inbox.done(incoming.channel, incoming.key):
                    return
                gone = member.model_copy(update={"builder": None})
                await unit.people.put(gone)
                await self._note(unit, person.builder or "", "put_out", member, person)
                name = await builder_name(unit, person.builder)
                await tell(unit, self._base, (gone,), LeftTold(what="team", put_out_of=name))
                told = MemberTold(name=member.name, by=person.name, left=True)
                others = await team_but(unit, person.builder, person)
                await tell(unit, self._base, others, told)
                mine = told.model_copy(update={"mine": True})
                await unit.outbox.post(letter_to(self._base, person, mine))
                await unit.commit()

    async def _step_back(self, person: Person) -> None:
        """Their cases are anybody's again, and nobody talks with an owner in the team's name."""
        async with self._base.store.read() as unit:
            wanted = Roster(builder=person.builder or "", taken_by=person.id, limit=1000)
            taken = (await unit.ovens.roster(wanted)).cards
            hand = await unit.hands.of(person.id)
        for card in taken:
            back = Casing(what="hand_back", name=person.name)
            await self._base.engine.happen(card.id, Chose(person.id, back))
        if hand.talking and hand.oven is not None:
            over = Talking(what="close", name=person.name)
            await self._base.engine.happen(hand.oven, Chose(person.id, over))
        async with self._base.store.write() as unit:
            await unit.hands.put(InHand(person=person.id, digest=hand.digest))
            await unit.commit()

    async def dissolve(self, person: Person) -> None:
        """Before the last of a team goes: nobody looks after its ovens any more, and all are
        told. No effect while others are left."""
        async with self._base.store.read() as unit:
            if person.builder is None or await team_but(unit, person.builder, person):
                return
            cards = await unit.ovens.of_builder(person.builder)
        for card in cards:
            if card.owners:
                await self._base.engine.happen(
                    card.id, Chose(person.id, LookingAfter(builder=None))
                )

    # ------------------------------------------------------------ what is kept of it

    async def _note(
        self,
        unit: UnitOfWork,
        builder_id: str,
        what: Literal["founded", "asked", "let_in", "refused", "left", "put_out"],
        person: Person,
        by: Person,
    ) -> None:
        now: datetime = self._base.clock.now()
        entry = TeamEntry(builder=builder_id, at=now, what=what, person=person.id, by=by.id)
        await unit.builders.note(entry)

    async def _shown(self, unit: UnitOfWork, person: Person) -> TeamShown | None:
        builder = await unit.builders.get(person.builder) if person.builder else None
        if builder is None:
            return None
        members = await unit.people.team(builder.id)
        log = await unit.builders.log(builder.id)
        names = await unit.people.several([one for e in log for one in (e.person, e.by)])
        lines = tuple(
            TeamLine(
                at=one.at,
                what=one.what,
                name=names[one.person].name if one.person in names else "",
                by=names[one.by].name if one.by in names and one.by != one.person else "",
            )
            for one in log[-LINES:]
        )
        return TeamShown(
            builder=builder.id,
            name=builder.name,
            members=tuple(
                Member(person=one.id, name=one.name, you=one.id == person.id) for one in members
            ),
            clients=len(await unit.ovens.of_builder(builder.id)),
            log=lines,
        )
