"""Where a fire went otherwise than planned, and where somebody did otherwise than asked.

The two are kept apart: whoever did as they were told has departed from nothing, however the dome
answered. Figures are °C, K/h, hours and kilograms.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from bot.papers.firing_log import Climb, FiringLog
from scheduling.firing.aim import Action
from scheduling.firing.wood import is_far_more
from scheduling.journal import Advised, WoodPutOn

STILL_SHOWS = timedelta(minutes=45)
"""For so long after it went on, wood still drives the climb (own choice)."""

SHORT_BY_H = 0.25
"""A hold that lacks less was held (own choice)."""


class What(StrEnum):
    """Kinds of departures; first what somebody did, then what the fire did."""

    AGAINST_ADVICE = "against_advice"
    UNPLANNED = "unplanned"
    UNASKED_WOOD = "unasked_wood"
    MORE_WOOD = "more_wood"
    TOO_FAST = "too_fast"
    UNANSWERED = "unanswered"
    OTHER_DAY = "other_day"
    STOPPED = "stopped"
    SHORT = "short"
    OVER = "over"
    UNDER = "under"


@dataclass(frozen=True, slots=True)
class Departure:
    """One of them. ``asked``: all that had been asked for was done, and it still went so.

    ``amount`` and ``of`` by its kind: kg put on and asked for, K/h and their limit, hours held and
    planned, hours without an answer, the peak in °C. ``day`` is the one that was told.
    """

    what: What
    asked: bool
    amount: float = 0.0
    of: float = 0.0
    count: int = 0
    day: date | None = None
    range_c: tuple[float, float] = (0.0, 0.0)
    advised: bool = False
    """The fire was to burn down by advice."""


def departures(log: FiringLog) -> tuple[Departure, ...]:
    """Those of one fire, what people did before what the fire did."""
    return (*_deeds(log), *_course(log))


def followed(log: FiringLog, begin: datetime, end: datetime) -> bool:
    """Whether what burnt between two instants was what had been asked for, and no more."""
    if log.aim is None or log.session.too_early:
        return False
    since = begin - STILL_SHOWS
    return not any(since <= one.at <= end for one in (*unasked(log), *more_than_asked(log)))


def unasked(log: FiringLog) -> tuple[WoodPutOn, ...]:
    """Wood that went on without having been asked for."""
    return tuple(one for one in log.session.stokes if not one.advised)


def more_than_asked(log: FiringLog) -> tuple[WoodPutOn, ...]:
    """Charges far larger than what had been asked for."""
    return tuple(
        one
        for one in log.session.stokes
        if one.advised
        and (asked := asked_for(log, one)) is not None
        and is_far_more(one.pieces, asked.pieces)
    )


def asked_for(log: FiringLog, stoke: WoodPutOn) -> Advised | None:
    """The advice that a charge answered."""
    advised = (one for one in reversed(log.session.advised) if one.action is Action.ADD)
    return next((one for one in advised if one.at <= stoke.at), None)


def too_fast(log: FiringLog) -> Climb | None:
    """The steepest climb that is somebody's doing: over its limit, and not on the wood that was
    asked for. What a fire does in its first minutes, or after wood that was asked for, is not."""
    found = (
        one
        for one in log.climbs
        if one.k_h > one.limit_k_h + 0.5 and not followed(log, one.start, one.end)
    )
    return max(found, key=lambda one: one.k_h, default=None)


def _deeds(log: FiringLog) -> Iterable[Departure]:
    session = log.session
    if session.too_early:
        yield Departure(What.AGAINST_ADVICE, asked=False)
    elif log.aim is None:
        yield Departure(What.UNPLANNED, asked=False)
    if freely := unasked(log):
        yield Departure(What.UNASKED_WOOD, False, amount=_kg(freely), count=len(freely))
    if more := more_than_asked(log):
        asked_kg = sum(one.kg or 0.0 for stoke in more if (one := asked_for(log, stoke)))
        yield Departure(What.MORE_WOOD, False, _kg(more), asked_kg, len(more))
    if (climb := too_fast(log)) is not None:
        yield Departure(What.TOO_FAST, False, climb.k_h, climb.limit_k_h)
    if log.silences:
        longest = max(end - begin for begin, end in log.silences)
        hours = longest / timedelta(hours=1)
        yield Departure(What.UNANSWERED, False, amount=hours, count=len(log.silences))
    if log.promised is not None and log.promised != log.lit_on and not session.too_early:
        yield Departure(What.OTHER_DAY, asked=False, day=log.promised)


def _course(log: FiringLog) -> Iterable[Departure]:
    aim, ended, peak_c = log.aim, log.ended, log.peak_c
    if aim is None or log.session.too_early:
        return
    let_die = log.session.ending
    if ended is not None and ended.why == "stopped":
        yield Departure(What.STOPPED, True, log.held_h, aim.hold_h, advised=True)
    elif ended is not None and log.held_h < aim.hold_h - SHORT_BY_H:
        yield Departure(What.SHORT, True, log.held_h, aim.hold_h, advised=let_die)
    if peak_c is not None and peak_c > aim.high_c and (peak := log.peak_at) is not None:
        asked = followed(log, peak, peak)
        yield Departure(What.OVER, asked, amount=peak_c, range_c=(aim.low_c, aim.high_c))
    elif peak_c is not None and peak_c < aim.low_c and ended is not None:
        yield Departure(What.UNDER, True, amount=peak_c, range_c=(aim.low_c, aim.high_c))


def _kg(stokes: Sequence[WoodPutOn]) -> float:
    return sum(one.kg or 0.0 for one in stokes)
