"""The one thing to do now.

``decide`` weighs the last believed reading, its climb and what the wall says; ``forbids_wood`` is
the one gate that every stick has to pass. Where the model and the rule of thumb disagree, the one
that asks for less fire wins.
"""

from dataclasses import replace
from datetime import timedelta

from scheduling.firing.aim import Action, Aim, WhyGentler
from scheduling.firing.ground import Decision, Ground, Reason, WallSays
from scheduling.firing.response import response_of
from scheduling.firing.session import LONGEST_LINK, Session, crown_c
from scheduling.firing.steering import (
    JUST_FED,
    LEAST_PIECE,
    STEAM_OVER,
    by_the_clock_kg,
    steered,
    stoke_minutes,
)
from scheduling.firing.wood import piece_kg, pieces_of

FRESH = timedelta(minutes=12)
"""Older than this a reading calls for another before any wood."""


DROPS_WITHIN = timedelta(minutes=8)
"""A fire raked apart shows no sooner that it has dropped."""

FAR_ABOVE_K = 25.0
FALLING_K_H = -5.0
LOW_BY_K = 10.0
"""Below what the dome would read with no fire in it at all, a reading is asked for again."""

TOO_FAST, MUCH_TOO_FAST = 1.15, 1.6
"""Share of the allowed climb at which nothing is added, and at which the fire is spread."""

SOOT_HOLD_H, SOOT_HOLDS = 0.75, 2
"""How much longer the last fire is kept up where the dome is still black, and how often (own
choice)."""

UNEVEN_K = 60.0
"""Crown against the coldest side, beyond which the fire is spread to the cold side."""


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
    if session.unheard is not None:
        return Reason("unheard")
    if _looked_too_big(session):
        return Reason("too_big")
    if ground.now - session.last_fed_at < JUST_FED:
        return ground.just_fed()
    if not ground.instrument:
        return None
    last, top_c = session.last, session.top_c
    if session.doubted is not None:
        return Reason("doubtful")
    if last is None or top_c is None or last.top_c is None:
        return Reason("missing")
    if ground.now - last.at > FRESH:
        return Reason("stale", (ground.now - last.at) / timedelta(minutes=1))
    if top_c > session.aim.plateau_c:
        return Reason("above_band", top_c - session.aim.plateau_c)
    climb = session.climb_k_h
    if climb is not None and climb > ground.bounds.climb_cap(top_c):
        return Reason("too_fast", climb)
    if wall is None and ground.modelled:
        return Reason("steam")
    if wall is not None:
        share = max(wall.steam_share or 0.0, wall.steam_share_held or 0.0)
        if share >= STEAM_OVER:
            return Reason("steam", share)
    return None


def _looked_too_big(session: Session) -> bool:
    """Somebody said that the fire is too big, and no number since shows that it has dropped."""
    said = [one.at for one in session.seen if getattr(one, "what", "") == "too_big"]
    if not said:
        return False
    since = [one for one in session.believed if one.at >= said[-1] + DROPS_WITHIN]
    climb = session.climb_k_h
    return not since or climb is None or climb > 0.0


STOPS = frozenset({"indoors", "trouble", "held", "cure", "restricted", "forbidden"})
"""Why a fire is left to die, whatever the wall has to say."""


def decide(ground: Ground) -> Decision:
    """The one action for this moment."""
    session = ground.session
    if ground.forbidden in STOPS or session.too_early:
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
    if session.last.top_c is None:
        return _by_sides(ground, session.aim, session.top_c)
    decision = _by_reading(ground, session.aim, session.top_c)
    if decision.action is Action.ADD and _lower_than_expected(ground):
        return Decision(Action.READ_AGAIN, Reason("lower"), 5.0)
    if decision.action is Action.ADD and (why := forbids_wood(ground)) is not None:
        # A crown just above its plateau is back below it with the next look at the fire.
        minutes = 10.0 if why.what == "above_band" else 20.0
        decision = replace(
            decision, action=Action.ADD_NOTHING, why=why, kg=None, pieces=None, minutes=minutes
        )
    return decision


def _lower_than_expected(ground: Ground) -> bool:
    """Whether the crown reads so low that wood would go on by a slip of the hand or the pen.

    It is asked about once: the next reading counts, whatever it says.
    """
    session = ground.session
    asked = session.advised[-1:] and session.advised[-1].action is Action.READ_AGAIN
    if len(session.believed) < 2 or asked:
        return False
    before, last = session.believed[-2:]
    before_c, last_c = crown_c(before), crown_c(last)
    if before_c is None or last_c is None or last.at - before.at > LONGEST_LINK:
        return False
    earlier = replace(session, readings=tuple(one for one in session.readings if one.at < last.at))
    answer = response_of(earlier, before.at, ground.known)
    minutes = (last.at - before.at) / timedelta(minutes=1)
    return last_c < answer.bare_c(minutes) - LOW_BY_K


def _by_reading(ground: Ground, aim: Aim, top_c: float) -> Decision:
    return (
        _too_hot(ground, aim, top_c)
        or _too_fast(ground, top_c)
        or _long_enough(ground, aim)
        or _uneven(ground)
        or steered(ground, aim, top_c)
    )


def _by_sides(ground: Ground, aim: Aim, top_c: float) -> Decision:
    """Sides alone may show a fire too hot, or long enough; for more the crown has to be read."""
    return (
        _too_hot(ground, aim, top_c)
        or _too_fast(ground, top_c)
        or _long_enough(ground, aim)
        or Decision(Action.READ_AGAIN, Reason("missing"), 10.0)
    )


