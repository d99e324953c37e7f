"""What a pressed button, or a command, stands for."""

from datetime import date
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from scheduling.about import About as About
from scheduling.remark import Remark


class _Choice(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Saying(_Choice):
    """The button says what could as well have been typed."""

    kind: Literal["saying"] = "saying"
    remarks: tuple[Remark, ...]


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
    STATISTICS = "statistics"  # what a builder's ovens add up to
    WEEK = "week"  # the fires of all of a builder's clients
    IMPORT = "import"  # a builder's clients from a file, and into one
    EXPORT = "export"
    WAYS = "ways"  # a builder's own limits, words and constructions
    INVITE = "invite"  # a builder a client, an owner a second person
    SECOND = "second"  # an owner a second person
    INVITATIONS = "invitations"  # those that are open
    TEAM = "team"  # a builder's own
    LEAVE = "leave"
    ERASE = "erase"


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
    TAKE_BACK = "take_back"  # value: number of the entry; or field: what it was ordered together by
    CLOSE = "close"  # a trouble was looked at: field names it


class Ordering(_Choice):
    """A builder's order. ``confirmed``: in so many words, where it is less gentle.

    The edge has made sure that this person may order for this oven, and fills in ``by``: what the
    team calls them. ``together`` is the same in all orders that one word gave to many ovens.
    """

    kind: Literal["order"] = "order"
    name: OrderName
    value: float | None = None
    field: str = ""
    first: date | None = None
    last: date | None = None
    why: str = ""
    confirmed: bool = False
    by: str = ""
    together: str = ""


class OrderingFor(_Choice):
    """An order for these ovens and no others: for the one that was asked about, or for many at
    once, whose entries then have ``together`` in common. ``undoes`` is what it takes back."""

    kind: Literal["order_for"] = "order_for"
    order: Ordering
    ovens: tuple[str, ...]
    together: str = ""
    undoes: Ordering | None = None


class Applying(_Choice):
    """A version of a builder's own ways is applied to the clients that are not done yet, or left
    to new ones."""

    kind: Literal["applying"] = "applying"
    version: int
    running: bool = True


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


class Keep(StrEnum):
    """What a builder may keep and see of an oven after the end."""

    NAMED = "named"  # the whole record, with names, words and photos
    NAMELESS = "nameless"  # its figures, without the person
    NOTHING = "nothing"


class Tending(_Choice):
    """A person tends this oven's fire from now on, or no longer does; the last to leave may say
    what the builder keeps."""

    kind: Literal["tending"] = "tending"
    person: str
    joined: bool = True
    keeps: Keep | None = None


class Agreeing(_Choice):
    """The owner's word on what their builder may keep and see after the end."""

    kind: Literal["agreeing"] = "agreeing"
    keeps: Keep


class LookingAfter(_Choice):
    """Another builder looks after this oven from now on (of that ``name``); None for nobody."""

    kind: Literal["looking_after"] = "looking_after"
    builder: str | None
    name: str = ""


class Inviting(_Choice):
    """An invitation is wanted: for a client, a second person (at ``oven``), a team member."""

    kind: Literal["inviting"] = "inviting"
    opens: Literal["oven", "second", "member"]
    oven: str | None = None


class Revoking(_Choice):
    """An open invitation is to open nothing any more."""

    kind: Literal["revoking"] = "revoking"
    invitation: str


class Accepting(_Choice):
    """What to do with an invitation of a builder: ``move`` the oven at hand to them, begin a
    ``new`` oven, or ``no``."""

    kind: Literal["accepting"] = "accepting"
    invitation: str
    how: Literal["move", "new", "no"]
    oven: str | None = None


class Leaving(_Choice):
    """Leave an oven, or a builder's team, by its id, or stay; the last who tends an oven says
    with it what the builder keeps."""

    kind: Literal["leaving"] = "leaving"
    what: Literal["oven", "team"]
    which: str
    keeps: Keep | None = None
    yes: bool = True


class Admitting(_Choice):
    """Let somebody who came with a team's code into the team, or do not."""

    kind: Literal["admitting"] = "admitting"
    person: str
    yes: bool = True


class PuttingOut(_Choice):
    """Put a member out of the team: asked back (``yes`` None), done, or not."""

    kind: Literal["putting_out"] = "putting_out"
    person: str
    yes: bool | None = None


class Erasing(_Choice):
    """Erase all that is known of me, in so many words; or do not."""

    kind: Literal["erasing"] = "erasing"
    yes: bool


Matter = Inviting | Revoking | Accepting | Leaving | Admitting | PuttingOut | Erasing
"""Matters of people, which the conversation settles: no oven hears of them as such."""


class Opening(_Choice):
    """A builder opens one client's card; ``part`` shows more of it. Without ``oven`` it is the one
    that the message was about; ``about`` is the need that it told of, with the owner's ``words``
    and ``photos``."""

    kind: Literal["opening"] = "opening"
    oven: str = ""
    part: Literal["card", "plan", "picture", "journal", "orders"] = "card"
    about: str = ""
    words: str = ""
    photos: tuple[str, ...] = ()


ClientGroup = Literal[
    "all", "needs", "firing", "planned", "held", "curing", "set_up", "done", "mine", "invited"
]
"""How clients stand, for a list of them."""


class Listing(_Choice):
    """A builder's list of clients: of one ``group``, found by ``text``, with one of ``needs`` open,
    whose next fire is on ``day``, in a ``place``; pages count from 0."""

    kind: Literal["listing"] = "listing"
    group: ClientGroup = "all"
    text: str = ""
    needs: tuple[str, ...] = ()
    day: date | None = None
    place: str = ""
    page: int = 0


class Boarding(_Choice):
    """A picture of all fires that burn now."""

    kind: Literal["boarding"] = "boarding"


class Casing(_Choice):
    """Take a case (from another: take it over), hand it back or close it. ``name`` is filled in at
    the edge."""

    kind: Literal["casing"] = "casing"
    what: Literal["take", "take_over", "hand_back", "close"]
    name: str = ""
    why: str = ""


class Jotting(_Choice):
    """A builder's note; never shown to the owner unless ``shown``."""

    kind: Literal["jotting"] = "jotting"
    text: str
    name: str = ""
    shown: bool = False


class Talking(_Choice):
    """A builder speaks with the owner: begins (no ``text``), says something, or ends it."""

    kind: Literal["talking"] = "talking"
    what: Literal["open", "say", "close"]
    text: str = ""
    photo: str | None = None
    name: str = ""


class Preparing(_Choice):
    """A builder looks at the make-up of an ``oven``, or of the one that an ``invitation`` is for:
    all of it, its question ``about``, or the builder's own models to take it from."""

    kind: Literal["preparing"] = "preparing"
    oven: str = ""
    invitation: str = ""
    about: About | None = None
    models: bool = False


class Filling(_Choice):
    """A builder fills in what they know of an oven they built, or of one that an ``invitation`` is
    for; ``model`` is the title of the model of theirs that it is of. ``by`` is filled in at the
    edge."""

    kind: Literal["filling"] = "filling"
    answers: tuple[tuple[About, str], ...] = ()
    model: str = ""
    oven: str = ""
    invitation: str = ""
    by: str = ""


class Renewing(_Choice):
    """An open invitation gets another code, to be passed on; the one before opens nothing."""

    kind: Literal["renewing"] = "renewing"
    invitation: str


class Importing(_Choice):
    """A file of clients, shown as a dry run, is meant: invite all of it that has no fault."""

    kind: Literal["importing"] = "importing"
    text: str


class Introducing(_Choice):
    """One of a builder's people says who or where they are; no ``value``: it stays as it is.
    ``first``: in their first meeting, so that the next question follows."""

    kind: Literal["introducing"] = "introducing"
    what: Literal["team_name", "own_name", "town"]
    value: str = ""
    first: bool = False


class Calendaring(_Choice):
    """The week that begins on ``first`` (today, without one), or something about the calendar of
    all fires: its ``file``, a new ``address`` for it, or none any more (``revoke``)."""

    kind: Literal["calendaring"] = "calendaring"
    what: Literal["week", "file", "address", "revoke"] = "week"
    first: date | None = None


Choice = Annotated[
    Saying
    | SetUpAnswer
    | Confirm
    | Command
    | Ordering
    | OrderingFor
    | Restricting
    | Repairing
    | Tending
    | Agreeing
    | LookingAfter
    | Inviting
    | Revoking
    | Accepting
    | Leaving
    | Admitting
    | PuttingOut
    | Erasing
    | Opening
    | Listing
    | Boarding
    | Casing
    | Jotting
    | Talking
    | Applying
    | Preparing
    | Filling
    | Renewing
    | Importing
    | Introducing
    | Calendaring,
    Field(discriminator="kind"),
]
