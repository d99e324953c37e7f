"""Who asked to be forgotten: ids alone, so that an old backup can be made to forget them too."""

from typing import Protocol

from pydantic import AwareDatetime, BaseModel, ConfigDict


class Erasure(BaseModel):
    """``kept`` are ovens that stay with a builder, without the person."""

    model_config = ConfigDict(frozen=True)

    person: str
    asked_at: AwareDatetime
    kept: tuple[str, ...] = ()
    done_at: AwareDatetime | None = None
    """When the last trace went; None while the farewell is on its way."""


class Erasures(Protocol):
    """All erasures, for ever."""

    async def put(self, erasure: Erasure) -> None:
        """Insert or replace by person."""
        ...

    async def get(self, person_id: str) -> Erasure | None:
        """Of this person."""
        ...

    async def pending(self) -> tuple[Erasure, ...]:
        """Those not done yet, the oldest first."""
        ...

    async def all(self) -> tuple[Erasure, ...]:
        """The oldest first."""
        ...
