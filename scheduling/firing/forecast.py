"""Where a burning fire is going, by the wall: plateau, next stoke, climb, hold, next reading.

A forecast never says to add wood. It gives times and temperatures, and how old the last believed
reading is; whoever advises must not ask for more fire on one that is stale or doubtful.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from scheduling.breakin.limits import USUAL, Limits
from scheduling.breakin.trial import is_dry, steam_share
from scheduling.oven.belief import Belief, Range
from scheduling.oven.hearth import unfollowed
from scheduling.oven.history import SurfaceRead
from scheduling.oven.passage import burnt_on, held_at
from scheduling.oven.saturation import ATMOSPHERE_PA
from scheduling.oven.stand import Stand
from scheduling.oven.surroundings import Surroundings

Floats = npt.NDArray[np.float64]

AHEAD = timedelta(minutes=70)
STEP_S = 300.0
STALE_AFTER = timedelta(minutes=45)
"""A fire stoked every half hour has changed by then (own choice)."""

TOO_FAST = 1.15
"""A climb is measured between two spots read by hand: only this much above its cap counts."""

RATE_OVER = timedelta(minutes=10)
"""A climb is not reckoned over a shorter time than this."""


@dataclass(frozen=True, slots=True)
class FiringAim:
    """What the burning firing is to reach: the band around its plateau and how long in it."""

    plateau_c: float
    low_c: float
    high_c: float
    hold_h: float
    climb_c_per_h: float | None = None


@dataclass(frozen=True, slots=True)
class Window:
    """An instant with the range that it may fall in."""

    first: datetime
    middle: datetime
    last: datetime


@dataclass(frozen=True, slots=True)
class Forecast:
    """What the wall says of a fire, at ``now``.

    ``read_at`` and ``reading_age`` are of the last believed reading of this fire, None without
    one; ``stale`` if it is none or too old to steer by. ``crown_c`` is the crown now,
    ``expect_c`` at ``look_at`` if nothing is added. ``plateau_at`` is when the band is reached at
    the present climb, None if it is not climbing or is there. ``falls_at`` is when the crown
    leaves the band if nothing is added, None within the hour ahead; ``stoke`` is when the fire
    would next want wood, inside the builder's window: a time to look at it, no advice to add.
    The shares of the steam limit hold in 95 % of members: ``steam_share`` now, ``..._ahead`` the
    highest over the time ahead if nothing is added, ``..._held`` if the crown is kept where it
    is, ``..._led`` if it is led up to the plateau.
    """

    now: datetime
    read_at: datetime | None
    reading_age: timedelta | None
    stale: bool
    crown_c: Range
    look_at: datetime
    expect_c: Range
    climb_c_per_h: float | None
    climb_too_fast: bool
    plateau_at: Window | None
    falls_at: datetime | None
    stoke: Window
    held_h: float
    hold_complete: bool
    steam_share: float
    steam_share_ahead: float
    steam_share_held: float
    steam_share_led: float
    dry: bool


def forecast(
    belief: Belief,
    aim: FiringAim,
    readings: Sequence[SurfaceRead],
    fed_at: datetime,
    now: datetime,
    surroundings: Surroundings,
    limits: Limits = USUAL,
    look_at: datetime | None = None,
) -> Forecast:
    """Forecast the fire that burns in ``belief``, carried to ``now``.

    ``readings`` are the believed ones of this fire, ascending; ``fed_at`` is when wood last went
    on (or the match). Raises ValueError when no fire burns or the belief is not of ``now``.
    """
    if not belief.present.burning:
        raise ValueError("there is nothing to forecast: no fire burns")
    if abs((belief.at - now).total_seconds()) > 60.0:
        raise ValueError("carry the belief to now before forecasting from it")
    begin = _from_here(belief.present)
    path = _ahead(belief, begin, now, surroundings)
    read_at = readings[-1].at if readings else None
    age = None if read_at is None else now - read_at
    stale = age is None or age > STALE_AFTER
    climb = _climb_c_per_h(readings)
    crown = belief.ranged(belief.present.face_c[:, 0])
    falls_at = _falls_at(path, aim, crown)
    stoke = _stoke(belief, path, aim, fed_at, limits, falls_at)
    look = look_at or stoke.middle
    held_h = _held_h(readings, aim, now, crown, stale)
    led = _steam_share_at(belief, begin, aim.plateau_c, aim, surroundings, limits)
    # Less steam rises at a cooler face: only where the plateau is too much is the rest asked.
    held = led
    if led >= 1.0 and crown.mid < aim.plateau_c:
        held = _steam_share_at(belief, begin, crown.mid, aim, surroundings, limits)
    return Forecast(
        now=now,
        read_at=read_at,
        reading_age=age,
        stale=stale,
        crown_c=crown,
        look_at=look,
        expect_c=_at(belief, path, look),
        climb_c_per_h=climb,
        climb_too_fast=climb is not None and climb > TOO_FAST * _cap(aim, limits, crown.mid),
        plateau_at=_plateau_at(aim, now, crown, climb),
        falls_at=falls_at,
        stoke=stoke,
        held_h=held_h,
        hold_complete=held_h >= aim.hold_h,
        steam_share=steam_share(belief, begin, limits),
        steam_share_ahead=steam_share(belief, path.end, limits),
        steam_share_held=held,
        steam_share_led=led,
        dry=is_dry(belief, belief.present, limits),
    )


@dataclass(frozen=True, slots=True)
class _Path:
    """The crown (M, n) of every member at n instants ahead, nothing added."""

    at: tuple[datetime, ...]
    low_c: Floats
    mid_c: Floats
    high_c: Floats
    end: Stand


def _from_here(stand: Stand) -> Stand:
    """The same stand with its steam as it is now, for a peak that has passed limits no more wood;
    and its hearth left alone, for nothing is asked of it."""
    return replace(
        stand, peak_pa=stand.wall.pressure_pa - ATMOSPHERE_PA, hearth=unfollowed(stand.hearth)
    )


def _ahead(belief: Belief, begin: Stand, now: datetime, around: Surroundings) -> _Path:
    stands: list[Stand] = [begin]
    end = burnt_on(belief.ensemble, begin, now + AHEAD, (), around, stands.append, STEP_S)
    ranges = [belief.ranged(stand.face_c[:, 0]) for stand in stands]
    low, mid, high = (np.array(column) for column in zip(*ranges, strict=True))
    return _Path(tuple(stand.at for stand in stands), low, mid, high, end)


def _steam_share_at(
    belief: Belief,
    stand: Stand,
    goal_c: float,
    aim: FiringAim,
    around: Surroundings,
    limits: Limits,
) -> float:
    """Share of the steam limit over the time ahead if the crown goes to ``goal_c``, no faster
    than it may, and stays there."""
    drawn = belief.ensemble.drawn
    crown = stand.face_c[:, 0]
    until = stand.at + AHEAD
    while stand.at < until:
        air = around.air_at(stand.at)
        typical = float(np.median(crown))
        rise = _cap(aim, limits, typical) * STEP_S / 3600.0
        crown = crown + np.clip(goal_c - crown, None, rise)
        as_hot = np.minimum(crown, stand.face_c[:, 1])
        sides = np.maximum(air + drawn.side_share * (crown - air), as_hot)
        faces = np.stack([crown, sides], axis=1)
        stand, _ = held_at(belief.ensemble, stand, STEP_S, faces, around)
    return steam_share(belief, stand, limits)


def _at(belief: Belief, path: _Path, instant: datetime) -> Range:
    places = [(at - belief.at).total_seconds() for at in path.at]
    place = (instant - belief.at).total_seconds()
    low, mid, high = (
        float(np.interp(place, places, column)) for column in (path.low_c, path.mid_c, path.high_c)
    )
    return Range(low, mid, high)


def _climb_c_per_h(readings: Sequence[SurfaceRead]) -> float | None:
    """Climb between the last two crown readings that lie far enough apart."""
    crowns = [(one.at, one.top_c) for one in readings if one.top_c is not None]
    if not crowns:
        return None
    last_at, last_c = crowns[-1]
    for at, top_c in reversed(crowns[:-1]):
        if last_at - at >= RATE_OVER:
            return (last_c - top_c) / ((last_at - at).total_seconds() / 3600.0)
    return None


def _cap(aim: FiringAim, limits: Limits, crown_c: float) -> float:
    cap = limits.climb_k_h(crown_c)
    return cap if aim.climb_c_per_h is None else min(cap, max(aim.climb_c_per_h, 5.0))


def _plateau_at(aim: FiringAim, now: datetime, crown: Range, climb: float | None) -> Window | None:
    if climb is None or climb < 5.0 or crown.mid >= aim.low_c:
        return None

    def when(crown_c: float, pace: float) -> datetime:
        return now + timedelta(hours=max(0.0, aim.low_c - crown_c) / pace)

    return Window(
        when(crown.high, 1.25 * climb), when(crown.mid, climb), when(crown.low, 0.6 * climb)
    )


def _falls_at(path: _Path, aim: FiringAim, crown: Range) -> datetime | None:
    """When the middle crown leaves the band downward; on the way up, when it turns."""
    if crown.mid < aim.low_c:
        turn = int(np.argmax(path.mid_c))
        return path.at[turn] if turn < len(path.at) - 1 else None
    below = np.flatnonzero(path.mid_c < aim.low_c)
    return path.at[int(below[0])] if below.size else None


def _stoke(
    belief: Belief,
    path: _Path,
    aim: FiringAim,
    fed_at: datetime,
    limits: Limits,
    falls_at: datetime | None,
) -> Window:
    """When to look at the wood: as the crown falls, inside the builder's window."""
    earliest = fed_at + timedelta(minutes=limits.stoke_least_minutes)
    latest = fed_at + timedelta(minutes=limits.stoke_most_minutes)
    low = np.flatnonzero(path.low_c < aim.low_c - 1e-9)
    high = np.flatnonzero(path.high_c < aim.low_c)
    first = path.at[int(low[0])] if low.size and path.mid_c[0] >= aim.low_c else falls_at
    last = path.at[int(high[0])] if high.size else None

    def clipped(instant: datetime | None, default: datetime) -> datetime:
        return max(belief.at, min(max(instant or default, earliest), latest))

    middle = clipped(falls_at, latest)
    return Window(min(clipped(first, middle), middle), middle, max(clipped(last, latest), middle))


def _held_h(
    readings: Sequence[SurfaceRead],
    aim: FiringAim,
    now: datetime,
    crown: Range,
    stale: bool,
) -> float:
    """Hours at or above the band's lower edge, by readings alone; since the last one only while
    it is fresh and the wall is still believed to be there."""
    crowns = [(one.at, one.top_c) for one in readings if one.top_c is not None]
    held = 0.0
    for (at, top_c), (later, next_c) in pairwise(crowns):
        hours = (later - at).total_seconds() / 3600.0
        over, under = max(top_c, next_c) - aim.low_c, aim.low_c - min(top_c, next_c)
        if over > 0:
            held += hours if under <= 0 else hours * over / (over + under)
    if crowns and not stale and crowns[-1][1] >= aim.low_c and crown.mid >= aim.low_c:
        held += (now - crowns[-1][0]).total_seconds() / 3600.0
    return held
