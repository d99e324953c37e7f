"""How much wood: so that the crown is where it should be at the next look, and peaks no higher."""

import math
from dataclasses import replace
from datetime import timedelta

from scheduling.firing.aim import Action, Aim
from scheduling.firing.ground import Decision, Ground, Reason
from scheduling.firing.response import AHEAD, CATCHES_C, Response, response_of, unread_room_kg
from scheduling.firing.rule import SLOW_BELOW_C
from scheduling.firing.wood import KINDLING_MM, piece_kg, pieces_of

JUST_FED = timedelta(minutes=12)
"""Wood this young has not shown yet what it does."""

PEAK_ABOVE_WET_K, PEAK_ABOVE_K = 15.0, 30.0
"""A charge is sized so that it does not lift the crown further above the plateau: less far in
the first firings, while the wall is wet (own choice)."""

OF_CLIMB = 0.9
"""A charge is sized for so much of the allowed climb (own choice)."""

NEAR_GOAL_K = 5.0
"""A crown that will stand this near to where it should needs nothing."""

SOOT_NEEDS_K = 15.0
"""The last firing is led so far above its plateau, in a dry dome: the sides, where nobody reads,
must get hot enough for their soot to burn (own choice)."""

MOST_CHARGE = 1.5
"""Of the planned charge, at most (own choice)."""

SMOULDERING = 0.3
"""Of a charge: so much on the hearth that nothing was seen of does not burn (own choice)."""

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

EXPECTED_WITHIN_K = 20.0
"""How near to what is computed the next reading should lie (own choice)."""

LEAST_PIECE = 0.6
"""Less than this share of a piece is no fire: wait instead."""


def steered(ground: Ground, aim: Aim, top_c: float) -> Decision:
    """Wood so that the crown is where it should be at the next look, and never peaks above."""
    decision = _steered(ground, aim, top_c)
    lid_c, expect_c = ground.bounds.lid_c, decision.expect_c
    if lid_c is None or expect_c is None:
        return decision
    # Wood that went on before the lid was ordered may pass it: then nothing is foretold.
    expect_c = (expect_c[0], min(expect_c[1], lid_c)) if sum(expect_c) / 2.0 <= lid_c else None
    return replace(decision, expect_c=expect_c)


def _steered(ground: Ground, aim: Aim, top_c: float) -> Decision:
    session, climb = ground.session, ground.session.climb_k_h
    minutes = stoke_minutes(ground, aim)
    since = (ground.now - session.last_fed_at) / timedelta(minutes=1)
    answer = response_of(session, ground.now, ground.gain_k_kg)
    unfed_c = answer.after_c(top_c, 0.0, minutes)
    why = _reason(ground, aim, top_c)
    if since < JUST_FED / timedelta(minutes=1) and (climb is None or climb >= 0):
        rising = (top_c - 5.0, max(top_c, unfed_c) + 20.0)
        return Decision(Action.WAIT, ground.just_fed(), 15.0, expect_c=rising)
    goal_c = _goal_c(ground, aim, top_c)
    above_k = PEAK_ABOVE_WET_K if aim.plateau_c < SLOW_BELOW_C else PEAK_ABOVE_K
    peak_c = _under_lid(ground, goal_c + above_k)
    room_kg = answer.kg_below(peak_c, top_c, AHEAD)
    barely = climb is not None and climb < BARELY_CLIMBING_K_H
    if barely and _smoulders(answer, aim) and not session.lit_again_in_vain:
        return _lit_again(room_kg, since)
    if unfed_c >= goal_c - NEAR_GOAL_K:
        expect_c = _left_alone_c(unfed_c, top_c)
        return Decision(Action.WAIT, why, min(minutes, 30.0), expect_c=expect_c)
    most_kg = MOST_CHARGE * aim.charge_kg
    burnt_down = top_c < CATCHES_C and answer.burning_kg < BURNT_DOWN * aim.charge_kg
    if burnt_down:
        most_kg = aim.charge_kg
    if session.last is not None and session.last.approximate:
        most_kg = 0.5 * aim.charge_kg
    climb_cap = min(ground.bounds.climb_cap(top_c), aim.climb_c_per_h)
    end_c = min(goal_c, top_c + OF_CLIMB * climb_cap * minutes / 60.0)
    kg = min(answer.kg_to(end_c, top_c, minutes), room_kg, most_kg)
    if kg < LEAST_PIECE * piece_kg(aim.piece_mm) or room_kg < piece_kg(aim.piece_mm):
        least_kg = LEAST_PIECE * RELIGHT_KG
        if burnt_down and kg >= 0.5 * least_kg and room_kg >= least_kg:
            # Nothing burns and a whole piece is too much: sticks, or the fire stays out. A light
            # shell may want less than a handful; less than that is no fire.
            return _sticks(max(min(kg, room_kg), least_kg), Reason("burnt_down"), minutes)
        return Decision(Action.WAIT, why, 15.0, expect_c=_left_alone_c(unfed_c, top_c))
    pieces = pieces_of(kg, aim.piece_mm)
    if ground.bounds.lid_c is not None:
        pieces = min(pieces, whole_pieces(room_kg, aim.piece_mm))
    fed_c = answer.after_c(top_c, kg, minutes)
    return Decision(
        Action.ADD,
        Reason("burnt_down") if burnt_down else why,
        minutes,
        round(kg, 2),
        pieces,
        (fed_c - EXPECTED_WITHIN_K, fed_c + EXPECTED_WITHIN_K),
        ground.wall.plateau_at if ground.wall is not None else None,
    )


