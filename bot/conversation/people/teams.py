"""A builder's team: founded, shown, named, joined and left."""

from bot.conversation.foundation import Foundation, letter_to, reply
from bot.conversation.incoming import Incoming
from bot.conversation.people.telling import team_but, tell
from scheduling.choice import LookingAfter
from scheduling.happening import Chose
from scheduling.meaning import (
    InvitationUsed,
    LeftTold,
    MemberTold,
    NothingHere,
    OtherTeam,
    TeamRenamed,
    TeamShown,
)
from scheduling.ports import Builder, Invitation, Person, UnitOfWork

NAME_LIMIT = 60


class Teams:
    """What happens around a team."""

    def __init__(self, base: Foundation) -> None:
        self._base = base

    async def found(self, incoming: Incoming, person: Person) -> None:
        """The installation's own code: they begin a team, unless they are of one."""
        if person.builder is not None:
            await self.show(incoming, person)
            return
        builder = Builder(
            id=f"team-{person.id}"[:64],
            name=person.name,
            founder=person.id,
            founded_at=self._base.clock.now(),
        )
        member = person.model_copy(update={"builder": builder.id})
        shown = TeamShown(builder=builder.id, name=builder.name, new=True)
        async with self._base.store.write() as unit:
            if await unit.inbox.done(incoming.channel, incoming.key):
                await unit.builders.put(builder)
                await unit.people.put(member)
                await unit.outbox.post(letter_to(self._base, member, shown))
                await unit.commit()

    async def show(self, incoming: Incoming, person: Person) -> None:
        """Who they are, and what they can do."""
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

    async def join(self, incoming: Incoming, person: Person, invitation: Invitation) -> None:
        """By an invitation, which is used up; somebody of another team leaves that first."""
        if person.builder is not None:
            async with self._base.store.read() as unit:
                builder = await unit.builders.get(person.builder)
            other = OtherTeam(name=builder.name if builder is not None else "")
            await reply(self._base, incoming, person, other)
            return
        now = self._base.clock.now()
        member = person.model_copy(update={"builder": invitation.builder})
        async with self._base.store.write() as unit:
            if await unit.invitations.use(invitation.id, person.id, now):
                if await unit.inbox.done(incoming.channel, incoming.key):
                    await unit.people.put(member)
                    shown = await self._shown(unit, member)
                    if shown is not None:
                        came = shown.model_copy(update={"joined": True})
                        await unit.outbox.post(letter_to(self._base, member, came))
                    others = await team_but(unit, member.builder, member)
                    told = InvitationUsed(opens="member", name=person.name or invitation.name)
                    await tell(unit, self._base, others, told)
                    await unit.commit()
                return
        await reply(self._base, incoming, person, NothingHere())

    async def leave(self, incoming: Incoming, person: Person) -> None:
        """They see its clients no longer; clients of a team without anybody are told so."""
        if person.builder is None:
            await reply(self._base, incoming, person, NothingHere())
            return
        await self.dissolve(person)
        async with self._base.store.write() as unit:
            if not await unit.inbox.done(incoming.channel, incoming.key):
                return
            left = person.model_copy(update={"builder": None})
            await unit.people.put(left)
            others = await team_but(unit, person.builder, person)
            await tell(unit, self._base, others, MemberTold(name=person.name, left=True))
            await unit.outbox.post(letter_to(self._base, left, LeftTold(what="team")))
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

    async def _shown(self, unit: UnitOfWork, person: Person) -> TeamShown | None:
        builder = await unit.builders.get(person.builder) if person.builder else None
        if builder is None:
            return None
        members = await unit.people.team(builder.id)
        clients = await unit.ovens.of_builder(builder.id)
        return TeamShown(
            builder=builder.id,
            name=builder.name,
            members=tuple(one.name for one in members),
            clients=len(clients),
        )
