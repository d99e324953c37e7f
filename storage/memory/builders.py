"""Builders, their ways, invitations and erasures in memory."""

from collections.abc import Callable
from datetime import datetime

from scheduling.ports import Builder, Conflict, Erasure, Invitation, TeamEntry, Way
from storage.faults import RuleBroken
from storage.memory.tables import Room


class MemoryBuilders(Room):
    """``Builders`` in memory."""

    async def get(self, builder_id: str) -> Builder | None:
        """By id."""
        return self._t.builders.get(builder_id)

    async def put(self, builder: Builder) -> None:
        """Insert or replace by id."""
        self._t.builders[builder.id] = builder

    async def forget(self, builder_id: str) -> None:
        """Delete the row with its ways, journal and invitations."""
        self._t.builders.pop(builder_id, None)
        self._t.ways.pop(builder_id, None)
        self._t.team_log.pop(builder_id, None)
        for key in [k for k, one in self._t.invitations.items() if one.builder == builder_id]:
            del self._t.invitations[key]
        for person in [k for k, one in self._t.calendars.items() if one.builder == builder_id]:
            del self._t.calendars[person]

    async def note(self, entry: TeamEntry) -> None:
        """Append to a team's journal."""
        self._needs_builder(entry.builder)
        self._t.team_log[entry.builder] = (*await self.log(entry.builder), entry)

    async def log(self, builder_id: str) -> tuple[TeamEntry, ...]:
        """A team's journal, in the order in which it was written."""
        return self._t.team_log.get(builder_id, ())

    async def blot_log(self, person_id: str, somebody: str) -> None:
        """Put ``somebody`` in the place of a person in every team's journal."""
        for builder, entries in list(self._t.team_log.items()):
            self._t.team_log[builder] = tuple(
                one.model_copy(
                    update={
                        name: somebody
                        for name in ("person", "by")
                        if getattr(one, name) == person_id
                    }
                )
                for one in entries
            )


class MemoryWays(Room):
    """``Ways`` in memory."""

    async def latest(self, builder_id: str) -> Way | None:
        """The newest version; None where there is none."""
        return next(reversed(self._t.ways.get(builder_id, ())), None)

    async def put(self, way: Way) -> None:
        """Keep the next version. Raises Conflict when it is not the one after the latest."""
        self._needs_builder(way.builder)
        old = self._t.ways.get(way.builder, ())
        if way.version != len(old) + 1:
            raise Conflict(f"the latest version of {way.builder} is {len(old)}")
        self._t.ways[way.builder] = (*old, way)

    async def rewrite(self, way: Way) -> None:
        """Put a version in the place of itself, to forget somebody."""
        old = self._t.ways.get(way.builder, ())
        self._t.ways[way.builder] = tuple(way if one.version == way.version else one for one in old)

    async def all(self, builder_id: str) -> tuple[Way, ...]:
        """All versions, the oldest first."""
        return self._t.ways.get(builder_id, ())


class MemoryInvitations(Room):
    """``Invitations`` in memory."""

    async def get(self, invitation_id: str) -> Invitation | None:
        """By id."""
        return self._t.invitations.get(invitation_id)

    async def by_digest(self, digest: str) -> Invitation | None:
        """The one whose code has this digest."""
        return next(iter(self._where(lambda one: one.digest == digest)), None)

    async def put(self, invitation: Invitation) -> None:
        """Insert or replace by id."""
        if invitation.builder is not None:
            self._needs_builder(invitation.builder)
        if invitation.oven is not None:
            self._needs_oven(invitation.oven)
        same = await self.by_digest(invitation.digest)
        if same is not None and same.id != invitation.id:
            raise RuleBroken("a row was refused: that code is taken")
        self._t.invitations[invitation.id] = invitation

    async def use(self, invitation_id: str, person_id: str, at: datetime) -> bool:
        """Mark it used; False, and no change, if it was no longer open."""
        return self._close(invitation_id, at, used_at=at, used_by=person_id)

    async def revoke(self, invitation_id: str, person_id: str, at: datetime) -> bool:
        """Mark it revoked; False, and no change, if it was no longer open."""
        return self._close(invitation_id, at, revoked_at=at, revoked_by=person_id)

    async def open_for_builder(self, builder_id: str, now: datetime) -> tuple[Invitation, ...]:
        """A builder's open invitations, the oldest first."""
        return self._where(lambda one: one.builder == builder_id and one.is_open(now))

    async def open_for_oven(self, oven_id: str, now: datetime) -> tuple[Invitation, ...]:
        """Open invitations to tend an oven, the oldest first."""
        return self._where(lambda one: one.oven == oven_id and one.is_open(now))

    async def with_phones(self) -> tuple[Invitation, ...]:
        """Those that keep somebody's phone number, the oldest first."""
        return self._where(lambda one: one.phone != "")

    async def with_letters(self) -> tuple[Invitation, ...]:
        """Those whose code may still be read in a letter, the oldest first."""
        return self._where(lambda one: one.letter is not None)

    async def forget(self, person_id: str) -> tuple[str, ...]:
        """Delete those this person used; of those they made, forget who made them."""
        used = self._where(lambda one: one.used_by == person_id)
        for one in list(self._t.invitations.values()):
            if one.used_by == person_id:
                del self._t.invitations[one.id]
                continue
            made_by = "" if one.made_by == person_id else one.made_by
            revoked_by = None if one.revoked_by == person_id else one.revoked_by
            new = one.model_copy(update={"made_by": made_by, "revoked_by": revoked_by})
            self._t.invitations[one.id] = new
        return tuple(one.name for one in used if one.name)

    def _close(self, invitation_id: str, at: datetime, **values: object) -> bool:
        one = self._t.invitations.get(invitation_id)
        if one is None or not one.is_open(at):
            return False
        self._t.invitations[invitation_id] = one.model_copy(update={"given": (), **values})
        return True

    def _where(self, wanted: Callable[[Invitation], bool]) -> tuple[Invitation, ...]:
        found = filter(wanted, self._t.invitations.values())
        return tuple(sorted(found, key=lambda one: (one.made_at, one.id)))


class MemoryErasures(Room):
    """``Erasures`` in memory."""

    async def put(self, erasure: Erasure) -> None:
        """Insert or replace by person."""
        self._t.erasures[erasure.person] = erasure

    async def get(self, person_id: str) -> Erasure | None:
        """Of this person."""
        return self._t.erasures.get(person_id)

    async def pending(self) -> tuple[Erasure, ...]:
        """Those not done yet, the oldest first."""
        return tuple(one for one in await self.all() if one.done_at is None)

    async def all(self) -> tuple[Erasure, ...]:
        """The oldest first."""
        return tuple(sorted(self._t.erasures.values(), key=lambda one: (one.asked_at, one.person)))
