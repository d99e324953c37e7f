"""How much wood: so that the crown is where it should be at the next look, and peaks no higher."""

import math
from dataclasses import replace
from datetime import timedelta

import numpy as np

from scheduling.firing.aim import Action, Aim
from scheduling.firing.dome import STEP_H
from scheduling.firing.ground import Decision, Ground, Reason
from scheduling.firing.response import CATCHES_C, SURE, Response, response_of, unread_room_kg
from scheduling.firing.rule import SLOW_BELOW_C
from scheduling.firing.session import Session, burnt_kg_h, usually_late
from scheduling.firing.unit import slipped
from scheduling.firing.wood import KINDLING_MM, piece_kg, pieces_of

JUST_FED = timedelta(minutes=12)
"""Wood this young has not shown yet what it does."""

PEAK_ABOVE_K, PEAK_AT_STEAM_K = 25.0, 5.0
"""A charge is sized so that it does not lift the crown further above where it is led, and hardly
above it where steam binds (own choice)."""

OF_CLIMB = 0.9
"""A charge is sized for so much of the allowed climb (own choice)."""

NEAR_GOAL_K = 6.0
"""A crown that will stand this near to where it should needs nothing."""

SAGS_K = 18.0
"""The next look is due when the crown has fallen so far from its peak, or under its goal."""

SOONEST_ASKED = 10.0
"""Nobody is asked again within so many minutes (own choice)."""

SOONEST, UNFED_LATEST = 15.0, 30.0
"""Minutes to the next look: no sooner, and no later if nothing went on (own choice)."""

EARLY, EARLY_LATEST, CLIMBING_LATEST = timedelta(minutes=75), 30.0, 40.0
"""A young fire, whose wood nobody knows yet, is looked at within so many minutes, and one that is
still far from its goal (own choice)."""

PEAK_SHOWS = (timedelta(minutes=9), timedelta(minutes=24))
"""So long after wood went on the crown is near its highest: whoever reads only between charges
never sees that (own choice)."""

FAR_K = 40.0
"""So far below its goal."""

SOOT_NEEDS_K = 15.0
"""The last firing is led so far above its plateau, in a dry dome: the sides, where nobody reads,
must get hot enough for their soot to burn (own choice)."""

MOST_CHARGE, MOST_LEARNT_CHARGE, LEARNT = 1.5, 2.5, 3
"""Of the usual charge, at most; and once so many readings have told how this dome answers (own
choice)."""

SURELY_FAHRENHEIT = 0.01
"""Chance of the other unit, up to which numbers taken for °F are °F (own choice)."""

BARELY_CLIMBING_K_H = 15.0
"""Two readings by hand differ by so much an hour where nothing burns (own choice)."""

RELIGHT_KG = 0.25
"""A handful of thin sticks to light with what lies there (own choice)."""

STEAM_NEAR, STEAM_OVER = 0.85, 1.0
"""Share of the steam limit, now or ahead, from which the crown is led no higher than it is, and
from which nothing is added (own choice)."""

BURNT_DOWN = 0.15
"""Of a charge: with less than this burning, in a dome that does not light wood by itself, new
wood has to be lit, and one charge is enough (own choice)."""

EXPECTED_WITHIN_K = 10.0
"""How near to what is computed the next reading should lie, beyond what is not known (own
choice)."""

LEAST_PIECE = 0.6
"""Less than this share of a piece is no fire: wait instead."""


def steered(ground: Ground, aim: Aim, top_c: float) -> Decision:
    """Wood so that the crown is where it should be at the next look, and never peaks above."""
    decision = _steered(ground, aim, top_c)
    if decision.minutes is not None:
        # Whoever mostly reads later than asked is asked sooner.
        soonest = ground.bounds.stoke_min_minutes if decision.kg else SOONEST_ASKED
        asked = max(soonest, decision.minutes - _late(ground))
        decision = replace(decision, minutes=5.0 * round(asked / 5.0))
    lid_c, expect_c = ground.bounds.lid_c, decision.expect_c
    if lid_c is None or expect_c is None:
        return decision
    # Wood that went on before the lid was ordered may pass it: then nothing is foretold.
    expect_c = (expect_c[0], min(expect_c[1], lid_c)) if sum(expect_c) / 2.0 <= lid_c else None
    return replace(decision, expect_c=expect_c)


