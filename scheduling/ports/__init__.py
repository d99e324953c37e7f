"""The doors of the core: what the engine needs from storage and from wording.

``storage`` implements the unit of work, ``bot`` the voice. Every method's docstring says what
happens in the edge case; one behaviour suite runs over all adapters.
"""

from scheduling.ports.alarms import Alarms, DueAlarm
from scheduling.ports.builders import Builder, Builders, TeamEntry, Way, Ways
from scheduling.ports.calendars import CalendarAddress, Calendars
from scheduling.ports.erasures import Erasure, Erasures
from scheduling.ports.hands import Asking, Hands, InHand
from scheduling.ports.inbox import Inbox, InboxHead, InboxRow, InboxState, SetAside
from scheduling.ports.invitations import Invitation, Invitations, Opens, digest_of
from scheduling.ports.outbox import (
    EVERYBODY,
    Attachment,
    Letter,
    Outbox,
    OutboxState,
    Parcel,
    Pressed,
    takes_the_place,
)
from scheduling.ports.ovens import (
    RANKS_IN_GROUP,
    Called,
    Conflict,
    Journaled,
    OpenedOven,
    OvenCard,
    Ovens,
    Pages,
    PromisedDay,
    Promises,
    Roster,
    RosterPage,
)
from scheduling.ports.people import People, Person
from scheduling.ports.unit_of_work import Store, UnitOfWork
from scheduling.ports.voice import Voice

__all__ = [
    "EVERYBODY",
    "RANKS_IN_GROUP",
    "Alarms",
    "Asking",
    "Attachment",
    "Builder",
    "Builders",
    "CalendarAddress",
    "Calendars",
    "Called",
    "Conflict",
    "DueAlarm",
    "Erasure",
    "Erasures",
    "Hands",
    "InHand",
    "Inbox",
    "InboxHead",
    "InboxRow",
    "InboxState",
    "Invitation",
    "Invitations",
    "Journaled",
    "Letter",
    "OpenedOven",
    "Opens",
    "Outbox",
    "OutboxState",
    "OvenCard",
    "Ovens",
    "Pages",
    "Parcel",
    "People",
    "Person",
    "Pressed",
    "PromisedDay",
    "Promises",
    "Roster",
    "RosterPage",
    "SetAside",
    "Store",
    "TeamEntry",
    "UnitOfWork",
    "Voice",
    "Way",
    "Ways",
    "digest_of",
    "takes_the_place",
]
