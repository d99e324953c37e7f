"""Meanings while a fire burns."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime

from scheduling.firing.aim import Action, Aim, WhyGentler
from scheduling.meaning.base import FiringShown, Said
from scheduling.oven.reading import Ask, Suspicion


class LitNoted(Said):
    """The fire is lit; what to expect, and when the first reading is wanted."""

    kind: Literal["lit_noted"] = "lit_noted"
    aim: Aim
    lit_at: AwareDatetime
    next_at: AwareDatetime
    read: bool = True
    """False for an owner without a thermometer."""
    flue: bool | None = None
    """Whether it has one; None where nobody was asked."""


class Why(Said):
    """Why an action: one name and a number.

    ``climbing`` (K/h now), ``too_fast`` (K/h), ``too_slow`` (K/h), ``below_band`` (K below),
    ``in_band`` (hours held), ``above_band`` (K above), ``steam`` (share of the limit),
    ``hold_done`` (hours held), ``hot_side`` (K), ``hot_crown`` (K), ``cooling`` (K/h),
    ``wind`` (m/s), ``damp``, ``smoke``, ``flue``, ``too_big``, ``stale`` (minutes old),
    ``doubtful``, ``missing``, ``held`` (by the builder), ``trouble``, ``away``, ``session``
    (hours), ``soot`` (hours held: is it gone?), ``wood_out``,
    ``plan`` (no instrument: by time alone), ``just_fed`` and ``just_lit``
    (minutes ago), ``finishing``, ``silent``, ``crack``,
    ``lower`` (than expected: read again before wood),
    ``burnt_down`` (hardly anything burns: what goes on has to be lit),
    ``not_burning`` (what is in there has not caught: open it up, light it; with ADD a handful of
    thin sticks to light it with).
    """

    what: str
    amount: float | None = None


class Advice(Said):
    """One action after a reading, a stoking or a sign, and what to expect next.

    ``kg`` and ``pieces`` with ADD. ``minutes`` until the next reading. ``expect_c`` is the range
    in which it should lie then. ``gentler`` is set where the model and the rule of thumb
    disagreed: whose gentler advice this is.
    """

    kind: Literal["advice"] = "advice"
    action: Action
    why: Why
    top_c: float | None = None
    aim: Aim
    minutes: float | None = None
    next_at: AwareDatetime | None = None
    kg: float | None = None
    pieces: int | None = None
    piece_mm: float | None = None
    expect_c: tuple[float, float] | None = None
    held_h: float = 0.0
    plateau_at: AwareDatetime | None = None
    gentler: WhyGentler | None = None
    look: bool = False
    """Nobody has looked yet whether the last fire has burnt the soot off."""
    late: bool = False
    """The answer came after the silence had been told to others: welcome, and used."""


class Nudge(Said):
    """Time to read, and perhaps to stoke. A nudge that fell into a downtime says how late it is.

    With a thermometer nothing is put on before the reading is answered: ``ready_kg`` in
    ``ready_pieces`` is only to be had ready; ``side`` asks for the coldest side too. Without
    one (``read`` False) ``kg`` in ``pieces`` of ``piece_mm`` goes on now, or nothing where ``kg``
    is None; signs are asked for instead.
    """

    kind: Literal["nudge"] = "nudge"
    aim: Aim
    read: bool = True
    ready_kg: float | None = None
    ready_pieces: int | None = None
    kg: float | None = None
    pieces: int | None = None
    piece_mm: float | None = None
    expect_c: tuple[float, float] | None = None
    side: bool = False
    repeat: bool = False
    late_minutes: float = 0.0


class FiringStatus(Said):
    """The one status message of a firing: edited in place, pinned."""

    kind: Literal["firing_status"] = "firing_status"
    shown: FiringShown
    action: Action | None = None
    next_at: AwareDatetime | None = None


class Doubtful(Said):
    """A reading that is not believed: what speaks against it and what to do. Nothing is ever
    added on it. ``at_least``: it may stand for something hotter; let the fire fall meanwhile.
    ``at`` is when it was read, which no later answer about it changes."""

    kind: Literal["doubtful"] = "doubtful"
    suspicion: Suspicion
    ask: Ask
    spot: str | None = None
    shown_c: float | None = None
    at: AwareDatetime | None = None
    likely_c: float | None = None
    possible_c: tuple[float, float] | None = None
    at_least: bool = False
    lit: bool = True
    minutes: float | None = None


class StokeNoted(Said):
    """Wood put on is noted. ``unasked``: it was not advised just now (and may be too much:
    ``too_much``); the next reading is at ``next_at``."""

    kind: Literal["stoke_noted"] = "stoke_noted"
    pieces: int | None = None
    unasked: bool = False
    too_much: bool = False
    next_at: AwareDatetime | None = None
    read: bool = True


class Unattended(Said):
    """Said to whoever tends the fire when nobody has answered for long: the fire counts as
    unattended, a message at any time is welcome, add nothing before reading (or, where nobody
    can ``read``, before telling what is to be seen)."""

    kind: Literal["unattended"] = "unattended"
    minutes: float
    read: bool = True


class WelcomeBack(Said):
    """Somebody answered after a silence or came back: read first, add nothing yet."""

    kind: Literal["welcome_back"] = "welcome_back"
    away_minutes: float | None = None
    read: bool = True


class LeavingFire(Said):
    """Somebody leaves the fire: for a moment (``short``), what to see to first; for longer, never
    with flames: spread, door as told, when safe. ``back_at`` is when they are looked for.
    ``second``: somebody else tends it too, and has been told."""

    kind: Literal["leaving_fire"] = "leaving_fire"
    lit: bool
    short: bool = False
    back_at: AwareDatetime | None = None
    second: bool = False


class BackAsked(Said):
    """Who left the fire is looked for: are they back? Nothing else is asked of them."""

    kind: Literal["back_asked"] = "back_asked"
    repeat: bool = False


class FiringDone(Said):
    """What was reached, with the picture; the door; tomorrow's aim, why it changed.

    ``why`` as in ``FiringEnded``. ``change``: ``as_planned``, ``short`` (fell short, so less of
    a step), ``hot`` (went above), ``unattended``, ``weather``, ``steam``, ``repeat``,
    ``doubt``, ``done`` (the last one). ``embers``: spread them over the floor (last firing).
    """

    kind: Literal["firing_done"] = "firing_done"
    shown: FiringShown
    why: Literal["held", "stopped", "short", "unattended", "weather", "time", "too_early"]
    door_on: bool = False
    next_aim: Aim | None = None
    next_day: date | None = None
    change: str = "as_planned"
    water_left_l: tuple[float, float] | None = None
    """Low and high of what the wall may still hold."""
    embers: bool = False
    soot_clear: bool | None = None
    """On the last firing: whether somebody has seen the bare wall; None asks."""
    own: tuple[str, ...] = ()
    """What the builder wants seen to after a fire."""


class DoorNoted(Said):
    """The door is on or off. ``early``: flames or thick embers may still be in, take it off."""

    kind: Literal["door_noted"] = "door_noted"
    on: bool
    early: bool = False


class MorningAfterAsk(Said):
    """The morning after a firing: a reading with no fire, which tells much."""

    kind: Literal["morning_after_ask"] = "morning_after_ask"
    expected_c: tuple[float, float] | None = None


class MorningNoted(Said):
    """That reading and what follows: the next aim, changed or not (``change`` as above)."""

    kind: Literal["morning_noted"] = "morning_noted"
    top_c: float
    next_aim: Aim | None = None
    next_day: date | None = None
    before_c: float | None = None
    """The next aim as it was before this reading."""
    change: str = "as_planned"


class ReadingKept(Said):
    """A believed reading with no fire burning and no firing due: noted, used."""

    kind: Literal["reading_kept"] = "reading_kept"
    top_c: float | None = None


class UnitSetRight(Said):
    """So many numbers of this fire were in the other unit than they were taken in; they count as
    they were meant now."""

    kind: Literal["unit_set_right"] = "unit_set_right"
    readings: int


class StoppedForNow(Said):
    """So many fires in a row ended short of their time, or so many fire ``days`` went by without
    a fire: no more days are laid until the owner says to go on (yes to ``proposal``)."""

    kind: Literal["stopped_for_now"] = "stopped_for_now"
    firings: int = 0
    days: int = 0
    attended: bool = False
    """Somebody was with those fires: it was not for want of answers."""
    proposal: str


class BreakInDone(Said):
    """Done: what may be cooked now, how to treat the oven, when to come back, the record."""

    kind: Literal["break_in_done"] = "break_in_done"
    firings: int
    days: int
    peak_c: float | None = None
    soot_clear: bool = True


class IdleAsked(Said):
    """A finished oven has not been fired for ``days``, or was soaked or repaired: before real
    fires it wants ``firings`` gentle ones, first on ``first``."""

    kind: Literal["idle_asked"] = "idle_asked"
    days: int
    why: Literal["idle", "soaked", "repaired"] = "idle"
    firings: int = 1
    first: date | None = None
