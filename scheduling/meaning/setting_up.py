"""Meanings of the first meeting."""

from datetime import date
from typing import Literal

from scheduling.choice import About
from scheduling.meaning.base import PlanLine, Said


class Option(Said):
    """A button of a set-up question. ``title`` and ``told`` are data of a preset."""

    value: str
    title: str | None = None
    told: str | None = None


class Welcome(Said):
    """First words, said once, before the first question. ``builder``: somebody watches over it,
    ``by`` that name, where it is known."""

    kind: Literal["welcome"] = "welcome"
    name: str = ""
    builder: bool = False
    by: str = ""
    to_ask: int = 0
    """How many questions are to come."""
    own: str = ""
    """The builder's own greeting, said beside ours."""
    given: tuple[tuple[About, str], ...] = ()
    """What the builder has filled in already."""


class SetUpQuestion(Said):
    """One question, ``step`` of ``steps``; ``known`` is the answer so far, when it is corrected.

    Free text is welcome as well as the buttons. ``reminder``: it has been left open for long.
    """

    kind: Literal["set_up_question"] = "set_up_question"
    about: About
    options: tuple[Option, ...] = ()
    step: int = 1
    steps: int = 1
    known: str | None = None
    reminder: bool = False


class SetUpRefused(Said):
    """An answer that cannot be right; the question is asked again right after.

    ``why``: ``not_understood``, ``in_future``, ``too_old``, ``out_of_range`` (with the plausible
    range in the field's own unit), ``unknown_choice``, ``no_days``, ``too_few_hours``,
    ``does_not_fit`` (``sentences`` say what).
    """

    kind: Literal["set_up_refused"] = "set_up_refused"
    about: About
    value: str
    why: Literal[
        "not_understood",
        "in_future",
        "too_old",
        "out_of_range",
        "unknown_choice",
        "no_days",
        "too_few_hours",
        "does_not_fit",
    ]
    low: float | None = None
    high: float | None = None
    sentences: tuple[str, ...] = ()


class SetUpNoted(Said):
    """An answer was corrected after the set-up; the plan is told anew if it changed."""

    kind: Literal["set_up_noted"] = "set_up_noted"
    about: About
    value: str


class SettingsShown(Said):
    """All that is known, each to be corrected with one tap."""

    kind: Literal["settings_shown"] = "settings_shown"
    answers: tuple[tuple[About, str], ...]


class InstrumentShort(Said):
    """The thermometer ends at ``max_c``, and firing ``firing`` needs ``needed_c``: said at once,
    in time to buy another. Until then no firing goes higher than it can read."""

    kind: Literal["instrument_short"] = "instrument_short"
    max_c: float
    needed_c: float
    firing: int
    needed_on: date | None = None


class NoInstrument(Said):
    """Without a thermometer the firings are smaller and more; getting one is advised."""

    kind: Literal["no_instrument"] = "no_instrument"
    firings: int


class SecondPersonAsked(Said):
    """Somebody else is to tend the fire as well: the bot makes an invitation for them."""

    kind: Literal["second_person_asked"] = "second_person_asked"


class PersonJoined(Said):
    """A second person now tends the fire; whoever answers counts."""

    kind: Literal["person_joined"] = "person_joined"
    person: str
    left: bool = False


class PlanTold(Said):
    """The plan, with a picture of it. ``why``: ``first`` after the set-up, ``asked``, or what
    changed it (``reading``, ``soaked``, ``gap``, ``order``, ``repair``, ``set_up``, ``moved``,
    ``short``, ``hot``, ``unattended``, ``idle``). ``done_by`` is the last firing's day."""

    kind: Literal["plan_told"] = "plan_told"
    lines: tuple[PlanLine, ...]
    why: str = "asked"
    ready_on: date | None = None
    """The first day on which the mortar is strong enough, while that is to come."""
    done_by: date | None = None
    preset: bool = True
    """The make-up is that of the preset, since nothing closer is known."""


class CureCountdown(Said):
    """How the mortar stands; said after the set-up, once a week, three days and one day before,
    and whenever asked. ``strength`` is the share of the 28-day strength, ``held_by`` as in
    ``maturity.Cure``; ``frost_c`` the worst frost of the first days."""

    kind: Literal["cure_countdown"] = "cure_countdown"
    ready_on: date | None
    days_left: int | None
    strength: float
    held_by: Literal["strength", "floor", "frost", "cold"]
    frost_c: float | None = None
    frost_on: date | None = None


class CureDone(Said):
    """The mortar is strong enough: the first firing is on ``first``."""

    kind: Literal["cure_done"] = "cure_done"
    first: date | None


class MortarInDoubt(Said):
    """Hard frost in the first days: somebody must look at the mortar before any fire is lit.
    No firing is planned until the builder (or the owner alone, after a look) says it is sound."""

    kind: Literal["mortar_in_doubt"] = "mortar_in_doubt"
    frost_c: float
    frost_on: date
