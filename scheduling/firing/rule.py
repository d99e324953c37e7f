"""The rule of thumb: firings as the trade does them, without any computing of the wall.

It stands beside the model: whichever asks for less fire wins. Common practice, no published
source: a first firing near 150 °C, then 175-200, about 300, 300-350, and a last one near 400.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from scheduling.firing.aim import BAND_ABOVE_K, BAND_BELOW_K, Aim, Laying, plateau_under
from scheduling.firing.response import SURE, Known, at_the_match, first_guess_k_kg
from scheduling.firing.wood import firing_kg, piece_mm_for, pieces_of
from scheduling.oven.makeup import MakeUp

LADDER_C = (150.0, 185.0, 280.0, 340.0, 400.0)
HOLD_H = (3.0, 3.0, 3.5, 3.0, 1.5)
SLOW_BELOW_C = 200.0
CLIMB_SLOW_C_H, CLIMB_C_H = 100.0, 150.0
BLIND_C, BLIND_SHARE = (250.0, 400.0), (0.5, 0.75)
"""Of the charges and of the climb where nobody can read the dome, by plateau: so little that a
dome which answers wood strongly stays near its aim while it is wet (own choice)."""

FIRST_LOOK_MINUTES = 30.0
"""From the match to the first reading."""

LAID_FOR = 0.8
"""The laying is sized for so much of the allowed climb (own choice)."""

UNSEEN_H = 1.0
"""No laying lifts the dome further than it may climb in so long (own choice)."""

COLD_C, LONGEST_H, SHORTEST_HOLD_H = 30.0, 8.0, 1.0
"""Where a climb is reckoned from; the longest fire and the shortest hold that it is cut to."""

WOOD_WITHIN = 1.6
"""Wood for a whole firing, where no ensemble has said it: within this factor in nine of ten."""

LONG_GAP_D = 14
SOAKED_STEPS_BACK, GAP_STEPS_BACK = 2, 1


@dataclass(frozen=True, slots=True)
class Past:
    """What the rule knows of the firings so far: how many steps of the ladder are done, and
    what has set the oven back since."""

    steps: int = 0
    soaked: bool = False
    gap_d: int = 0

    @property
    def step(self) -> int:
        """The step of the ladder that comes next."""
        back = SOAKED_STEPS_BACK if self.soaked else 0
        if self.gap_d > LONG_GAP_D:
            back = max(back, GAP_STEPS_BACK)
        return max(0, min(self.steps, len(LADDER_C) - 1) - back)


@dataclass(frozen=True, slots=True)
class Bounds:
    """What may only make a firing gentler: the builder's lid, which nothing is to pass; the
    highest plateau; the instrument's end, the hours somebody has, the stoking window in minutes."""

    lid_c: float | None = None
    cap_c: float | None = None
    readable_c: float | None = None
    session_h: float | None = None
    stoke_min_minutes: float = 15.0
    stoke_max_minutes: float = 60.0
    climb_low_k_h: float = CLIMB_SLOW_C_H
    climb_high_k_h: float = 170.0
    final_c: float | None = None
    step_k: float | None = None

    def climb_cap(self, top_c: float) -> float:
        """Fastest climb allowed at that temperature, K/h."""
        return self.climb_low_k_h if top_c < SLOW_BELOW_C else self.climb_high_k_h


def steps_done(reached_c: Sequence[float]) -> int:
    """Steps of the ladder done, from what completed firings reached (their aim, where nobody
    could read). A firing that only came near a step has not done it."""
    done = 0
    for one in reached_c:
        if done < len(LADDER_C) and one >= LADDER_C[done] - 25.0:
            done += 1
    return done


def remaining(makeup: MakeUp, past: Past, number: int, bounds: Bounds) -> tuple[Aim, ...]:
    """The firings left by the rule, the next one numbered ``number``.

    A bound that keeps a step from its height leaves it lower, never out.
    """
    steps = range(past.step, len(LADDER_C))
    return tuple(
        sized(
            makeup,
            bounds,
            number=number + index,
            plateau_c=LADDER_C[step],
            hold_h=HOLD_H[step],
            last=step == len(LADDER_C) - 1,
            left=len(steps) - index,
        )
        for index, step in enumerate(steps)
    )


