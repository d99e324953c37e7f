"""The one thing to do now.

``decide`` weighs the last believed reading, its climb and what the wall says; ``forbids_wood`` is
the one gate that every stick has to pass. Where the model and the rule of thumb disagree, the one
that asks for less fire wins.
"""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from scheduling.firing.aim import Action, Aim, WhyGentler
from scheduling.firing.rule import Bounds
from scheduling.firing.session import Session, crown_c
from scheduling.firing.wood import pieces_of

FRESH = timedelta(minutes=12)
"""Older than this a reading calls for another before any wood."""

JUST_FED = timedelta(minutes=12)
"""Wood this young has not shown yet what it does."""

FAR_ABOVE_K = 25.0
TOO_FAST, MUCH_TOO_FAST = 1.15, 1.6
"""Share of the allowed climb at which nothing is added, and at which the fire is spread."""

STEAM_NEAR, STEAM_OVER = 0.85, 1.0
UNEVEN_K = 60.0
"""Crown against the coldest side, beyond which the fire is spread to the cold side."""

BURN_DOWN = 0.55
"""A charge burns down: over the next half hour it gives about this share of its climb."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why, as in ``meaning.Why``."""

    what: str
    amount: float | None = None


@dataclass(frozen=True, slots=True)
class WallSays:
    """What the wall's forecast has to say, as far as it has.

    ``steam_share`` is of the limit (95 %), now and over the next stoking. ``ceiling_c`` is what
    the wet wall bears at the surface. ``falls_at`` is when the crown leaves the band.
    """

    steam_share: float | None = None
    ceiling_c: float | None = None
    plateau_at: datetime | None = None
    falls_at: datetime | None = None
    expect_c: tuple[float, float] | None = None
    dry: bool | None = None
    """The shell is dry enough for this firing: holding longer gains nothing."""


@dataclass(frozen=True, slots=True)
class Ground:
    """All that a decision stands on. ``forbidden`` is why no wood may go on whatever is read:
    ``held``, ``trouble``, ``cure``, ``weather``, ``restricted``, ``away``, ``silent``."""

    session: Session
    now: datetime
    bounds: Bounds
    instrument: bool
    forbidden: str | None = None
    wall: WallSays | None = None
    latest: datetime | None = None
    """After this the owner has no more time."""


@dataclass(frozen=True, slots=True)
class Decision:
    """One action, why, and when to look again."""

    action: Action
    why: Reason
    minutes: float | None = None
    kg: float | None = None
    pieces: int | None = None
    expect_c: tuple[float, float] | None = None
    plateau_at: datetime | None = None
    gentler: WhyGentler | None = None


def forbids_wood(ground: Ground) -> Reason | None:
    """Why no wood may go on now, None if it may. Nothing else opens this gate."""
    session, wall = ground.session, ground.wall
    if ground.forbidden is not None:
        return Reason(ground.forbidden)
    if session.aim is None or session.too_early:
        return Reason("cure")
    if session.ending or session.died_at is not None or session.ended is not None:
        return Reason("finishing")
    if session.silent is not None:
        return Reason("silent")
    if ground.now - session.last_fed_at < JUST_FED:
        return Reason("just_fed", (ground.now - session.last_fed_at) / timedelta(minutes=1))
    if not ground.instrument:
        return None
    last, top_c = session.last, session.top_c
    if session.doubted is not None:
        return Reason("doubtful")
    if last is None or top_c is None:
        return Reason("missing")
    if ground.now - last.at > FRESH:
        return Reason("stale", (ground.now - last.at) / timedelta(minutes=1))
    if top_c >= session.aim.low_c + 5.0 and (session.climb_k_h or 0.0) >= 0.0:
        return Reason("in_band", session.held_h(ground.now))
    if top_c > session.aim.plateau_c:
        return Reason("above_band", top_c - session.aim.plateau_c)
    climb = session.climb_k_h
    if climb is not None and climb > ground.bounds.climb_cap(top_c):
        return Reason("too_fast", climb)
    if wall is not None and (wall.steam_share or 0.0) >= STEAM_NEAR:
        return Reason("steam", wall.steam_share)
    if wall is not None and wall.ceiling_c is not None and top_c >= wall.ceiling_c - 5.0:
        return Reason("steam", wall.steam_share)
    return None


