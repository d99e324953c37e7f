"""The journal: the truth about an oven, append-only.

Every entry is typed and carries the version of its shape. State, plan, charts and papers are
derived from the entries; nothing is ever changed, an undo is an entry of its own.
"""

from datetime import datetime
from typing import Annotated, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field

from scheduling.oven.makeup import MakeUp


class _Entry(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")

    at: AwareDatetime
    """When it happened (which may be before it was told)."""
    by: str = ""
    """The person who said it; empty for the house itself."""
    v: int = 1


class Opened(_Entry):
    """The oven was entered into the book."""

    kind: Literal["opened"] = "opened"
    builder: str | None = None


class Described(_Entry):
    """What the oven is made of."""

    kind: Literal["described"] = "described"
    makeup: MakeUp


Entry = Annotated[Opened | Described, Field(discriminator="kind")]


def earliest(entries: tuple[Entry, ...]) -> datetime:
    """The first instant that the journal tells of. Raises ValueError when it is empty."""
    if not entries:
        raise ValueError("an empty journal has no first instant")
    return min(entry.at for entry in entries)