def _steered(ground: Ground, aim: Aim, top_c: float) -> Decision:
    session, climb = ground.session, ground.session.climb_k_h
    since = (ground.now - session.last_fed_at) / timedelta(minutes=1)
    answer = response_of(session, ground.now, ground.known)
    why = _reason(ground, aim, top_c)
    if since < JUST_FED / timedelta(minutes=1) and (climb is None or climb >= 0):
        rising = (top_c - 5.0, max(top_c, answer.after_c(0.0, SOONEST)) + 20.0)
        return Decision(Action.WAIT, ground.just_fed(), SOONEST, expect_c=rising)
    barely = climb is not None and climb < BARELY_CLIMBING_K_H
    goal_c = _goal_c(ground, aim, top_c)
    room_kg = _room_kg(ground, answer, goal_c)
    if barely and answer.late_kg > 0.0 and not session.lit_again_in_vain:
        return _lit_again(room_kg, since)
    if answer.after_c(0.0, SOONEST) >= goal_c - NEAR_GOAL_K:
        minutes = max(_minutes_left_alone(answer, goal_c), _soonest(ground))
        return Decision(Action.WAIT, why, minutes, expect_c=_expected_c(answer, 0.0, minutes))
    burnt_down = top_c < CATCHES_C and answer.there_kg < BURNT_DOWN * aim.charge_kg
    minutes = UNFED_LATEST
    for _ in range(2):
        most_kg = _most_kg(ground, aim, answer, minutes, burnt_down=burnt_down)
        kg = min(_wanted_kg(ground, aim, answer, top_c, goal_c, minutes), room_kg, most_kg)
        minutes = _next_look(ground, aim, answer, max(kg, 0.0), top_c)
    if kg < LEAST_PIECE * piece_kg(aim.piece_mm) or room_kg < piece_kg(aim.piece_mm):
        least_kg = LEAST_PIECE * RELIGHT_KG
        if burnt_down and kg >= 0.5 * least_kg and room_kg >= least_kg:
            # Nothing burns and a whole piece is too much: sticks, or the fire stays out. A light
            # shell may want less than a handful; less than that is no fire.
            return _sticks(max(min(kg, room_kg), least_kg), Reason("burnt_down"), minutes)
        expect_c = _expected_c(answer, 0.0, SOONEST)
        return Decision(Action.WAIT, why, SOONEST, expect_c=expect_c)
    pieces = min(pieces_of(kg, aim.piece_mm), max(1, whole_pieces(room_kg, aim.piece_mm)))
    minutes = _next_look(ground, aim, answer, kg, top_c)
    return Decision(
        Action.ADD,
        Reason("burnt_down") if burnt_down else why,
        minutes,
        round(kg, 2),
        pieces,
        _expected_c(answer, kg, minutes),
        ground.wall.plateau_at if ground.wall is not None else None,
    )


def _wanted_kg(
    ground: Ground, aim: Aim, answer: Response, top_c: float, goal_c: float, minutes: float
) -> float:
    """On the way up, what takes the crown as far as it may climb until the next look; near its
    goal, what keeps it around it until then, for it will have peaked between."""
    climb_cap = min(ground.bounds.climb_cap(top_c), max(aim.climb_c_per_h, 1.0))
    reach_c = top_c + OF_CLIMB * climb_cap * minutes / 60.0
    if reach_c < goal_c:
        return answer.kg_to(reach_c, minutes)
    return max(answer.kg_around(goal_c, minutes), answer.kg_to(goal_c - SAGS_K, minutes))


def _next_look(ground: Ground, aim: Aim, answer: Response, kg: float, top_c: float) -> float:
    """Minutes until what went on has been seen to do its work, and before it is all gone: when the
    crown has fallen from its peak, or under its goal."""
    soonest = _soonest(ground)
    if kg > 0.0 and not _peak_seen(ground.session):
        return soonest
    goal_c, course_c = _goal_c(ground, aim, top_c), answer.course_c(kg)
    peak = int(np.argmax(course_c))
    spent = np.flatnonzero(
        (np.arange(course_c.size) > peak) & (course_c < min(course_c[peak], goal_c) - SAGS_K)
    )
    last = course_c.size - 1 if not spent.size else int(spent[0])
    minutes = 5.0 * round((last + 1) * STEP_H * 12.0)
    latest = max(UNFED_LATEST, ground.bounds.stoke_max_minutes)
    if top_c < goal_c - FAR_K or _wet(ground, aim):
        latest = CLIMBING_LATEST
    if ground.now - ground.session.lit_at < EARLY or answer.learnt < LEARNT:
        latest = EARLY_LATEST
    left_h = aim.hold_h - ground.session.held_h(ground.now)
    if top_c >= aim.low_c and left_h > 0.0:
        # It is looked at when it has been held long enough, not an hour later.
        latest = min(latest, 5.0 * math.ceil(12.0 * left_h))
    return min(max(minutes, soonest), max(latest, soonest))


