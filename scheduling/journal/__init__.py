"""The journal: the truth about an oven, append-only.

Every entry is typed and carries the version of its shape. State, plan, charts and papers are
derived from the entries; nothing is ever changed, an undo is an entry of its own.
"""

from datetime import datetime
from typing import Annotated

from pydantic import Field, TypeAdapter

from scheduling.choice import About
from scheduling.journal.base import Written
from scheduling.journal.days import (
    Asked,
    DaysSaid,
    Finished,
    Foretold,
    Promised,
    PromisedFiring,
    Reopened,
    RestrictionSaid,
    Settled,
    WeatherTold,
)
from scheduling.journal.fire import (
    Advised,
    Alerted,
    AllWell,
    CrackSeen,
    DoorMoved,
    FireDied,
    FireLit,
    FiringEnded,
    HazardClosed,
    HazardSeen,
    Hushed,
    Measured,
    Nudged,
    Seen,
    Silent,
    Unheard,
    WoodPutOn,
)
from scheduling.journal.lessons import Learnt, Model, Taught
from scheduling.journal.office import (
    CaseClosed,
    CaseHandedBack,
    CaseRung,
    CaseTaken,
    Jotted,
    TalkClosed,
    TalkOpened,
    TalkSaid,
)
from scheduling.journal.orders import (
    Capped,
    Forbidden,
    Held,
    LimitsSet,
    Moved,
    Order,
    OwnLimits,
    Released,
    RepeatOrdered,
    TakenBack,
    Undone,
)
from scheduling.journal.oven import (
    Agreed,
    Answered,
    Constructed,
    Described,
    Joined,
    Left,
    LookedAfter,
    Modelled,
    Noted,
    Opened,
    Reached,
    Repaired,
)
from scheduling.journal.ways import Worded

Entry = Annotated[
    Opened
    | Answered
    | Constructed
    | Described
    | Modelled
    | Joined
    | Left
    | LookedAfter
    | Agreed
    | Repaired
    | Noted
    | Reached
    | Measured
    | FireLit
    | WoodPutOn
    | FireDied
    | FiringEnded
    | DoorMoved
    | Seen
    | CrackSeen
    | HazardSeen
    | HazardClosed
    | AllWell
    | Advised
    | Alerted
    | Nudged
    | Unheard
    | Silent
    | Hushed
    | WeatherTold
    | Foretold
    | DaysSaid
    | RestrictionSaid
    | Promised
    | Asked
    | Settled
    | Finished
    | Reopened
    | Held
    | Released
    | Capped
    | LimitsSet
    | RepeatOrdered
    | Moved
    | Forbidden
    | TakenBack
    | CaseTaken
    | CaseHandedBack
    | CaseClosed
    | CaseRung
    | Jotted
    | TalkOpened
    | TalkSaid
    | TalkClosed
    | Worded
    | Taught
    | Learnt
    | Undone,
    Field(discriminator="kind"),
]

ENTRY: TypeAdapter[Entry] = TypeAdapter(Entry)
"""Reads and writes an entry as JSON."""


def earliest(entries: tuple[Entry, ...]) -> datetime:
    """The first instant that the journal tells of. Raises ValueError when it is empty."""
    if not entries:
        raise ValueError("an empty journal has no first instant")
    return min(entry.at for entry in entries)


__all__ = [
    "ENTRY",
    "About",
    "Advised",
    "Agreed",
    "Alerted",
    "AllWell",
    "Answered",
    "Asked",
    "Capped",
    "CaseClosed",
    "CaseHandedBack",
    "CaseRung",
    "CaseTaken",
    "Constructed",
    "CrackSeen",
    "DaysSaid",
    "Described",
    "DoorMoved",
    "Entry",
    "Finished",
    "FireDied",
    "FireLit",
    "FiringEnded",
    "Forbidden",
    "Foretold",
    "HazardClosed",
    "HazardSeen",
    "Held",
    "Hushed",
    "Joined",
    "Jotted",
    "Learnt",
    "Left",
    "LimitsSet",
    "LookedAfter",
    "Measured",
    "Model",
    "Modelled",
    "Moved",
    "Noted",
    "Nudged",
    "Opened",
    "Order",
    "OwnLimits",
    "Promised",
    "PromisedFiring",
    "Reached",
    "Released",
    "Reopened",
    "Repaired",
    "RepeatOrdered",
    "RestrictionSaid",
    "Seen",
    "Settled",
    "Silent",
    "TakenBack",
    "TalkClosed",
    "TalkOpened",
    "TalkSaid",
    "Taught",
    "Undone",
    "Unheard",
    "WeatherTold",
    "WoodPutOn",
    "Worded",
    "Written",
    "earliest",
]