def by_the_clock_kg(ground: Ground, aim: Aim) -> float:
    """A charge for a dome that nobody reads: as planned, and less where it might pass a lid."""
    lid_c = ground.bounds.lid_c
    if lid_c is None:
        return aim.charge_kg
    session, guess_k_kg = ground.session, ground.gain_k_kg
    room_kg = unread_room_kg(session, ground.now, guess_k_kg, ground.start_c, lid_c)
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
    answer = response_of(session, ground.now, ground.gain_k_kg)
    since_h = (ground.now - session.last.at) / timedelta(hours=1)
    room_kg = answer.kg_below(lid_c, answer.unfed_c(session.top_c, since_h), AHEAD)
    pieces = min(aim.charge_pieces, whole_pieces(room_kg, aim.piece_mm))
    return min(aim.charge_kg, pieces * piece_kg(aim.piece_mm))


def _under_lid(ground: Ground, peak_c: float) -> float:
    """Where a charge may lift the crown at the strong end: nowhere above the builder's lid."""
    lid_c = ground.bounds.lid_c
    return peak_c if lid_c is None else min(peak_c, lid_c)


def whole_pieces(kg: float, piece_mm: float) -> int:
    """How many pieces weigh no more than that."""
    return max(0, math.floor(kg / piece_kg(piece_mm) + 1e-9))


def _left_alone_c(unfed_c: float, top_c: float) -> tuple[float, float]:
    """Where the crown may be at the next look if nothing goes on."""
    return min(unfed_c, top_c) - 12.0, max(unfed_c, top_c) + 10.0


def _goal_c(ground: Ground, aim: Aim, top_c: float) -> float:
    """Where the crown is led: no higher than it is while the steam is near its limit, or would
    pass it on the way up."""
    goal_c = aim.plateau_c + (SOOT_NEEDS_K if aim.last else 0.0)
    wall = ground.wall
    if wall is not None and (
        (wall.steam_share or 0.0) >= STEAM_NEAR or (wall.steam_share_led or 0.0) >= STEAM_OVER
    ):
        return min(goal_c, top_c)
    return goal_c


def _smoulders(answer: Response, aim: Aim) -> bool:
    """Whether wood lies in there that does not burn."""
    enough_kg = SMOULDERING * aim.charge_kg
    return answer.late_kg > enough_kg or (not answer.caught and answer.there_kg > enough_kg)


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