def _late(ground: Ground) -> float:
    """Minutes by which this owner reads later than asked."""
    return usually_late((*ground.known.past, ground.session))


def _soonest(ground: Ground) -> float:
    """Minutes until somebody can be expected to look again."""
    return max(SOONEST, ground.bounds.stoke_min_minutes, SOONEST_ASKED + _late(ground))


def _peak_seen(session: Session) -> bool:
    """Whether this fire was ever read when a charge stood in full flames."""
    early, late = PEAK_SHOWS
    fed = [one.at for one in session.fed]
    return any(early <= one.at - at <= late for one in session.believed for at in fed)


def _minutes_left_alone(answer: Response, goal_c: float) -> float:
    """Minutes until the crown wants wood, nothing going on now."""
    low = np.flatnonzero(answer.course_c(0.0) < goal_c - NEAR_GOAL_K)
    minutes = UNFED_LATEST if not low.size else 5.0 * round((int(low[0]) + 1) * STEP_H * 12.0)
    return min(max(minutes, SOONEST), UNFED_LATEST)


def _most_kg(
    ground: Ground, aim: Aim, answer: Response, minutes: float, *, burnt_down: bool
) -> float:
    """The largest charge, whatever is computed: so many times what was planned for that time, or
    was burnt in as long in the last fire, where that left the dome no hotter than it should be."""
    last = ground.session.last
    if last is not None and last.approximate:
        return 0.5 * aim.charge_kg
    if _may_look_weak(ground) and _wet(ground, aim):
        return aim.charge_kg if burnt_down else MOST_CHARGE * aim.charge_kg
    planned_kg_h = aim.charge_kg * 60.0 / aim.stoke_minutes
    rate_kg_h = max(planned_kg_h, *(burnt_kg_h(one) for one in _last_told(ground)), 0.0)
    usual_kg = rate_kg_h * max(minutes, aim.stoke_minutes) / 60.0
    learnt = answer.learnt >= LEARNT and not burnt_down
    return (MOST_LEARNT_CHARGE if learnt else MOST_CHARGE) * usual_kg


def _last_told(ground: Ground) -> tuple[Session, ...]:
    """The fire before, if it tells how much wood this dome takes."""
    return tuple(
        one
        for one in ground.known.past[-1:]
        if one.aim is not None
        and len(one.believed) > LEARNT
        and (one.peak_c or 0.0) < one.aim.high_c
        and all(read.believed for read in one.readings)
        and (one.believed[-1].unit_certain or one.believed[-1].taken_in == "C")
    )


def _may_look_weak(ground: Ground) -> bool:
    """Whether its last number may be °C that was taken for °F, which makes any dome look weak:
    nobody has named its unit, and the dome and the wood do not speak clearly for °F either."""
    session, last = ground.session, ground.session.last
    if last is None or last.unit_certain or last.taken_in == "C":
        return False
    return last.taken_in is None or slipped(session, ground.known, last).chance > SURELY_FAHRENHEIT


def _expected_c(answer: Response, kg: float, minutes: float) -> tuple[float, float]:
    """Where the crown should lie at the next look."""
    low_c, high_c = answer.range_c(kg, minutes)
    return low_c - EXPECTED_WITHIN_K, high_c + EXPECTED_WITHIN_K


def _wet(ground: Ground, aim: Aim) -> bool:
    """Whether steam may bind: of a dome that is not known to be dry, or in its first fires."""
    return aim.plateau_c < SLOW_BELOW_C or (ground.wall is not None and not ground.wall.dry)


