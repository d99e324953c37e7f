"""People: who they are and where they are reached."""

from collections.abc import Mapping, Sequence
from typing import Literal, Protocol

from pydantic import BaseModel, ConfigDict


class Person(BaseModel):
    """Somebody we talk to. ``channel`` and ``address`` are where: one chat, one person."""

    model_config = ConfigDict(frozen=True)

    id: str
    channel: str
    address: str
    name: str
    unit: Literal["C", "F"] = "C"
    zone: str = "UTC"
    builder: str | None = None
    """The builder's team this person belongs to."""
    blocked: bool = False
    quiet_from: float | None = 22.0
    quiet_until: float | None = 7.0
    group: bool = False
    """Several people read this chat; channels allow fewer messages there."""
    phone: str = ""
    """Where they can be rung, in the international notation; "" while nobody has said."""


class People(Protocol):
    """Everybody we talk to."""

    async def get(self, person_id: str) -> Person | None:
        """By id."""
        ...

    async def at(self, channel: str, address: str) -> Person | None:
        """Who is reached there."""
        ...

    async def belonging(self, channel: str, addresses: Sequence[str]) -> frozenset[str]:
        """Those addresses at which somebody is reached who tends an oven or is of a team."""
        ...

    async def put(self, person: Person) -> None:
        """Insert or replace by id."""
        ...

    async def team(self, builder_id: str) -> tuple[Person, ...]:
        """A builder's team, by id."""
        ...

    async def forget(self, person_id: str) -> None:
        """Delete the row. Refused, with a fault of storage, while an oven is theirs or a letter
        to them is kept."""
        ...

    async def several(self, person_ids: Sequence[str]) -> Mapping[str, Person]:
        """Those of them that there are, by id."""
        ...

    async def builders(self) -> tuple[Person, ...]:
        """Everybody who belongs to any builder's team, by id."""
        ...