def _too_hot(ground: Ground, aim: Aim, top_c: float) -> Decision | None:
    wall, climb = ground.wall, ground.session.climb_k_h
    if wall is not None and (wall.steam_share or 0.0) >= STEAM_OVER:
        why = Reason("steam", wall.steam_share)
        if climb is not None and climb < FALLING_K_H:
            # It falls by itself: raking would only smoke.
            return Decision(Action.ADD_NOTHING, why, 20.0, gentler=WhyGentler.MODEL)
        return Decision(Action.SPREAD, why, 10.0, gentler=WhyGentler.MODEL)
    if top_c > aim.high_c + FAR_ABOVE_K:
        return Decision(Action.SPREAD, Reason("above_band", top_c - aim.high_c), 10.0)
    if top_c <= aim.high_c:
        return None
    minutes = 10.0 if climb is None or climb > 0 else min(30.0, 15.0 + (top_c - aim.high_c))
    return Decision(Action.LET_FALL, Reason("above_band", top_c - aim.high_c), minutes)


def _too_fast(ground: Ground, top_c: float) -> Decision | None:
    climb, cap = ground.session.climb_k_h, ground.bounds.climb_cap(top_c)
    if climb is None or climb <= cap * TOO_FAST:
        return None
    # A crown that is read in full flames swings up with its charge: that is no fire to be spread.
    steady = ground.session.steady_climb_k_h
    if steady is not None and steady > cap * MUCH_TOO_FAST:
        return Decision(Action.SPREAD, Reason("too_fast", climb), 10.0)
    return Decision(Action.ADD_NOTHING, Reason("too_fast", climb), 15.0)


def _long_enough(ground: Ground, aim: Aim) -> Decision | None:
    held_h = ground.session.held_h(ground.now)
    burning_h = (ground.now - ground.session.lit_at) / timedelta(hours=1)
    over = ground.latest is not None and ground.now >= ground.latest
    over = over or burning_h > aim.session_h + soot_hold_h(ground.session) + 2.0
    if over and held_h < aim.hold_h:
        return Decision(Action.HOLD_DONE, Reason("session", burning_h), 60.0)
    return _held_long_enough(ground.session, aim, held_h, over=over)


def _held_long_enough(session: Session, aim: Aim, held_h: float, *, over: bool) -> Decision | None:
    """The last fire is kept up, while there is time, until somebody sees the bare wall."""
    if not over and held_h < aim.hold_h + soot_hold_h(session):
        return None
    blacks = session.soot_seen.count("soot_black")
    clear = session.soot_seen[-1:] == ("soot_clear",)
    asked = sum(one.action is Action.LOOK_FOR_SOOT for one in session.advised)
    most = 0 if over else SOOT_HOLDS
    if aim.last and not clear and asked <= blacks <= most:
        return Decision(Action.LOOK_FOR_SOOT, Reason("soot", held_h), 10.0)
    return Decision(Action.HOLD_DONE, Reason("hold_done", held_h), 60.0)


def soot_hold_h(session: Session) -> float:
    """Hours by which the hold is longer, for soot that was seen."""
    if session.soot_seen[-1:] != ("soot_black",):
        return 0.0
    return SOOT_HOLD_H * min(session.soot_seen.count("soot_black"), SOOT_HOLDS)


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


def _by_time(ground: Ground, aim: Aim) -> Decision:
    """No thermometer: small charges by the clock, fewer after any sign of too much."""
    session = ground.session
    burning_h = (ground.now - session.lit_at) / timedelta(hours=1)
    held_h = session.held_h(ground.now)
    longer_h = soot_hold_h(session)
    if burning_h >= aim.session_h + longer_h:
        held_h = max(held_h, aim.hold_h + longer_h)
    if (enough := _held_long_enough(session, aim, held_h, over=False)) is not None:
        return enough
    since = ground.now - session.last_fed_at
    minutes = stoke_minutes(ground, aim)
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
    fed = sum(one.kg or aim.charge_kg for one in session.fed) + aim.lay_kg
    longer_kg = aim.charge_kg * longer_h * 60.0 / aim.stoke_minutes
    if fed + aim.charge_kg > aim.wood_kg + longer_kg + 0.5 * aim.charge_kg:
        return Decision(Action.ADD_NOTHING, Reason("plan"), minutes)
    kg = by_the_clock_kg(ground, aim)
    if kg < LEAST_PIECE * min(aim.charge_kg, piece_kg(aim.piece_mm)):
        return Decision(Action.ADD_NOTHING, Reason("plan"), minutes, gentler=WhyGentler.BUILDER)
    pieces = min(aim.charge_pieces, pieces_of(kg, aim.piece_mm))
    # A charge may weigh less than a piece, and no reading will tell that a whole one went on.
    kg = max(kg, pieces * piece_kg(aim.piece_mm))
    return Decision(Action.ADD, Reason("plan"), minutes, kg, pieces)


def _burn_down(ground: Ground, aim: Aim) -> Decision:
    """It is to end: nothing on; the door when only embers are left."""
    top_c = ground.session.top_c
    if ground.session.died_at is not None:
        return Decision(Action.SHUT_DOOR, Reason("finishing"))
    if top_c is not None and top_c > aim.high_c + FAR_ABOVE_K:
        return Decision(Action.SPREAD, Reason("above_band", top_c - aim.high_c), 15.0)
    return Decision(Action.ADD_NOTHING, Reason("finishing"), 45.0)


__all__ = ["Decision", "Ground", "Reason", "WallSays", "decide", "forbids_wood"]