def _room_kg(ground: Ground, answer: Response, goal_c: float) -> float:
    """The most wood that lifts the crown, at the strong end, hardly above where steam binds it, and
    surely nowhere above the builder's lid."""
    above_k = PEAK_AT_STEAM_K if _steam_binds(ground) else PEAK_ABOVE_K
    room_kg, lid_c = answer.kg_below(goal_c + above_k), ground.bounds.lid_c
    return room_kg if lid_c is None else min(room_kg, answer.kg_below(lid_c, sure=SURE))


def by_the_clock_kg(ground: Ground, aim: Aim) -> float:
    """A charge for a dome that nobody reads: as planned, and less where it might pass a lid."""
    lid_c = ground.bounds.lid_c
    if lid_c is None:
        return aim.charge_kg
    room_kg = unread_room_kg(ground.session, ground.now, ground.known, lid_c)
    pieces = min(aim.charge_pieces, whole_pieces(room_kg, aim.piece_mm))
    return min(aim.charge_kg, pieces * piece_kg(aim.piece_mm))


def ready_kg(ground: Ground, aim: Aim) -> float:
    """What to have at hand for the next reading: a charge, and under a lid no more than would go
    on if the crown had fallen since the last one as it should."""
    session, lid_c = ground.session, ground.bounds.lid_c
    if session.last is None or session.top_c is None:
        return aim.charge_kg if lid_c is None else by_the_clock_kg(ground, aim)
    if session.top_c >= aim.high_c:
        return 0.0
    if lid_c is None:
        return aim.charge_kg
    room_kg = response_of(session, ground.now, ground.known).kg_below(lid_c, sure=SURE)
    pieces = min(aim.charge_pieces, whole_pieces(room_kg, aim.piece_mm))
    return min(aim.charge_kg, pieces * piece_kg(aim.piece_mm))


def whole_pieces(kg: float, piece_mm: float) -> int:
    """How many pieces weigh no more than that."""
    return max(0, math.floor(kg / piece_kg(piece_mm) + 1e-9))


def _goal_c(ground: Ground, aim: Aim, top_c: float) -> float:
    """Where the crown is led: no higher than it is while the steam is near its limit, or would
    pass it on the way up."""
    goal_c = aim.plateau_c + (SOOT_NEEDS_K if aim.last else 0.0)
    return min(goal_c, top_c) if _steam_binds(ground) else goal_c


def _steam_binds(ground: Ground) -> bool:
    """Whether the steam is near its limit, or would pass it on the way up."""
    wall = ground.wall
    return wall is not None and (
        (wall.steam_share or 0.0) >= STEAM_NEAR or (wall.steam_share_led or 0.0) >= STEAM_OVER
    )


def _lit_again(room_kg: float, since: float) -> Decision:
    """Wood lies in there that does not burn: no more on top of it, only a little to light it."""
    why = Reason("not_burning")
    if since < JUST_FED / timedelta(minutes=1) or room_kg < RELIGHT_KG:
        return Decision(Action.ADD_NOTHING, why, 15.0)
    return _sticks(RELIGHT_KG, why, 20.0)


def _sticks(kg: float, why: Reason, minutes: float) -> Decision:
    """Thin wood, that takes at once and is soon seen."""
    sticks = pieces_of(kg, KINDLING_MM)
    return Decision(Action.ADD, why, minutes, round(kg, 2), sticks, piece_mm=KINDLING_MM)


def _reason(ground: Ground, aim: Aim, top_c: float) -> Reason:
    """Where the crown stands, in one name and a number."""
    climb = ground.session.climb_k_h
    if top_c >= aim.low_c:
        return Reason("in_band", ground.session.held_h(ground.now))
    if climb is not None and climb > 0.4 * ground.bounds.climb_cap(top_c):
        return Reason("climbing", climb)
    if climb is not None and climb >= 0.0:
        return Reason("too_slow", climb)
    return Reason("below_band", aim.low_c - top_c)


def stoke_minutes(ground: Ground, aim: Aim) -> float:
    """The next stoke by the wall's forecast, inside the builder's window."""
    minutes = aim.stoke_minutes
    if ground.wall is not None and ground.wall.falls_at is not None:
        minutes = (ground.wall.falls_at - ground.now) / timedelta(minutes=1)
    return min(
        max(minutes, ground.bounds.stoke_min_minutes), max(30.0, ground.bounds.stoke_max_minutes)
    )
