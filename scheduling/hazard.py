"""The registry of hazards: what each one stops, who is told, and who may close it.

Everything that treats a danger reads it from here: the order in which dangers are answered, the
gate that wood has to pass, the builder's alerts and lists, the short list of buttons, what may
close one, and the tests. A hazard is one entry below, its texts in ``bot/wording/hazards.toml``
and its words in ``bot/understanding/book/hazards/``; one of them missing fails the import.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum, StrEnum, auto


class Hazard(StrEnum):
    """What somebody may tell of, the gravest first: in this order they are answered."""

    BURNT = "burnt"  # a person or an animal, burnt or hurt in another way; clothes alight
    UNWELL = "unwell"  # anything that may be carbon monoxide
    FIRE_INDOORS = "fire_indoors"  # smoke or fire inside a building
    FIRE_SPREADING = "fire_spreading"  # something burns that is not in the oven
    CRY_FOR_HELP = "cry_for_help"
    FLUE_FLAMES = "flue_flames"
    OUT_OF_CONTROL = "out_of_control"
    ACCELERANT = "accelerant"
    COLLAPSE = "collapse"  # a hole, falling bricks, a dome that moves
    CHILD_NEAR = "child_near"
    POPPING = "popping"  # the wall sheds
    FLUE_BLOCKED = "flue_blocked"
    WATER_ON_HOT = "water_on_hot"
    GLOWING = "glowing"
    ASLEEP = "asleep"
    CRACK = "crack"  # open or growing; a hairline is none
    BAN = "ban"  # stopped by an authority
    DRUNK = "drunk"
    UNATTENDED = "unattended"
    UNNAMED = "unnamed"  # something is wrong, and nobody has said what
    CRACK_UNSAID = "crack_unsaid"  # a crack, and nobody has said yet whether it is open
    LIT_EARLY = "lit_early"  # a fire that must not be


class Stops(IntEnum):
    """How far a hazard reaches, until it is closed."""

    WOOD = auto()
    """Nothing goes on the fire."""
    FIRE = auto()
    """This fire is left to die."""
    FIRING = auto()
    """No other fire is lit either."""


class Closer(StrEnum):
    """Whose word closes a hazard."""

    OWNER = "owner"
    """Whoever is at the oven: they alone can see it. The builder may as well."""
    BUILDER = "builder"
    """The builder, after a look; an owner who has none looks for themselves."""


@dataclass(frozen=True, slots=True)
class Description:
    """All that the core knows of one hazard.

    ``people``: somebody's life comes first, so that nothing else is said in the same answer.
    ``keep_away``: until it is closed nobody is asked to do anything near the oven.
    ``at_once``: the builder's side hears of it now, not in the morning. ``ask_minutes`` is when
    whoever may close it is first asked. ``listed``: it is offered by name to somebody who says
    only that something is wrong. ``told``: people tell of it by name; the others follow from what
    they do or leave unsaid. ``asked``: it stands, asked after, until it is answered for; the others
    close with their fire. ``calls_there``: its answer has somebody be with the fire, so that it is
    not said where another hazard keeps people away. ``waits_unlit``: with no fire lit it can wait
    for the end of the builder's quiet hours.
    """

    hazard: Hazard
    stops: Stops
    closer: Closer
    people: bool = False
    keep_away: bool = False
    at_once: bool = True
    ask_minutes: float = 24 * 60.0
    listed: bool = False
    told: bool = True
    asked: bool = True
    calls_there: bool = False
    waits_unlit: bool = False


def _life(hazard: Hazard, stops: Stops, ask_minutes: float, *, listed: bool) -> Description:
    """Somebody's life may be at stake: nobody does anything near the oven until they answer."""
    return Description(
        hazard, stops, Closer.OWNER, True, True, ask_minutes=ask_minutes, listed=listed
    )


def _entries() -> tuple[Description, ...]:
    h, owner, builder = Hazard, Closer.OWNER, Closer.BUILDER
    wood, fire, firing = Stops.WOOD, Stops.FIRE, Stops.FIRING
    return (
        _life(h.BURNT, firing, 10.0, listed=True),
        _life(h.UNWELL, firing, 10.0, listed=True),
        _life(h.FIRE_INDOORS, firing, 10.0, listed=True),
        _life(h.FIRE_SPREADING, firing, 10.0, listed=True),
        _life(h.CRY_FOR_HELP, wood, 5.0, listed=False),
        Description(h.FLUE_FLAMES, firing, owner, keep_away=True, listed=True),
        Description(h.OUT_OF_CONTROL, fire, owner, keep_away=True, ask_minutes=10.0, listed=True),
        Description(h.ACCELERANT, fire, owner, keep_away=True, ask_minutes=30.0),
        Description(h.COLLAPSE, firing, builder, keep_away=True, listed=True),
        Description(h.CHILD_NEAR, wood, owner, at_once=False, ask_minutes=5.0),
        Description(h.POPPING, firing, builder, listed=True),
        Description(h.FLUE_BLOCKED, firing, owner),
        Description(h.WATER_ON_HOT, firing, builder),
        Description(h.GLOWING, firing, builder),
        Description(h.ASLEEP, wood, owner, at_once=False, ask_minutes=10.0),
        Description(h.CRACK, firing, builder, listed=True, waits_unlit=True),
        Description(h.BAN, firing, owner, at_once=False),
        Description(h.DRUNK, fire, owner, ask_minutes=30.0, calls_there=True),
        Description(h.UNATTENDED, wood, owner, ask_minutes=10.0, calls_there=True),
        Description(h.UNNAMED, wood, owner, keep_away=True, ask_minutes=5.0),
        Description(h.CRACK_UNSAID, wood, owner, at_once=False, ask_minutes=10.0, told=False),
        Description(h.LIT_EARLY, fire, owner, told=False, asked=False),
    )


HAZARDS: dict[Hazard, Description] = {one.hazard: one for one in _entries()}

if list(HAZARDS) != list(Hazard):
    raise ImportError("the registry of hazards has to hold every Hazard once, in their order")


TOLD: tuple[Hazard, ...] = tuple(one.hazard for one in HAZARDS.values() if one.told)
"""What people tell of, the gravest first."""


def gravest(hazards: Iterable[Hazard]) -> Hazard | None:
    """The one that is answered first; None of none."""
    told = frozenset(hazards)
    return next((one for one in Hazard if one in told), None)


SAFE_MINUTES = 10.0
"""So soon after a hazard that keeps people away they are asked whether they are safe."""
