"""What follows from a happening: the whole of it, to be stored in one unit of work."""

from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING, Literal

from scheduling.alarm import Alarm, AlarmName
from scheduling.journal import Entry
from scheduling.meaning import Meaning

if TYPE_CHECKING:
    from scheduling.oven.belief import Belief

Recipient = str
"""A person's id, one of the two groups below, or a ``team``."""

TENDERS: Literal["tenders"] = "tenders"
"""Everybody who tends this oven's fire: the owner and a second person."""

FIRE_THREAD: Literal["fire"] = "fire"
"""The thread of what to do at the fire. A danger replaces it too: nobody who was told to let the
fire die may afterwards be handed an older word to put wood on."""

BUILDER: Literal["builder"] = "builder"
"""The builder's team that looks after this oven; nobody, for an owner alone."""


TEAM_PREFIX: Literal["team:"] = "team:"


def team(builder_id: str) -> Recipient:
    """That builder's team, whoever looks after the oven now."""
    return TEAM_PREFIX + builder_id


class Urgency(StrEnum):
    """How a message behaves on its way.

    DANGER passes quiet hours, overtakes whatever is on its way, and takes the place of what was
    to be done at the fire; FIRE belongs to a burning fire and passes quiet hours; ANSWER replies
    to somebody awake; CALM waits for quiet hours to end. How soon each is tried again is in
    ``patience``.
    """

    DANGER = "danger"
    FIRE = "fire"
    ANSWER = "answer"
    CALM = "calm"


@dataclass(frozen=True, slots=True)
class Message:
    """A meaning on its way to somebody.

    ``replaces`` names a thread of messages of which only the newest unsent one counts (a stale
    nudge is cancelled by the next). ``slot`` names a message that is edited in place when it is
    sent again (the status of a firing). After ``expires`` it is not worth sending.

    Of a group only ``first`` are told, where any of them still belongs to it; never ``but``.
    ``gathers``: many of these at once to one reader become one message. ``amends``: said in place
    of the message of that slot, and only to those who have it.
    """

    to: Recipient
    meaning: Meaning
    urgency: Urgency = Urgency.ANSWER
    replaces: str | None = None
    slot: str | None = None
    expires: datetime | None = None
    first: tuple[str, ...] = ()
    but: tuple[str, ...] = ()
    gathers: bool = False
    amends: bool = False


@dataclass(frozen=True, slots=True)
class Outcome:
    """Journal entries to append, messages to send, alarms to set (or move) and to drop.

    ``belief`` is the ensemble carried to this moment: a cache, worth keeping, never the truth.
    """

    entries: tuple[Entry, ...] = ()
    messages: tuple[Message, ...] = ()
    set_alarms: tuple[Alarm, ...] = ()
    drop_alarms: tuple[AlarmName, ...] = ()
    belief: "Belief | None" = field(default=None, compare=False)

    def __add__(self, later: "Outcome") -> "Outcome":
        """This and then ``later``: of two orders about one alarm the later holds."""
        touched = {alarm.name for alarm in later.set_alarms} | set(later.drop_alarms)
        set_again = {alarm.name for alarm in later.set_alarms}
        return Outcome(
            self.entries + later.entries,
            self.messages + later.messages,
            tuple(a for a in self.set_alarms if a.name not in touched) + later.set_alarms,
            tuple(n for n in self.drop_alarms if n not in set_again) + later.drop_alarms,
            later.belief if later.belief is not None else self.belief,
        )
