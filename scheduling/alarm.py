"""When to look at an oven again.

An alarm says when, never what to say: once due, ``advance`` decides from the record of that
moment whether anything is still worth saying. An oven has at most one alarm of a name;
setting it again moves it.
"""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


class AlarmName(StrEnum):
    """The reasons to look again."""

    SET_UP = "set_up"  # a set-up left half done
    CURE = "cure"  # the mortar may be ready, or tell how long still
    DAY_BEFORE = "day_before"
    MORNING = "morning"  # of a firing day, and the reading after one
    NUDGE = "nudge"  # stoke and read
    REPEAT = "repeat"  # the nudge went unanswered
    SILENCE = "silence"  # the repeat did too
    UNATTENDED = "unattended"
    EMBERS = "embers"  # let it fall, door, good night
    DAYS = "days"  # lay the calendar anew
    ORDERED = "ordered"  # reckon with an order that was given to many ovens at once
    IDLE = "idle"  # a finished oven, long unfired
    PARTING = "parting"  # nobody said what the builder may keep
    FOLLOW_UP = "follow_up"  # a danger or a crack that nobody has closed
    CASE = "case"  # a danger that nobody of the builder's side has taken, or a long open question


@dataclass(frozen=True, slots=True)
class Alarm:
    """Look at this oven at ``due`` (UTC)."""

    name: AlarmName
    due: datetime