def decide(ground: Ground) -> Decision:
    """The one action for this moment."""
    session = ground.session
    if ground.forbidden in ("trouble", "held", "cure", "restricted") or session.too_early:
        return Decision(Action.STOP, Reason(ground.forbidden or "cure"), 30.0)
    if session.aim is None:
        return Decision(Action.STOP, Reason("cure"), 30.0)
    if session.ending:
        return _burn_down(ground, session.aim)
    if not ground.instrument:
        return _by_time(ground, session.aim)
    if session.doubted is not None:
        hot = session.doubted.at_least
        action = Action.LET_FALL if hot else Action.READ_AGAIN
        return Decision(action, Reason("doubtful"), 10.0)
    if session.last is None or session.top_c is None:
        return Decision(Action.READ_AGAIN, Reason("missing"), 10.0)
    if ground.now - session.last.at > FRESH:
        age = (ground.now - session.last.at) / timedelta(minutes=1)
        return Decision(Action.READ_AGAIN, Reason("stale", age), 5.0)
    decision = _by_reading(ground, session.aim, session.top_c)
    if decision.action is Action.ADD and (why := forbids_wood(ground)) is not None:
        decision = replace(
            decision, action=Action.ADD_NOTHING, why=why, kg=None, pieces=None, minutes=20.0
        )
    return decision


def _by_reading(ground: Ground, aim: Aim, top_c: float) -> Decision:
    return (
        _too_hot(ground, aim, top_c)
        or _too_fast(ground, top_c)
        or _long_enough(ground, aim)
        or _uneven(ground)
        or _in_band(ground, aim, top_c)
        or _below_band(ground, aim, top_c)
    )


def _too_hot(ground: Ground, aim: Aim, top_c: float) -> Decision | None:
    wall = ground.wall
    if wall is not None and (wall.steam_share or 0.0) >= STEAM_OVER:
        return Decision(
            Action.SPREAD, Reason("steam", wall.steam_share), 10.0, gentler=WhyGentler.MODEL
        )
    if top_c > aim.high_c + FAR_ABOVE_K:
        return Decision(Action.SPREAD, Reason("above_band", top_c - aim.high_c), 10.0)
    if top_c <= aim.high_c:
        return None
    climb = ground.session.climb_k_h
    minutes = 10.0 if climb is None or climb > 0 else min(30.0, 15.0 + (top_c - aim.high_c))
    return Decision(Action.LET_FALL, Reason("above_band", top_c - aim.high_c), minutes)


def _too_fast(ground: Ground, top_c: float) -> Decision | None:
    climb, cap = ground.session.climb_k_h, ground.bounds.climb_cap(top_c)
    if climb is None or climb <= cap * TOO_FAST:
        return None
    if climb > cap * MUCH_TOO_FAST:
        return Decision(Action.SPREAD, Reason("too_fast", climb), 10.0)
    return Decision(Action.ADD_NOTHING, Reason("too_fast", climb), 15.0)


def _long_enough(ground: Ground, aim: Aim) -> Decision | None:
    held_h = ground.session.held_h(ground.now)
    if held_h >= aim.hold_h:
        return Decision(Action.HOLD_DONE, Reason("hold_done", held_h), 60.0)
    burning_h = (ground.now - ground.session.lit_at) / timedelta(hours=1)
    if ground.latest is not None and ground.now >= ground.latest:
        return Decision(Action.HOLD_DONE, Reason("session", burning_h), 60.0)
    if burning_h > aim.session_h + 2.0:
        return Decision(Action.HOLD_DONE, Reason("session", burning_h), 60.0)
    return None


def _uneven(ground: Ground) -> Decision | None:
    """A fire that leans: one side far colder than the crown, or hotter than it."""
    last = ground.session.last
    if last is None or last.top_c is None or not last.sides_c:
        return None
    if any(one.action is Action.SPREAD for one in ground.session.advised[-2:]):
        return None
    if max(last.sides_c) - last.top_c > 25.0:
        return Decision(Action.SPREAD, Reason("hot_side", max(last.sides_c) - last.top_c), 15.0)
    if last.top_c - min(last.sides_c) > max(UNEVEN_K, 0.3 * last.top_c):
        return Decision(Action.SPREAD, Reason("hot_crown", last.top_c - min(last.sides_c)), 15.0)
    return None


def _in_band(ground: Ground, aim: Aim, top_c: float) -> Decision | None:
    if top_c < aim.low_c:
        return None
    held = ground.session.held_h(ground.now)
    climb, minutes = ground.session.climb_k_h or 0.0, _stoke_minutes(ground, aim)
    falls_to = top_c + min(0.0, climb) * minutes / 60.0
    if climb >= 0.0 or falls_to >= aim.low_c or top_c > aim.plateau_c:
        wait = minutes if falls_to >= aim.low_c else max(15.0, minutes / 2)
        expect = (min(falls_to, top_c) - 12.0, top_c + 10.0)
        return Decision(Action.WAIT, Reason("in_band", held), min(30.0, wait), expect_c=expect)
    return _feed(ground, aim, Reason("in_band", held), 0.7, (aim.low_c - 5.0, aim.high_c))


