"""Meanings that answer, greet and undo."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime

from scheduling.firing.aim import Action, Aim
from scheduling.hazard import Hazard
from scheduling.meaning.base import FiringShown, Said
from scheduling.remark import Doubt, Topic


class NotClear(Said):
    """A message that could have meant several things is asked back."""

    kind: Literal["not_clear"] = "not_clear"
    doubt: Doubt
    lit: bool = False


class NothingHere(Said):
    """The same answer for what is not yours and for what does not exist."""

    kind: Literal["nothing_here"] = "nothing_here"


class Answer(Said):
    """An owner's question answered from the state of their own oven.

    ``phase`` as in ``scheduling.record.Phase``. ``allowed`` answers "can I" (None where it is
    no such question). The other fields are filled as far as they are known.
    """

    kind: Literal["answer"] = "answer"
    topic: Topic
    phase: str
    lit: bool
    allowed: bool | None = None
    aim: Aim | None = None
    next_day: date | None = None
    next_start: AwareDatetime | None = None
    ready_on: date | None = None
    top_c: float | None = None
    top_at: AwareDatetime | None = None
    climb_c_per_h: float | None = None
    limit_c_per_h: float | None = None
    held_h: float | None = None
    water_left_l: tuple[float, float] | None = None
    steam_share: float | None = None
    crack: str | None = None
    """Size of the worst crack told so far."""
    door_on: bool | None = None
    action: Action | None = None
    next_at: AwareDatetime | None = None
    left: int | None = None
    """Firings left."""
    flue: bool | None = None
    """Whether it has one; None where nobody was asked."""


class NowTold(Said):
    """What to do at this moment (the command), by phase, in one line."""

    kind: Literal["now_told"] = "now_told"
    phase: str
    aim: Aim | None = None
    next_day: date | None = None
    next_start: AwareDatetime | None = None
    ready_on: date | None = None
    action: Action | None = None
    kg: float | None = None
    pieces: int | None = None
    next_at: AwareDatetime | None = None
    top_c: float | None = None
    top_at: AwareDatetime | None = None
    hazard: Hazard | None = None
    flue: bool | None = None


class PictureShown(Said):
    """A picture of the present or last firing; None when there was none."""

    kind: Literal["picture_shown"] = "picture_shown"
    shown: FiringShown | None = None


class RecordShown(Said):
    """The record is made and attached."""

    kind: Literal["record_shown"] = "record_shown"
    firings: int
    form: Literal["pdf", "csv", "json"] = "pdf"


class HelpShown(Said):
    """What can be said and pressed, by phase."""

    kind: Literal["help_shown"] = "help_shown"
    phase: str
    lit: bool


class Greeted(Said):
    """A greeting or thanks, answered with a word and how things stand."""

    kind: Literal["greeted"] = "greeted"
    thanks: bool
    phase: str
    next_day: date | None = None


class UndoneTold(Said):
    """The last thing said was taken back. ``what`` is the kind of the journal's entry."""

    kind: Literal["undone_told"] = "undone_told"
    what: str
    at: AwareDatetime
    top_c: float | None = None
    pieces: int | None = None


class NothingToUndo(Said):
    """There is nothing of theirs to take back."""

    kind: Literal["nothing_to_undo"] = "nothing_to_undo"


class FireStays(Said):
    """A fire that more is known of than its lighting is not taken back: it burns, or is out."""

    kind: Literal["fire_stays"] = "fire_stays"
    lit: bool
    """Whether it is the fire that burns now; else one that has ended."""


class StaleTap(Said):
    """The button belonged to something that has passed; ``newer``: to an older message, and would
    have taken back what was said since."""

    kind: Literal["stale_tap"] = "stale_tap"
    newer: bool = False


class LaterNoted(Said):
    """The next nudge comes later, as asked, at ``next_at``; ``shortened`` as the fire allows."""

    kind: Literal["later_noted"] = "later_noted"
    next_at: AwareDatetime
    shortened: bool = False


class NudgesStopped(Said):
    """No more nudges. While a fire burns the questions of safety still come (``lit``)."""

    kind: Literal["nudges_stopped"] = "nudges_stopped"
    lit: bool


class Noted(Said):
    """Heard and written down, and nothing to do. ``what``: ``photo``, ``note``, ``not_lit``,
    ``yes``, ``no``, ``weather``, ``back``, ``to_light``."""

    kind: Literal["noted"] = "noted"
    what: str
    next_day: date | None = None


class StillAsked(Said):
    """They wrote of something else while a question waits for a yes or no. ``what``: ``eve``,
    ``days``, ``stopped``."""

    kind: Literal["still_asked"] = "still_asked"
    what: str
    proposal: str


class NotUnderstood(Said):
    """Nothing could be made of the message; what would help now, by phase."""

    kind: Literal["not_understood"] = "not_understood"
    phase: str
    lit: bool
    read: bool = True
    """There is a thermometer."""
