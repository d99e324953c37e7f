"""What a person's message means, piece by piece.

``bot.understanding`` turns text, a pressed button, a photo or a location into a tuple of
remarks; the core never sees the words. Temperatures are in °C whatever was typed, instants
are timezone-aware. A remark is only made for what was clearly said: a doubtful number
becomes a question back to its sender, never a ``Reading``.
"""

from datetime import date, datetime
from enum import StrEnum
from typing import Annotated, Any, Literal

from pydantic import AwareDatetime, BaseModel, BeforeValidator, ConfigDict, Field

from scheduling.hazard import Hazard


class _Remark(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


class Reading(_Remark):
    """Surface temperatures in °C as the instrument showed them, uncorrected."""

    kind: Literal["reading"] = "reading"
    top_c: float | None = None
    sides_c: tuple[float, ...] = ()
    hearth_c: float | None = None
    approximate: bool = False
    at: AwareDatetime | None = None
    """When it was read, where the message says so ("152 ten minutes ago")."""
    unit_named: bool = False
    """Whether the message itself names °C or °F; otherwise the sender's own unit was taken."""
    taken_in: Literal["C", "F"] | None = None
    """The unit that the number was taken in, where that is known."""


class Lit(_Remark):
    """The fire has been lit, at ``at`` if that was said."""

    kind: Literal["lit"] = "lit"
    at: AwareDatetime | None = None


class NotLit(_Remark):
    """No fire has been lit (yet)."""

    kind: Literal["not_lit"] = "not_lit"


class Stoked(_Remark):
    """Wood was put on: ``pieces`` of it, at ``at``, as far as they were said."""

    kind: Literal["stoked"] = "stoked"
    at: AwareDatetime | None = None
    pieces: int | None = None


class FireOut(_Remark):
    """The fire has died, or was put out."""

    kind: Literal["fire_out"] = "fire_out"
    at: AwareDatetime | None = None


class DoorOn(_Remark):
    """The door now stands in the mouth."""

    kind: Literal["door_on"] = "door_on"


class DoorOff(_Remark):
    """The door is off."""

    kind: Literal["door_off"] = "door_off"


class Sky(StrEnum):
    """Kinds of weather that matter to a fire or a wet wall."""

    RAIN = "rain"
    SOAKED = "soaked"  # the oven itself got wet through
    WIND = "wind"
    GALE = "gale"
    FROST = "frost"
    SNOW = "snow"
    HEAT = "heat"
    DRY = "dry"


class WeatherSaid(_Remark):
    """Weather as the owner tells it. ``when`` is ``"now"`` or an ISO date."""

    kind: Literal["weather"] = "weather"
    what: Sky
    when: date | Literal["now"] = "now"
    wind_ms: float | None = None


class Unavailable(_Remark):
    """Days, both inclusive, on which nobody can tend a fire."""

    kind: Literal["unavailable"] = "unavailable"
    first: date = Field(alias="from")
    last: date = Field(alias="to")
    before_hour: float | None = None
    """Set for "only evenings": the days are free from this local hour on."""
    after_hour: float | None = None
    """Set for "only mornings": the days are free until this local hour."""


class Available(_Remark):
    """A day that is free for firing after all, or wanted ("let's do tomorrow instead")."""

    kind: Literal["available"] = "available"
    first: date | None = Field(default=None, alias="from")
    last: date | None = Field(default=None, alias="to")


class FireBan(_Remark):
    """A local fire restriction holds on these days, both inclusive; or is ``over`` from the first
    of them on."""

    kind: Literal["fire_ban"] = "fire_ban"
    first: date = Field(alias="from")
    last: date = Field(alias="to")
    over: bool = False


class CrackSize(StrEnum):
    """How an owner describes a crack."""

    HAIRLINE = "hairline"
    OPEN = "open"  # a coin or a fingernail goes in, or it is growing
    UNSAID = "unsaid"


class Crack(_Remark):
    """A crack was seen."""

    kind: Literal["crack"] = "crack"
    size: CrackSize = CrackSize.UNSAID


class Sign(_Remark):
    """Something seen, heard or felt that needs no number."""

    kind: Literal[
        "steam",
        "damp",
        "smoke",
        "soot_clear",
        "too_big",
        "back",
        "wood_out",
        "only_embers",
        "soot_black",
        "no_thermometer",
        "yes",
        "no",
        "stop_nudges",
        "greeting",
        "thanks",
        "undo",
    ]


class Leaving(_Remark):
    """Whoever tends the fire leaves it, for ``minutes`` where that was said."""

    kind: Literal["leaving"] = "leaving"
    minutes: float | None = None


class HazardSaid(_Remark):
    """Somebody tells of a danger."""

    kind: Literal["hazard"] = "hazard"
    hazard: Hazard


class Looked(_Remark):
    """Somebody has looked at what was told of, and says how it is.

    ``hazard`` is None where the words do not name it, ``sound`` where they do not say how it is.
    ``since`` is when the one that a button speaks of was told: a button of an older one closes
    nothing.
    """

    kind: Literal["looked"] = "looked"
    hazard: Hazard | None = None
    sound: bool | None
    since: AwareDatetime | None = None


class Misheard(_Remark):
    """A danger was read into words that told of none."""

    kind: Literal["misheard"] = "misheard"
    hazard: Hazard
    since: AwareDatetime


class AllWell(_Remark):
    """Nothing is wrong: the answer to a question about words that nobody understood, said at
    ``since`` where a button asks about them."""

    kind: Literal["all_well"] = "all_well"
    since: AwareDatetime | None = None


class SomethingWrong(_Remark):
    """Something is wrong: the other answer to it."""

    kind: Literal["something_wrong"] = "something_wrong"


class Later(_Remark):
    """Ask again in ``minutes`` (none: whenever suits the fire)."""

    kind: Literal["later"] = "later"
    minutes: float | None = None


class Topic(StrEnum):
    """What owners ask about."""

    FIRE_SIZE = "fire_size"
    CRACK = "crack"
    COOKING = "cooking"
    LEAVING = "leaving"
    WHY_SLOW = "why_slow"
    SKIP_DAY = "skip_day"
    WOOD = "wood"
    SMOKE = "smoke"
    DOOR = "door"
    NEXT = "next"  # what now, when is the next fire
    PLAN = "plan"
    READING = "reading"  # how and where to read
    LIGHTING = "lighting"
    WEATHER = "weather"
    STEAM = "steam"
    RESTRICTIONS = "restrictions"
    PUT_OUT = "put_out"
    OTHER = "other"


class Question(_Remark):
    """A question, with its topic."""

    kind: Literal["question"] = "question"
    topic: Topic


def _as_written_now(said: Any) -> Any:
    """Buttons sent before dangers had a remark of their own still stand in somebody's chat."""
    if isinstance(said, dict) and said.get("kind") in ("unwell", "popping", "flue_flames"):
        return {"kind": "hazard", "hazard": said["kind"]}
    return said


Remark = Annotated[
    Reading
    | Lit
    | NotLit
    | Stoked
    | FireOut
    | DoorOn
    | DoorOff
    | WeatherSaid
    | Unavailable
    | Available
    | FireBan
    | Crack
    | Sign
    | Leaving
    | HazardSaid
    | Looked
    | Misheard
    | AllWell
    | SomethingWrong
    | Later
    | Question,
    Field(discriminator="kind"),
    BeforeValidator(_as_written_now),
]


class Understood(BaseModel):
    """All that one message means.

    Exactly one of the two is of use: ``meanings`` where the message was clear, ``ask`` (with
    the likely meanings in ``choices``) where it was not. A message may carry clear meanings
    and a doubtful rest: then both are set, and the rest is asked about.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    meanings: tuple[Remark, ...] = ()
    doubt: "Doubt | None" = None
    unheard: str = ""
    """Words that nobody has claimed, to be quoted back: beside a fire they hold the wood."""
    likely: tuple[Hazard, ...] = ()
    """What those words most likely tell of, to be offered by name."""
    hinted: bool = False
    """A danger was named in a question or a supposition: it is asked about beside a fire."""


class Doubt(BaseModel):
    """What could not be told for sure: why, and what it may have meant."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    why: Literal[
        "which_unit", "which_number", "out_of_range", "which_place", "unclear", "which_day"
    ]
    choices: tuple[Remark, ...] = ()
    heard: str = ""
    """The doubtful words themselves, to be quoted back."""


class Expectation(StrEnum):
    """What the last question to this person asked for: a bare "152" or "yes" leans on it."""

    NOTHING = "nothing"
    READING = "reading"
    YES_NO = "yes-no"
    LIT = "lit"
    STOKED = "stoked"
    DAY = "day"
    DOOR = "door"


class Setting(BaseModel):
    """What surrounds a message: needed to read "152", "ten mins ago" or "Saturday"."""

    model_config = ConfigDict(frozen=True)

    unit: Literal["C", "F"]
    now: datetime
    """The local wall-clock instant of the oven, timezone-aware with its own zone."""
    expect: Expectation = Expectation.NOTHING
    last_top_c: float | None = None
    """The last believed crown temperature, to tell "1 60" from two readings."""
    cold: bool = False
    """No fire burns, so that a small number is a cold dome."""
    judged: bool = False
    """Its numbers are judged afterwards with the oven's record at hand, which knows better than
    the last one alone whether the unit is another."""
    instrument_max_c: float | None = None
    open_hazards: tuple[Hazard, ...] = ()
    """What stands open, so that "I have looked at it, it is fine" can be of it."""