def _below_band(ground: Ground, aim: Aim, top_c: float) -> Decision:
    session, climb = ground.session, ground.session.climb_k_h
    minutes = _stoke_minutes(ground, aim)
    below = aim.low_c - top_c
    carried = top_c + max(0.0, climb or 0.0) * minutes / 60.0 * BURN_DOWN
    wall_plateau = ground.wall.plateau_at if ground.wall is not None else None
    if ground.now - session.last_fed_at < JUST_FED and (climb is None or climb >= 0):
        since = (ground.now - session.last_fed_at) / timedelta(minutes=1)
        return Decision(
            Action.WAIT, Reason("just_fed", since), 15.0, expect_c=(top_c, max(top_c, carried) + 15)
        )
    if climb is not None and climb > 0 and carried >= aim.low_c:
        return Decision(
            Action.WAIT,
            Reason("climbing", climb),
            15.0,
            expect_c=(top_c, min(aim.high_c, carried + 10.0)),
            plateau_at=wall_plateau,
        )
    cap = ground.bounds.climb_cap(top_c)
    if climb is not None and climb > 0.85 * cap:
        return Decision(
            Action.WAIT,
            Reason("climbing", climb),
            20.0,
            expect_c=(top_c, carried + 10.0),
            plateau_at=wall_plateau,
        )
    slow = climb is not None and climb < 0.4 * cap
    why = Reason("too_slow", climb) if slow else Reason("below_band", below)
    rise = min(cap * minutes / 60.0, aim.plateau_c - top_c)
    expect = (top_c + 0.3 * rise, min(aim.high_c, top_c + rise + 8.0))
    share = 1.0 if climb is None else min(1.5, max(0.5, 0.75 * cap / max(climb, 0.25 * cap)))
    if aim.plateau_c - top_c < 0.5 * cap * minutes / 60.0:
        share = min(share, 0.8)
    return replace(_feed(ground, aim, why, share, expect), plateau_at=wall_plateau)


def _feed(
    ground: Ground, aim: Aim, why: Reason, share: float, expect_c: tuple[float, float]
) -> Decision:
    """Add a share of the charge: of an approximate reading only half."""
    last = ground.session.last
    if last is not None and last.approximate:
        share = min(share, 0.5)
    kg = aim.charge_kg * share
    return Decision(
        Action.ADD,
        why,
        _stoke_minutes(ground, aim),
        round(kg, 2),
        pieces_of(kg, aim.piece_mm),
        expect_c,
    )


def _by_time(ground: Ground, aim: Aim) -> Decision:
    """No thermometer: small charges by the clock, fewer after any sign of too much."""
    session = ground.session
    burning_h = (ground.now - session.lit_at) / timedelta(hours=1)
    held_h = session.held_h(ground.now)
    if held_h >= aim.hold_h or burning_h >= aim.session_h:
        return Decision(Action.HOLD_DONE, Reason("hold_done", held_h), 60.0)
    since = ground.now - session.last_fed_at
    minutes = _stoke_minutes(ground, aim)
    if (why := forbids_wood(ground)) is not None:
        return Decision(Action.ADD_NOTHING, why, minutes)
    if since < timedelta(minutes=minutes - 5.0):
        wait = minutes - since / timedelta(minutes=1)
        return Decision(Action.WAIT, Reason("plan"), max(5.0, wait), gentler=None)
    warned = [
        one
        for one in session.seen
        if getattr(one, "what", "crack") in ("too_big", "steam", "damp", "crack", "smoke")
        and ground.now - one.at < timedelta(minutes=45)
    ]
    if warned:
        return Decision(
            Action.ADD_NOTHING, Reason("plan"), minutes, gentler=WhyGentler.NO_INSTRUMENT
        )
    fed = sum(one.kg or aim.charge_kg for one in session.stokes) + aim.lay_kg
    if fed + aim.charge_kg > aim.wood_kg + 0.5 * aim.charge_kg:
        return Decision(Action.ADD_NOTHING, Reason("plan"), minutes)
    return Decision(Action.ADD, Reason("plan"), minutes, aim.charge_kg, aim.charge_pieces)


def _burn_down(ground: Ground, aim: Aim) -> Decision:
    """It is to end: nothing on; the door when only embers are left."""
    top_c = ground.session.top_c
    if ground.session.died_at is not None:
        return Decision(Action.SHUT_DOOR, Reason("finishing"))
    if top_c is not None and top_c > aim.high_c + FAR_ABOVE_K:
        return Decision(Action.SPREAD, Reason("above_band", top_c - aim.high_c), 15.0)
    return Decision(Action.ADD_NOTHING, Reason("finishing"), 45.0)


def _stoke_minutes(ground: Ground, aim: Aim) -> float:
    """The next stoke by the wall's forecast, inside the builder's window."""
    minutes = aim.stoke_minutes
    if ground.wall is not None and ground.wall.falls_at is not None:
        minutes = (ground.wall.falls_at - ground.now) / timedelta(minutes=1)
    return min(
        max(minutes, ground.bounds.stoke_min_minutes), max(30.0, ground.bounds.stoke_max_minutes)
    )


def spot_of_doubt(session: Session) -> float | None:
    """The crown as a doubtful reading shows it, to be treated as hot."""
    return None if session.doubted is None else crown_c(session.doubted)
