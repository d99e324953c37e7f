"""Meanings before a fire is lit."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime

from scheduling.firing.aim import Aim
from scheduling.meaning.base import Said
from scheduling.oven.stands import Stands


class Eve(Said):
    """The evening before: tomorrow's aim and wood, and the checklist.

    The checklist is always told: neighbours, local fire restrictions asked for, gloves, rake,
    water, door, dry wood stored away from the mouth. ``ask``: are you still on for tomorrow?
    """

    kind: Literal["eve"] = "eve"
    aim: Aim
    day: date
    start: AwareDatetime
    proposal: str
    """A yes keeps the day; a no asks for another."""
    poor: float = 0.0
    reasons: tuple[tuple[str, float], ...] = ()
    """``judging.ReasonKind`` and its amount."""
    first: bool = False
    own: tuple[str, ...] = ()
    """What the builder wants seen to besides."""
    read: bool = True
    """There is a thermometer to have at hand."""
    stands: Stands | None = None


class StillOn(Said):
    """The day was confirmed."""

    kind: Literal["still_on"] = "still_on"
    aim: Aim
    day: date
    start: AwareDatetime


class MorningAsk(Said):
    """The morning of a firing: ask for the starting reading. ``expected_c`` is where it should
    lie. Without a thermometer nothing is asked and ``HowToLay`` follows at once."""

    kind: Literal["morning_ask"] = "morning_ask"
    aim: Aim
    expected_c: tuple[float, float] | None = None
    restrictions: bool = True
    """Remind to look for local fire restrictions."""


class HowToLay(Said):
    """How to lay and light this fire, with the cautions; ends by asking to be told when it is
    lit. ``start_c`` is the reading it starts from."""

    kind: Literal["how_to_lay"] = "how_to_lay"
    aim: Aim
    start_c: float | None = None
    changed_from_c: float | None = None
    """The aim promised earlier, where the morning changed it."""
    stands: Stands | None = None
    flue: bool | None = None
    wind_ms: float | None = None
    own: tuple[str, ...] = ()
    """Cautions of the builder's own, told after ours."""


class NotToday(Said):
    """No fire today: why. ``reasons`` as in ``Eve``; ``next_day`` is when instead."""

    kind: Literal["not_today"] = "not_today"
    why: Literal[
        "cure", "held", "weather", "restricted", "forbidden", "soaked", "trouble", "away", "warm",
        "mortar",
        "indoors",
    ]  # fmt: skip
    reasons: tuple[tuple[str, float], ...] = ()
    next_day: date | None = None


class LitTooEarly(Said):
    """A fire was lit before it may be: add nothing, let it die, door off, do not rake or drench
    it. ``why`` as in ``NotToday``; ``ready_on`` for the cure. The builder is told."""

    kind: Literal["lit_too_early"] = "lit_too_early"
    why: Literal[
        "cure", "held", "weather", "restricted", "forbidden", "soaked", "trouble", "away", "warm",
        "mortar",
        "set_up",
    ]  # fmt: skip
    ready_on: date | None = None
    builder_told: bool = False


class StillWaiting(Said):
    """A firing day is running on and no fire is lit: still on? After ``latest`` it is too late
    today."""

    kind: Literal["still_waiting"] = "still_waiting"
    aim: Aim
    latest: AwareDatetime
