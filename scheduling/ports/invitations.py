"""Invitations: single use, expiring, revocable."""

import hashlib
from datetime import datetime
from enum import StrEnum
from typing import Protocol

from pydantic import AwareDatetime, BaseModel, ConfigDict

from scheduling.choice import About


class Opens(StrEnum):
    """What an invitation opens."""

    OVEN = "oven"  # an oven of their own, looked after by the builder
    SECOND = "second"  # another's oven, to tend its fire as well
    MEMBER = "member"  # the builder's team


class Invitation(BaseModel):
    """An invitation. The code itself is kept nowhere: ``digest`` is all there is of it."""

    model_config = ConfigDict(frozen=True)

    id: str
    digest: str
    opens: Opens
    made_by: str
    made_at: AwareDatetime
    expires_at: AwareDatetime
    builder: str | None = None
    oven: str | None = None
    name: str = ""
    """Whom it is for, in the words of who made it."""
    phone: str = ""
    """Where they can be rung, as whoever made it says; kept here only while it is open."""
    given: tuple[tuple[About, str], ...] = ()
    """What the builder has filled in of the oven it opens; nothing once it is closed."""
    model: str = ""
    """The builder's own model that it is of, by its title."""
    letter: str | None = None
    """The letter that shows the code, until that is blotted out."""
    used_at: AwareDatetime | None = None
    used_by: str | None = None
    revoked_at: AwareDatetime | None = None
    revoked_by: str | None = None

    def is_open(self, now: datetime) -> bool:
        """Whether it can still be used."""
        return self.used_at is None and self.revoked_at is None and now < self.expires_at


def digest_of(code: str) -> str:
    """What is kept of a code. Codes are random and long, so a plain SHA-256 cannot be tried
    through; it needs no salt."""
    return hashlib.sha256(code.encode()).hexdigest()


class Invitations(Protocol):
    """All invitations."""

    async def get(self, invitation_id: str) -> Invitation | None:
        """By id."""
        ...

    async def by_digest(self, digest: str) -> Invitation | None:
        """The one whose code has this digest."""
        ...

    async def put(self, invitation: Invitation) -> None:
        """Insert or replace by id."""
        ...

    async def use(self, invitation_id: str, person_id: str, at: datetime) -> bool:
        """Mark it used, and forget what was filled in; False, and no change, if it was used,
        revoked or had expired. Of two who come at once one is told True."""
        ...

    async def revoke(self, invitation_id: str, person_id: str, at: datetime) -> bool:
        """Mark it revoked, and forget what was filled in; False, and no change, if it was no
        longer open."""
        ...

    async def open_for_builder(self, builder_id: str, now: datetime) -> tuple[Invitation, ...]:
        """A builder's open invitations, the oldest first."""
        ...

    async def open_for_oven(self, oven_id: str, now: datetime) -> tuple[Invitation, ...]:
        """Open invitations to tend an oven, the oldest first."""
        ...

    async def with_phones(self) -> tuple[Invitation, ...]:
        """Those that keep somebody's phone number, the oldest first."""
        ...

    async def with_letters(self) -> tuple[Invitation, ...]:
        """Those whose code may still be read in a letter, the oldest first."""
        ...

    async def forget(self, person_id: str) -> tuple[str, ...]:
        """Delete those this person used, and return the names they were made for; of those they
        made, forget who made them."""
        ...
