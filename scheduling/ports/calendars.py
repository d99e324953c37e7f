"""Addresses under which a builder's people have their calendar of fires."""

from typing import Protocol

from pydantic import AwareDatetime, BaseModel, ConfigDict


class CalendarAddress(BaseModel):
    """An address of one of a builder's people. Its code is kept nowhere, only its ``digest``."""

    model_config = ConfigDict(frozen=True)

    person: str
    builder: str
    digest: str
    made_at: AwareDatetime
    letter: str | None = None
    """The letter that shows the address, until that is blotted out."""


class Calendars(Protocol):
    """At most one address a person: a new one takes the place of the one before."""

    async def by_digest(self, digest: str) -> CalendarAddress | None:
        """The one whose code has this digest."""
        ...

    async def of(self, person_id: str) -> CalendarAddress | None:
        """The one of this person."""
        ...

    async def put(self, address: CalendarAddress) -> None:
        """Insert or replace by person. Somebody who is not there is refused with a fault."""
        ...

    async def revoke(self, person_id: str) -> bool:
        """It opens nothing any more; False if there was none."""
        ...

    async def with_letters(self) -> tuple[CalendarAddress, ...]:
        """Those whose address may still be read in a letter, the oldest first."""
        ...