def sized(
    makeup: MakeUp,
    bounds: Bounds,
    *,
    number: int,
    plateau_c: float,
    hold_h: float,
    last: bool,
    left: int,
    climb_c_per_h: float | None = None,
    wood_kg: float | None = None,
    wood_range_kg: tuple[float, float] | None = None,
    stoke_minutes: float | None = None,
    limited_by: str = "aim",
    morning_c: float | None = None,
    water_left_l: float | None = None,
) -> Aim:
    """An aim with its wood and its band, every bound applied."""
    height, by = plateau_c, limited_by
    for bound, name in (
        (plateau_under(bounds.lid_c), "builder"),
        (bounds.cap_c, "builder"),
        (bounds.readable_c, "instrument"),
        (bounds.final_c, "builder"),
    ):
        if bound is not None and bound < height:
            height, by = bound, name
    climb = min(climb_c_per_h or CLIMB_C_H, bounds.climb_cap(height))
    # A maker's slow climb takes a low fire where a day is too short for a high one.
    in_time_c = COLD_C + climb * (LONGEST_H - SHORTEST_HOLD_H)
    if in_time_c < height:
        height, by = in_time_c, "climb"
    climb_h = max(0.5, (height - COLD_C) / climb)
    hold_h = min(hold_h, LONGEST_H - climb_h)
    session_h = hold_h + climb_h
    if bounds.session_h is not None and bounds.session_h < session_h:
        hold_h = max(0.5, hold_h - (session_h - bounds.session_h))
        session_h, by = bounds.session_h, "session"
    blind = makeup.instrument is None
    share = float(np.interp(height, BLIND_C, BLIND_SHARE)) if blind else 1.0
    # Small charges often: a dome swings less than under large ones, and none is a surprise.
    minutes = stoke_minutes or 30.0
    minutes = min(max(minutes, bounds.stoke_min_minutes), bounds.stoke_max_minutes)
    if wood_kg is None:
        wood_kg = firing_kg(makeup, height, session_h)
    least_kg, most_kg = wood_range_kg or (wood_kg / WOOD_WITHIN, wood_kg * WOOD_WITHIN)
    kg = share * wood_kg
    charges = max(1.0, session_h * 60.0 / minutes)
    piece = piece_mm_for(height)
    charge = kg / charges
    return Aim(
        number=number,
        plateau_c=round(height, 1),
        low_c=round(height - BAND_BELOW_K, 1),
        high_c=round(height + BAND_ABOVE_K, 1),
        climb_c_per_h=round(climb * share, 1),
        hold_h=round(hold_h, 2),
        session_h=round(session_h, 2),
        stoke_minutes=minutes,
        wood_kg=round(kg, 2),
        wood_range_kg=(round(share * least_kg, 2), round(share * most_kg, 2)),
        lay_kg=_laid_kg(
            Known(first_guess_k_kg(makeup)), bounds, min(climb, bounds.climb_low_k_h), height
        ),
        charge_kg=round(charge, 2),
        charge_pieces=pieces_of(charge, piece),
        piece_mm=piece,
        laying=Laying.SMALL_AT_MOUTH if height < SLOW_BELOW_C else Laying.TOP_LIT,
        limited_by=by,
        last=last,
        left=left,
        morning_c=morning_c,
        water_left_l=water_left_l,
    )


def laid_for(aim: Aim, bounds: Bounds, known: Known) -> Aim:
    """The aim with its first laying for a dome that stands where it is known to: a warm one loses
    heat from the start, and wants more."""
    climb = min(aim.climb_c_per_h, bounds.climb_cap(known.start_c))
    return aim.model_copy(update={"lay_kg": _laid_kg(known, bounds, climb, aim.plateau_c)})


def _laid_kg(known: Known, bounds: Bounds, climb_k_h: float, plateau_c: float) -> float:
    """The first laying: thin wood that climbs as it may until the first look, and in an hour with
    no look passes neither that climb nor a lid."""
    start_c = known.start_c
    answer = at_the_match(known)
    rise_k = LAID_FOR * climb_k_h * FIRST_LOOK_MINUTES / 60.0
    goal_c = min(start_c + rise_k, plateau_c)
    peak_c = min(start_c + climb_k_h * UNSEEN_H, plateau_c + BAND_ABOVE_K)
    kg = min(answer.kg_to(goal_c, FIRST_LOOK_MINUTES), answer.kg_below(peak_c))
    if bounds.lid_c is not None:
        kg = min(kg, answer.kg_below(bounds.lid_c, sure=SURE))
    return math.floor(max(0.0, kg) * 100.0) / 100.0
