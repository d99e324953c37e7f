"""What can happen to an oven. Everything that changes a record comes in as one of these."""

from dataclasses import dataclass
from datetime import datetime

from scheduling.alarm import AlarmName
from scheduling.breakin.weather import Forecast
from scheduling.choice import About, Choice
from scheduling.hazard import Hazard
from scheduling.journal import Constructed, Learnt, LimitsSet, Worded
from scheduling.remark import Doubt, Remark


@dataclass(frozen=True, slots=True)
class WaysTaken:
    """An oven takes over its builder's own ways, at its beginning or by its builder's choice.

    Each part is None or empty where nothing of it is new. ``kept_gentler``: some limit of the
    oven's own is gentler, and stays.
    """

    person: str
    limits: LimitsSet | None = None
    worded: Worded | None = None
    constructed: tuple[Constructed, ...] = ()
    kept_gentler: bool = False
    learnt: tuple[Learnt, ...] = ()
    """What the builder's finished ovens teach, model by model; of no ovens where it is not to."""


@dataclass(frozen=True, slots=True)
class Begun:
    """An oven enters the book: its journal is still empty.

    ``given`` are set-up answers that the builder's invitation brings along, in the notation of
    ``About``: those questions are skipped. ``given_by`` is who filled them in, ``model`` the title
    of the builder's model that it is of. ``constructed`` are layers of the builder's own.
    """

    person: str
    name: str = ""
    builder: str | None = None
    builder_name: str = ""
    given: tuple[tuple[About, str], ...] = ()
    given_by: str = ""
    model: str = ""
    constructed: Constructed | None = None
    limits: LimitsSet | None = None
    ways: WaysTaken | None = None
    """The builder's own ways as they stand when the oven begins."""


@dataclass(frozen=True, slots=True)
class Spoke:
    """A person wrote (or dictated, or sent a photo with a caption).

    ``sent_at`` is when they sent it, which a poor connection may make much earlier than now.
    ``amends`` is the key of an earlier message that this one is an edited version of.
    """

    person: str
    text: str
    remarks: tuple[Remark, ...]
    doubt: Doubt | None = None
    unheard: str = ""
    likely: tuple[Hazard, ...] = ()
    photo: str | None = None
    sent_at: datetime | None = None
    key: str | None = None
    amends: str | None = None


@dataclass(frozen=True, slots=True)
class WentUnheard:
    """A person's message was kept but could not be worked on, by a fault of ours."""

    person: str
    key: str | None = None


@dataclass(frozen=True, slots=True)
class Chose:
    """A person pressed a button, gave a command or answered a question of the set-up.

    ``shown_at`` is when the letter with the button was written; None where none was pressed.
    """

    person: str
    choice: Choice
    key: str | None = None
    shown_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Came:
    """An alarm came due. ``due`` may lie well before now after a restart."""

    name: AlarmName
    due: datetime


@dataclass(frozen=True, slots=True)
class Forecasted:
    """A new forecast for the oven's place."""

    forecast: Forecast


CAME_BACK = "came_back"
"""``why`` of a Delivery to somebody who let us in again, and said nothing more."""


HEARD = "heard"
"""``why`` of a person being reached who wrote by themselves."""


@dataclass(frozen=True, slots=True)
class Delivery:
    """What became of messages to a person: they blocked us, or came back, or it is unknown."""

    person: str
    reached: bool
    why: str = ""


Happening = Begun | WaysTaken | Spoke | WentUnheard | Chose | Came | Forecasted | Delivery
