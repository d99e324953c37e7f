"""The remaining break-in, computed from what is believed of the oven.

One planner for the first plan, a firing that fell short or ran hot, a gap, a soaking, a long
idle time: each firing takes the lowest of what the limits allow, is tried out on the ensemble,
and the next one starts from the state that it leaves.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np

from scheduling.breakin.fire_size import charge, stoke_minutes
from scheduling.breakin.limits import Limits
from scheduling.breakin.plan import (
    Course,
    Firing,
    LimitedBy,
    Litres,
    Moment,
    Plan,
    Reason,
    Unfinished,
)
from scheduling.breakin.trial import (
    Profile,
    Tried,
    hearth_dry,
    is_dry,
    steam_plateau_c,
    steam_share,
    tried,
)
from scheduling.oven.belief import Belief
from scheduling.oven.makeup import Door
from scheduling.oven.passage import cooled
from scheduling.oven.stand import Stand
from scheduling.oven.surroundings import Surroundings

GRID_K = 5.0
LEAST_C = 90.0
"""Steam sets no plateau lower: nothing boils there."""

FINAL_WITHIN_K = 10.0
"""A last fire this near to its height is one: soot clears from about 380 °C on."""

INSTRUMENT_MARGIN_K = 10.0
WARM_UP_HOLD_H = 1.0
MORNING_H = 16.0
EMBERS_H = 0.5
NEAR_K = 0.5


def plan_break_in(
    belief: Belief,
    limits: Limits,
    surroundings: Surroundings,
    starts: Sequence[datetime],
    session_h: float | Sequence[float] | None = None,
    *,
    with_course: bool = False,
) -> Plan:
    """All firings from ``belief`` to a finished oven.

    ``starts`` are the instants at which fires can be lit, ascending; past the last one they
    repeat daily. ``session_h`` is how long somebody can stay, for all firings or for each.
    Raises ValueError without a start, or with one before ``belief.at``.
    """
    if not starts:
        raise ValueError("a plan needs a first start")
    if starts[0] < belief.at:
        raise ValueError("the first start lies before what is believed")
    firings: list[Firing] = []
    watch = _Recorder(belief) if with_course else None
    stand = _quenched(belief.present)
    clock = _Starts(starts)
    why: Unfinished | None = None
    while True:
        if _finished(belief, stand, limits):
            break
        if len(firings) >= limits.most_firings:
            why = Unfinished.STILL_WET
            break
        start = clock.after(firings[-1].end if firings else None)
        stand = cooled(belief.ensemble, stand, start, surroundings, watch)
        if firings:
            firings[-1] = _with_morning(belief, firings[-1], stand)
        hours = _session_h(session_h, len(firings), limits)
        chosen = _chosen(belief, stand, limits, surroundings, hours)
        firing, done = _fired(belief, stand, chosen, limits, surroundings, watch)
        stand = _after(belief, done, surroundings, watch)
        firings.append(firing)
        if (why := _no_further(belief, firings, stand, limits)) is not None:
            break
    if firings:
        end = firings[-1].end + timedelta(hours=MORNING_H)
        stand = cooled(belief.ensemble, stand, end, surroundings, watch)
        firings[-1] = _with_morning(belief, firings[-1], stand).model_copy(
            update={"last": why is None}
        )
    return Plan(
        at=belief.at,
        firings=tuple(firings),
        finished=why is None,
        unfinished=why,
        water_left_l=_litres(belief, belief.present),
        course=watch.course() if watch is not None else None,
    )


def next_firing(
    belief: Belief,
    limits: Limits,
    surroundings: Surroundings,
    start: datetime,
    session_h: float | None = None,
) -> Firing | None:
    """The next firing alone, lit at ``start``; None when nothing is left to do."""
    stand = _quenched(belief.present)
    if _finished(belief, stand, limits):
        return None
    stand = cooled(belief.ensemble, stand, start, surroundings)
    chosen = _chosen(belief, stand, limits, surroundings, _session_h(session_h, 0, limits))
    firing, done = _fired(belief, stand, chosen, limits, surroundings, None)
    stand = _after(belief, done, surroundings, None)
    end = firing.end + timedelta(hours=MORNING_H)
    last = _finished(belief, stand, limits)
    stand = cooled(belief.ensemble, stand, end, surroundings)
    return _with_morning(belief, firing, stand).model_copy(update={"last": last})


def firings_left(belief: Belief, limits: Limits, gap_d: float = 1.0) -> int:
    """About how many firings are left, ``gap_d`` days apart: no wall is stepped.

    A wet shell loses about a third of its fresh water in a firing at its ceiling; a dry one goes
    up by steps. For calendars of many ovens; the planner decides.
    """
    stand = _quenched(belief.present)
    if _finished(belief, stand, limits):
        return 0
    at = belief.at + timedelta(days=gap_d)
    built_on = stand.built_on_c(at)
    fresh = belief.ensemble.make_up
    capacity = max(1e-6, sum(layer.free_water_kg_m3 * layer.thickness_m for layer in fresh.shell))
    area = fresh.dome_area_m2
    wet = belief.water_l(limits.confidence) / (capacity * area)
    drying = int(np.ceil(min(wet, 1.5) / 0.45)) if wet > 1e-6 else 0
    reached = limits.first_c if built_on is None else max(built_on, limits.first_c - 30.0)
    reached += 25.0 * max(0, drying - 1)
    sinking = 5.0 * max(0.0, gap_d - 4.0)
    step = max(20.0, limits.step_k - sinking)
    steps = int(np.ceil(max(0.0, _target_c(belief, limits)[0] - reached) / step))
    idle = stand.fired_at is not None and (at - stand.fired_at).days >= limits.idle_d
    return min(limits.most_firings, max(1, drying + steps + int(idle)))


# ------------------------------------------------------------ choosing one


def _chosen(
    belief: Belief, stand: Stand, limits: Limits, around: Surroundings, hours: float
) -> tuple[Profile, LimitedBy, Reason, bool]:
    """Plateau and hold of the next firing, and what bound them."""
    built_on = stand.built_on_c(stand.at)
    idle_d = (
        None if stand.fired_at is None else (stand.at - stand.fired_at).total_seconds() / 86400.0
    )
    warm_up = idle_d is not None and idle_d >= limits.idle_d
    target, target_by = _target_c(belief, limits)
    allowed = {target_by: target}
    allowed[LimitedBy.STEP] = (
        limits.first_c if built_on is None else max(limits.first_c, built_on + limits.step_k)
    )
    if warm_up:
        allowed[LimitedBy.STEP] = limits.warm_up_c
    dry = is_dry(belief, stand, limits)
    final = dry and target - FINAL_WITHIN_K <= allowed[LimitedBy.STEP]
    least_h = WARM_UP_HOLD_H if warm_up else min(limits.hold_least_h, 0.5 * hours)
    if final:
        least_h = min(least_h, limits.final_hold_h)
    start_c = belief.quantile(stand.face_c[:, 0], 0.5)
    in_time = limits.climbed_c(start_c, hours - least_h)
    allowed[LimitedBy.SESSION] = in_time
    top = GRID_K * float(np.floor(min(allowed.values()) / GRID_K + 1e-6))
    hold_h = min(limits.hold_h, max(least_h, hours - limits.climb_hours(start_c, top)))
    if warm_up or final:
        hold_h = least_h
    steam = top
    if not dry:
        # Judged over the longest hold, so that a longer evening cannot raise the plateau.
        steam = steam_plateau_c(belief, stand, top, min(LEAST_C, top), limits, around, GRID_K)
        if steam < top:
            allowed[LimitedBy.STEAM] = steam
    by = min(allowed, key=lambda one: (allowed[one], list(LimitedBy).index(one)))
    reason = Reason(
        allowed_c={one: round(value, 1) for one, value in allowed.items()},
        built_on_c=None if built_on is None else round(built_on, 1),
        dry=dry,
        idle_d=None if idle_d is None else round(idle_d, 1),
    )
    hold_h = min(limits.hold_h, max(hold_h, 0.0))
    return Profile(steam, hold_h, min(least_h, hold_h)), by, reason, warm_up


def _target_c(belief: Belief, limits: Limits) -> tuple[float, LimitedBy]:
    """The hottest that this break-in is to get, and what sets it."""
    bounds = [(limits.final_c, LimitedBy.SOOT), (limits.cap_c, LimitedBy.BUILDER)]
    tool = belief.make_up.instrument
    if tool is not None:
        bounds.append((tool.max_c - INSTRUMENT_MARGIN_K, LimitedBy.INSTRUMENT))
    height, by = min(bounds, key=lambda one: one[0])
    return GRID_K * float(np.floor(height / GRID_K + 1e-6)), by


def _fired(
    belief: Belief,
    stand: Stand,
    chosen: tuple[Profile, LimitedBy, Reason, bool],
    limits: Limits,
    around: Surroundings,
    watch: "_Recorder | None",
) -> tuple[Firing, Tried]:
    """Try the firing out from the believed state; lower it until its steam is within limits."""
    profile, by, reason, warm_up = chosen
    while True:
        mark = 0 if watch is None else watch.mark()
        done = tried(belief, stand, profile, limits, around, watch)
        share = steam_share(belief, done.stand, limits)
        if share <= 1.0 or profile.plateau_c <= LEAST_C:
            break
        if watch is not None:
            watch.back_to(mark)
        profile = replace(profile, plateau_c=profile.plateau_c - GRID_K)
        by = LimitedBy.STEAM
        reason = reason.model_copy(
            update={"allowed_c": {**reason.allowed_c, LimitedBy.STEAM: profile.plateau_c}}
        )
    climb_h = limits.climb_hours(done.start_c, profile.plateau_c)
    hours = climb_h + done.held_h
    minutes = stoke_minutes(profile.plateau_c, limits)
    least_kg, kg, most_kg = belief.ranged(done.wood_kg)
    firing = Firing(
        number=stand.firings + 1,
        start=stand.at,
        end=done.stand.at,
        start_c=round(done.start_c, 1),
        plateau_c=profile.plateau_c,
        climb_c_per_h=round((profile.plateau_c - done.start_c) / climb_h, 1) if climb_h > 0 else 0,
        hold_h=round(done.held_h, 2),
        stoke_minutes=minutes,
        wood_kg=round(kg, 1),
        wood_range_kg=(round(least_kg, 1), round(most_kg, 1)),
        charge=charge(kg, hours, minutes, profile.plateau_c),
        water_left_l=_litres(belief, done.stand),
        steam_share=round(share, 3),
        morning_c=0.0,
        limited_by=by,
        reason=reason,
        warm_up=warm_up,
    )
    return firing, done


def _after(belief: Belief, done: Tried, around: Surroundings, watch: "_Recorder | None") -> Stand:
    """The fire is over: embers for a while, then the door."""
    lit = done.stand.lit
    aim = None if lit is None else lit.aim_c
    before = done.stand.reached_c
    reached = aim if before is None or aim is None else max(before, aim)
    out = replace(
        done.stand,
        lit=None,
        reached_c=reached,
        fired_at=done.stand.at,
        firings=done.stand.firings + 1,
        door_on=False,
    )
    shut_at = out.at + timedelta(hours=EMBERS_H)
    embers = cooled(belief.ensemble, out, shut_at, around, watch)
    return replace(embers, door_on=belief.make_up.door is not Door.NONE)


def _quenched(stand: Stand) -> Stand:
    """A burning fire counts as over: the plan is for the next one."""
    if stand.lit is None:
        return stand
    reached = [c for c in (stand.reached_c, stand.top_c) if c is not None]
    if stand.lit.aim_c is not None and stand.top_c is not None:
        reached[-1] = min(stand.top_c, stand.lit.aim_c)
    return replace(
        stand,
        lit=None,
        reached_c=max(reached, default=None),
        fired_at=stand.at,
        firings=stand.firings + 1,
        door_on=True,
    )


def _finished(belief: Belief, stand: Stand, limits: Limits) -> bool:
    if stand.reached_c is None or not is_dry(belief, stand, limits):
        return False
    if not hearth_dry(belief, stand, limits):
        return False
    return stand.reached_c >= _target_c(belief, limits)[0] - FINAL_WITHIN_K


def _no_further(
    belief: Belief, firings: list[Firing], stand: Stand, limits: Limits
) -> Unfinished | None:
    """Whether something other than time keeps the oven from being finished."""
    if _finished(belief, stand, limits):
        _, by = _target_c(belief, limits)
        return {
            LimitedBy.INSTRUMENT: Unfinished.INSTRUMENT,
            LimitedBy.BUILDER: Unfinished.BUILDER,
        }.get(by)
    if len(firings) < 3:
        return None
    stuck = all(one.limited_by is LimitedBy.SESSION for one in firings[-3:])
    same = firings[-1].plateau_c <= firings[-3].plateau_c + NEAR_K
    if stuck and same and is_dry(belief, stand, limits):
        return Unfinished.SESSION
    return None


def _session_h(session_h: float | Sequence[float] | None, index: int, limits: Limits) -> float:
    if session_h is None:
        return limits.session_h
    if isinstance(session_h, int | float):
        return min(float(session_h), limits.session_h)
    return min(session_h[min(index, len(session_h) - 1)], limits.session_h)


class _Starts:
    """Instants at which fires can be lit; past the last they repeat daily."""

    def __init__(self, starts: Sequence[datetime]) -> None:
        self._left = list(starts)
        self._last = starts[-1]

    def after(self, end: datetime | None) -> datetime:
        """The first start at least eight hours after ``end``."""
        while True:
            start = self._left.pop(0) if self._left else self._last + timedelta(days=1)
            self._last = max(self._last, start)
            if end is None or start >= end + timedelta(hours=8):
                return start


# ------------------------------------------------------------ telling


def _with_morning(belief: Belief, firing: Firing, stand: Stand) -> Firing:
    return firing.model_copy(
        update={"morning_c": round(belief.quantile(stand.face_c[:, 0], 0.5), 1)}
    )


def _litres(belief: Belief, stand: Stand) -> Litres:
    low, mid, high = belief.ranged(belief.shell_water_l(stand))
    return Litres(low=round(low, 2), mid=round(mid, 2), high=round(high, 2))


class _Recorder:
    """Takes a moment of the course every so often."""

    EVERY = timedelta(minutes=20)

    def __init__(self, belief: Belief) -> None:
        self._belief = belief
        self._moments: list[Moment] = []

    def __call__(self, stand: Stand) -> None:
        if self._moments and stand.at < self._moments[-1].at + self.EVERY:
            return
        mesh = self._belief.ensemble.drawn.mesh
        crown = stand.wall.temperature_c[:, mesh.cells - 1 :: -1]
        self._moments.append(
            Moment(
                at=stand.at,
                surface_c=tuple(self._belief.ranged(stand.face_c[:, 0])),
                side_c=tuple(self._belief.ranged(stand.face_c[:, 1])),
                wall_c=tuple(np.round(np.median(crown, axis=0), 1).tolist()),
                water_l=_litres(self._belief, stand),
            )
        )

    def mark(self) -> int:
        return len(self._moments)

    def back_to(self, mark: int) -> None:
        del self._moments[mark:]

    def course(self) -> Course:
        mesh = self._belief.ensemble.drawn.mesh
        return Course(depth_mm=tuple(mesh.depth_mm.tolist()), moments=tuple(self._moments))
