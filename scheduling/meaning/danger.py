"""Meanings when something is wrong: said first, whatever else there is to say."""

from typing import Literal

from scheduling.meaning.base import Said
from scheduling.oven.stands import Stands
from scheduling.remark import CrackSize, Sky


class Unwell(Said):
    """Somebody feels unwell or is burnt. First and always: away from the fire into fresh air,
    everybody out (carbon monoxide); a burn under cool running water for 20 minutes; the
    emergency number now. ``emergency`` is the number of the place, None where it is not known
    ("your emergency number"). Everything about the fire comes after, from somebody well."""

    kind: Literal["unwell"] = "unwell"
    emergency: str | None = None
    lit: bool = False


class FlueFlames(Said):
    """Flames into the flue or chimney: door to the mouth to starve it, away, call the fire
    service if it roars; never water into a hot flue."""

    kind: Literal["flue_flames"] = "flue_flames"
    emergency: str | None = None
    roaring_unknown: bool = True


class Popping(Said):
    """Popping or flaking: the wall is shedding. Stand back, add nothing, let it die, and no
    firing until the builder (or a look, for an owner alone) closes the matter."""

    kind: Literal["popping"] = "popping"
    builder_told: bool = False
    lit: bool = True


class CrackTold(Said):
    """A crack. HAIRLINE: expected, note it and watch, carry on no faster. OPEN: add nothing,
    let it fall, send a photo, wait for the builder. UNSAID: asked which it is, with nothing
    added meanwhile."""

    kind: Literal["crack_told"] = "crack_told"
    size: CrackSize
    lit: bool
    builder_told: bool = False
    photo: bool = False


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


class OnHold(Said):
    """No firing for now, and why: the builder's order or an open trouble."""

    kind: Literal["on_hold"] = "on_hold"
    why: Literal["held", "trouble", "mortar", "instrument"]
    trouble: str | None = None
    reason: str = ""
    """The builder's own words."""
    lit: bool = False
    ask_look: bool = False
    """An owner alone: have you looked, is it sound? A yes closes the matter."""
    proposal: str | None = None


class DangerStays(Said):
    """A danger that was told is not taken back, it is looked at. ``stands`` while nobody has."""

    kind: Literal["danger_stays"] = "danger_stays"
    trouble: str
    stands: bool
    lit: bool


class TroubleOver(Said):
    """A trouble was closed: firing may go on, the next aim no higher than before."""

    kind: Literal["trouble_over"] = "trouble_over"
    what: str


class InstrumentBlind(Said):
    """The fire is at the end of what the thermometer can show: no more wood today."""

    kind: Literal["instrument_blind"] = "instrument_blind"
    max_c: float
