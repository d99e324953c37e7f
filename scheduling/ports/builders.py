"""Builders: their teams, and their own ways."""

from typing import Literal, Protocol

from pydantic import AwareDatetime, BaseModel, ConfigDict


class Builder(BaseModel):
    """A builder's team, by the name that clients know. Its members are people of its id."""

    model_config = ConfigDict(frozen=True)

    id: str
    name: str
    founder: str | None = None
    """The person who began it; None once they asked to be forgotten."""
    founded_at: AwareDatetime | None = None


class TeamEntry(BaseModel):
    """A line of a team's own journal: who asked to come, who let whom in, who has gone.

    ``person`` is whom it is about, ``by`` whose word it was; ids, or ``somebody`` once forgotten.
    """

    model_config = ConfigDict(frozen=True)

    builder: str
    at: AwareDatetime
    what: Literal["founded", "asked", "let_in", "refused", "left", "put_out"]
    person: str
    by: str


class Builders(Protocol):
    """The builders of this installation."""

    async def get(self, builder_id: str) -> Builder | None:
        """By id."""
        ...

    async def put(self, builder: Builder) -> None:
        """Insert or replace by id."""
        ...

    async def forget(self, builder_id: str) -> None:
        """Delete the row with its ways, journal and invitations; no error if there is none."""
        ...

    async def note(self, entry: TeamEntry) -> None:
        """Append to a team's journal. A builder who is not there is refused with a fault of
        storage."""
        ...

    async def log(self, builder_id: str) -> tuple[TeamEntry, ...]:
        """A team's journal, in the order in which it was written."""
        ...

    async def blot_log(self, person_id: str, somebody: str) -> None:
        """Put ``somebody`` in the place of a person in every team's journal."""
        ...


class Way(BaseModel):
    """One version of a builder's own ways: presets, limits and wording, as JSON text."""

    model_config = ConfigDict(frozen=True)

    builder: str
    version: int
    """From 1, without gaps."""
    made_at: AwareDatetime
    made_by: str
    body: str


class Ways(Protocol):
    """Builders' own ways, every version of them."""

    async def latest(self, builder_id: str) -> Way | None:
        """The newest version; None where there is none."""
        ...

    async def put(self, way: Way) -> None:
        """Keep the next version. Raises Conflict when it is not the one after the latest: read
        again and retry. A builder who is not there is refused with a fault of storage."""
        ...

    async def rewrite(self, way: Way) -> None:
        """Put a version in the place of itself: so that somebody can be forgotten, and for
        nothing else. One that is not there stays away."""
        ...

    async def all(self, builder_id: str) -> tuple[Way, ...]:
        """All versions, the oldest first."""
        ...
