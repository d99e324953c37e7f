"""What a pressed button, or a command, stands for."""

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from scheduling.remark import Remark


class _Choice(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Saying(_Choice):
    """The button says what could as well have been typed."""

    kind: Literal["saying"] = "saying"
    remarks: tuple[Remark, ...]


class SetUpAnswer(_Choice):
    """An answer to a question of the set-up; ``value`` in the notation of that field."""

    kind: Literal["set_up"] = "set_up"
    about: str
    value: str


class Confirm(_Choice):
    """Do what was proposed, or leave it. ``proposal`` names it, so that a stale tap is known."""

    kind: Literal["confirm"] = "confirm"
    proposal: str
    yes: bool = True


class CommandName(StrEnum):
    """Commands of our own, typed with a slash or pressed."""

    START = "start"
    HELP = "help"
    SETTINGS = "settings"
    NOW = "now"  # what to do at this moment
    PLAN = "plan"
    DAYS = "days"
    PICTURE = "picture"
    UNDO = "undo"
    ROSTER = "roster"  # a builder's clients
    RECORD = "record"
    LEAVE = "leave"


class Command(_Choice):
    """A command, with what stood behind it."""

    kind: Literal["command"] = "command"
    name: CommandName
    rest: str = ""


Choice = Annotated[Saying | SetUpAnswer | Confirm | Command, Field(discriminator="kind")]
