"""Meanings when something is wrong: said first, whatever else there is to say.

Of an oven without a flue (``flue`` is False) nobody is told to look at one.
"""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime

from scheduling.hazard import Hazard
from scheduling.meaning.base import Said
from scheduling.oven.stands import Stands
from scheduling.remark import CrackSize, Sky


class HazardTold(Said):
    """A hazard was told of: what to do first, the next steps, and nothing else.

    ``also`` were told in the same breath: of each only what to do first. ``emergency`` is the
    number of the place, None where it is not known for sure. ``from_words``: it was read out of
    somebody's words, and may have been misread.
    """

    kind: Literal["hazard_told"] = "hazard_told"
    hazard: Hazard
    also: tuple[Hazard, ...] = ()
    emergency: str | None = None
    lit: bool = False
    builder_told: bool = False
    since: AwareDatetime
    from_words: bool = False
    flue: bool | None = None


class HazardAsked(Said):
    """A hazard still stands open. ``ask``: whoever reads this may close it, and is asked how it
    is; else somebody else has to look first."""

    kind: Literal["hazard_asked"] = "hazard_asked"
    hazard: Hazard
    since: AwareDatetime
    lit: bool = False
    emergency: str | None = None
    ask: bool = False
    safe: bool = False
    """It is young: whether everybody is safe is asked before how the oven is."""
    flue: bool | None = None


class HazardStays(Said):
    """A hazard is not closed by what was just said, or there is none to close.

    ``undo``: it is looked at, not taken back. ``over``: it was, and stays in the book.
    ``not_sound``: somebody looked and it is not well. ``builder``: the builder closes it, and was
    told. ``hot``: nobody can judge it before all is cold. ``none_open``: nothing stands open.
    ``all_well``: nothing stood open, and nothing burns.
    """

    kind: Literal["hazard_stays"] = "hazard_stays"
    hazard: Hazard | None
    why: Literal["undo", "over", "not_sound", "builder", "hot", "none_open", "all_well"]
    lit: bool = False
    since: AwareDatetime | None = None
    emergency: str | None = None
    flue: bool | None = None


class HazardClosedTold(Said):
    """A hazard was closed: how are they, why the fire was stopped, and what comes before the next.

    ``lit``: the fire goes on; ``ending``: it burns down. ``misheard``: there was none."""

    kind: Literal["hazard_closed_told"] = "hazard_closed_told"
    hazard: Hazard
    lit: bool = False
    ending: bool = False
    misheard: bool = False
    others: tuple[Hazard, ...] = ()
    """What still stands open."""
    safe_since: AwareDatetime | None = None
    """Since when it is asked whether everybody is safe, before wood goes on again: a danger to
    people was misread. None where nothing is asked."""
    flue: bool | None = None


class WhichHazard(Said):
    """Somebody has looked, and several hazards stand open: which?"""

    kind: Literal["which_hazard"] = "which_hazard"
    hazards: tuple[tuple[Hazard, AwareDatetime], ...]
    flue: bool | None = None


class WhatIsWrong(Said):
    """Something is wrong: nothing goes on, and the short list of what it may be."""

    kind: Literal["what_is_wrong"] = "what_is_wrong"
    lit: bool = False
    emergency: str | None = None
    flue: bool | None = None


class NotHeard(Said):
    """Words beside a fire that nobody understood: no wood this time, is all well? ``words`` are
    quoted; empty for a message that could not be worked on at all. ``top_c`` is the number that
    was kept."""

    kind: Literal["not_heard"] = "not_heard"
    words: str
    top_c: float | None = None
    lit: bool = True
    since: AwareDatetime | None = None
    """When they were said, so that a button of older words settles none of these."""
    likely: tuple[Hazard, ...] = ()
    """What they most likely tell of, offered by name."""
    misread: bool = False
    """A danger to people was read into such words: whether everybody is safe is asked."""
    flue: bool | None = None


class MustNotBurn(Said):
    """A fire that was lit against the advice: let it die, why, and the way out of the bar.

    ``why`` as in ``barred``, or ``lit_early``; ``hazard`` where it is one that stands open.
    """

    kind: Literal["must_not_burn"] = "must_not_burn"
    why: str
    hazard: Hazard | None = None
    ready_on: date | None = None
    top_c: float | None = None
    next_at: AwareDatetime | None = None
    flue: bool | None = None


class CrackTold(Said):
    """A crack. HAIRLINE: expected, note it and watch, carry on no faster. OPEN: add nothing,
    let it fall, send a photo, wait for the builder. UNSAID: asked which it is, with nothing
    added meanwhile. ``misread_as``: what was read out of somebody's words at ``since``, and may
    have been misread; None where nothing new stands open by them."""

    kind: Literal["crack_told"] = "crack_told"
    size: CrackSize
    lit: bool
    builder_told: bool = False
    photo: bool = False
    misread_as: Hazard | None = None
    since: AwareDatetime | None = None


class SignTold(Said):
    """A sign that is answered by what to do with the fire.

    ``steam`` and ``damp``: normal and wanted in early firings, no faster; ``much`` when the
    steam share is high: add nothing. ``smoke``: drier, thinner wood, more air. ``too_big``:
    spread it, add nothing. ``wood_out``: what there is must do; let it burn down. ``soot_clear``:
    wanted in the last firing, too hot in an early one (``early``). ``soot_black``: as it should
    be before the last.
    """

    kind: Literal["sign_told"] = "sign_told"
    what: Literal["steam", "damp", "smoke", "too_big", "wood_out", "soot_clear", "soot_black"]
    lit: bool
    much: bool = False
    early: bool = False


class InstrumentMissing(Said):
    """Nobody can read the dome, though the oven is led by readings: nothing more goes on a fire
    that burns (``lit``), and how to go by the clock instead."""

    kind: Literal["instrument_missing"] = "instrument_missing"
    lit: bool


class TooHot(Said):
    """Well above the band, or above what the wet wall bears: spread the fire, add nothing."""

    kind: Literal["too_hot"] = "too_hot"
    top_c: float
    limit_c: float
    steam_share: float | None = None
    minutes: float = 10.0


class SkyNow(Said):
    """Weather during a fire. RAIN: no more wood, door when embers, cover only when cold. WIND:
    smaller, drier pieces, watch sparks. GALE: no more wood, spread, stay until it is out."""

    kind: Literal["sky_now"] = "sky_now"
    what: Sky
    lit: bool
    wind_ms: float | None = None
    covered: bool = False
    stands: Stands | None = None


class InstrumentBlind(Said):
    """The fire is at the end of what the thermometer can show: no more wood today."""

    kind: Literal["instrument_blind"] = "instrument_blind"
    max_c: float
