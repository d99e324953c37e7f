"""What a pressed button, or a command, stands for."""

from datetime import date
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


class About(StrEnum):
    """What the set-up asks, with the notation of its answer.

    Everything is text, as it would be written in a file; ``scheduling.firing.answers`` checks it.
    """

    UNITS = "units"  # C or F
    PLACE = "place"  # latitude,longitude,zone,name
    CONSTRUCTION = "construction"  # key of a preset
    WET_WORK = "wet_work"  # ISO date
    SIZE = "size"  # inner diameter in mm, or unknown
    THICKNESS = "thickness"  # shell in mm, or unknown
    COVER = "cover"  # open, sheet, roof
    DOOR = "door"  # none, plain, insulated
    SHELTER = "shelter"  # exposed, part, sheltered
    INSTRUMENT = "instrument"  # its highest °C, none, or unknown
    DAYS = "days"  # weekday digits 0 to 6, Monday 0: 0123456 for any day, 56 for weekends
    HOURS = "hours"  # 9-18, local
    SECOND = "second"  # none, or invite


class SetUpAnswer(_Choice):
    """An answer to a question of the set-up; ``value`` in the notation of ``About``."""

    kind: Literal["set_up"] = "set_up"
    about: About
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


class OrderName(StrEnum):
    """What a builder can order for one oven."""

    HOLD = "hold"
    RELEASE = "release"
    CAP = "cap"  # value: °C; None lifts it
    LIMIT = "limit"  # field: a field of journal.LimitsSet, value: its number
    REPEAT = "repeat"
    MOVE = "move"  # first: not before this day
    FORBID = "forbid"  # first to last
    TAKE_BACK = "take_back"  # value: number of the entry
    CLOSE = "close"  # a trouble was looked at: field names it


class Ordering(_Choice):
    """A builder's order. ``confirmed``: in so many words, where it is less gentle.

    The edge has made sure that this person may order for this oven.
    """

    kind: Literal["order"] = "order"
    name: OrderName
    value: float | None = None
    field: str = ""
    first: date | None = None
    last: date | None = None
    why: str = ""
    confirmed: bool = False


class Restricting(_Choice):
    """A local fire restriction holds on these days, or is over."""

    kind: Literal["restricting"] = "restricting"
    first: date
    last: date
    over: bool = False


class Repairing(_Choice):
    """Fresh mortar was put on, last on this day."""

    kind: Literal["repairing"] = "repairing"
    ended: date
    what: str = ""


class Tending(_Choice):
    """A person tends this oven's fire from now on, or no longer does."""

    kind: Literal["tending"] = "tending"
    person: str
    joined: bool = True


Choice = Annotated[
    Saying | SetUpAnswer | Confirm | Command | Ordering | Restricting | Repairing | Tending,
    Field(discriminator="kind"),
]
