"""Between the record and the wall: what the belief says of the firings left, and of a fire.

The ensemble is a cache: it follows from the journal, and is carried on from where it stands as
long as nothing before that is touched. Where there is none (``members`` is 0, or the oven is not
described) the rule of thumb stands alone.
"""

from collections.abc import Iterable
from datetime import datetime, timedelta
from functools import lru_cache
from itertools import zip_longest

import numpy as np

from scheduling.breakin.hourly import surroundings
from scheduling.breakin.limits import USUAL, Limits
from scheduling.breakin.plan import Firing, Plan
from scheduling.breakin.planner import next_firing, plan_break_in
from scheduling.breakin.trial import is_dry
from scheduling.breakin.walltime import instant
from scheduling.firing.advice import WallSays
from scheduling.firing.aim import Aim, plateau_under
from scheduling.firing.forecast import FiringAim, forecast
from scheduling.firing.rule import Bounds, sized
from scheduling.firing.wood import firing_kg
from scheduling.journal import (
    DoorMoved,
    Entry,
    FireDied,
    FireLit,
    FiringEnded,
    Foretold,
    Measured,
    Repaired,
    Silent,
    WeatherTold,
    WoodPutOn,
)
from scheduling.oven import history
from scheduling.oven.belief import Belief
from scheduling.oven.infrared import EMISSIVITY, Surface, corrected_c
from scheduling.oven.makeup import MakeUp
from scheduling.record.calendar import place_of
from scheduling.record.crown import peak_before
from scheduling.record.facts import Facts
from scheduling.remark import Sky

UNATTENDED_FOR = timedelta(hours=3)
"""So long a fire that nobody answers for may have flared."""

SPREAD_C, ROUGH_SPREAD_C = 4.0, 12.0
"""One standard deviation of a reading, and of one that was only said roughly (own choice)."""

LOOKING_AHEAD = 64
"""Members that a plan or a forecast is tried out on: enough for a 95 % quantile, and quick. The
belief itself keeps all of them."""

MOST_FIRINGS = 14
USUAL_START_HOUR = 9.0
NEAR_K = 5.0
ELSEWHERE_C = 60.0
"""What a clean dome mirrors in an instrument set too high is about as hot as itself; below this
a correction is lost in the noise (own choice)."""


def physical(entry: Entry) -> bool:
    """Whether an entry tells the wall something."""
    match entry:
        case Measured():
            return entry.believed
        case WeatherTold():
            return entry.what is Sky.SOAKED
        case Silent():
            return entry.step == "unattended"
        case FireLit() | FireDied() | FiringEnded() | DoorMoved() | WoodPutOn() | Repaired():
            return True
        case _:
            return False


def facts_of(record: Facts, after_seq: int = 0) -> tuple[history.Fact, ...]:
    """What the entries behind a number tell the wall, in order of time.

    To the wall a door that goes on ends the fire. One that went on too early does not: it is
    told when that fire is over, if it still stands there.
    """
    found: list[history.Fact] = []
    burning = door_on = False
    following = [one.entry for one in record.live[1:]]
    for one, after in zip_longest(record.live, following):
        entry = one.entry
        if isinstance(entry, FireLit) and not burning:
            burning, door_on = True, False
        if isinstance(entry, DoorMoved):
            door_on = entry.on
        early = isinstance(entry, DoorMoved) and burning and not _ended_by(entry, after)
        over = burning and isinstance(entry, FireDied | FiringEnded)
        if one.seq > after_seq and physical(entry) and not early:
            found += _fact(record, entry)
            if over and door_on:
                found.append(history.DoorSet(at=entry.at, on=True))
        burning = burning and not over
    return tuple(sorted(found, key=lambda fact: fact.at))


def _ended_by(door: DoorMoved, after: Entry | None) -> bool:
    """Whether the same message that told of the door ended the firing."""
    return isinstance(after, FiringEnded) and after.key == door.key


def _fact(record: Facts, entry: Entry) -> Iterable[history.Fact]:
    match entry:
        case FireLit():
            aim = entry.aim
            yield history.FireLit(
                at=entry.at,
                aim_c=None if aim is None else aim.plateau_c,
                climb_c_per_h=100.0 if aim is None else max(10.0, aim.climb_c_per_h),
            )
        case FireDied() | FiringEnded():
            yield history.FireOut(at=entry.at)
        case DoorMoved():
            yield history.DoorSet(at=entry.at, on=entry.on)
        case WoodPutOn():
            yield history.WoodPut(at=entry.at, kg=entry.kg)
        case Silent():
            yield history.Unwatched(at=entry.at, until=entry.at + UNATTENDED_FOR)
        case WeatherTold():
            yield history.Soaked(at=entry.at)
        case Repaired():
            yield history.Rendered(at=entry.at, reaches_shell=True)
        case Measured():
            read = _read(record, entry)
            if read is not None:
                yield from _peaked(record, entry)
                yield read
        case _:
            return


def _peaked(record: Facts, entry: Measured) -> Iterable[history.SurfaceRead]:
    """How high the crown is believed to have stood since the reading before."""
    peak = peak_before(record, entry)
    if peak is not None:
        at, peak_c = peak
        yield history.SurfaceRead(
            at=at, top_c=_true_c(record, peak_c), spread_c=ROUGH_SPREAD_C, between=True
        )


def _read(record: Facts, entry: Measured) -> history.SurfaceRead | None:
    """A believed reading, corrected for the emissivity of what was looked at."""
    if entry.top_c is None and not entry.sides_c:
        return None
    spread = ROUGH_SPREAD_C if entry.approximate else SPREAD_C
    return history.SurfaceRead(
        at=entry.at,
        top_c=None if entry.top_c is None else _true_c(record, entry.top_c),
        side_c=tuple(_true_c(record, side_c) for side_c in entry.sides_c),
        spread_c=spread,
    )


def _true_c(record: Facts, shown_c: float) -> float:
    makeup = record.makeup
    tool = makeup.instrument if makeup is not None else None
    if tool is None or shown_c < ELSEWHERE_C:
        return shown_c
    return _of_soot(shown_c, tool.emissivity)


@lru_cache(maxsize=4096)
def _of_soot(shown_c: float, emissivity_set: float) -> float:
    """What a sooty face has that an instrument set so shows; every look at a fire asks again."""
    return float(corrected_c(shown_c, emissivity_set, EMISSIVITY[Surface.SOOTY], shown_c))


def believe(record: Facts, at: datetime) -> Belief | None:
    """The belief at that moment, carried on from the cache where that still holds."""
    makeup = record.makeup
    if makeup is None or record.members == 0:
        return None
    return record.beliefs.get(at, lambda: _believed(record, makeup, at))


def _believed(record: Facts, makeup: MakeUp, at: datetime) -> Belief:
    base, seq = record.believed, record.believed_seq
    fresh_facts = facts_of(record, seq)
    if (
        base is not None
        and at >= base.at
        and all(fact.at >= _last_known(base) for fact in fresh_facts)
    ):
        return _carried(record, base, fresh_facts, at)
    everything = facts_of(record)
    start = min([at, *(fact.at for fact in everything)])
    around = surroundings(start, at, place_of(record), record.forecast)
    # One draw for all ovens: of neighbours who answered alike nobody gets a fire more by chance.
    learnt = () if record.learnt is None else record.learnt.narrowed
    base = Belief.fresh(makeup, start, around, members=record.members, learnt=learnt)
    return _carried(record, base, tuple(f for f in everything if f.at <= at), at)


def thinned(belief: Belief) -> Belief:
    """Evenly some of the members, to look ahead with."""
    if belief.members <= LOOKING_AHEAD:
        return belief
    return belief.of_members(np.linspace(0, belief.members - 1, LOOKING_AHEAD).astype(np.intp))


def _last_known(belief: Belief) -> datetime:
    opened = belief.open_facts
    return max(belief.settled.at, opened[-1].at) if opened else belief.settled.at


def _carried(record: Facts, base: Belief, facts: tuple[history.Fact, ...], at: datetime) -> Belief:
    until = max(at, *(fact.at for fact in facts)) if facts else at
    around = surroundings(base.settled.at, until, place_of(record), record.forecast)
    return base.carried(facts, until, around)


def limits_of(bounds: Bounds) -> Limits:
    """The planner's limits under these bounds: none less gentle than the usual."""
    told: dict[str, float] = {
        "climb_low_k_h": bounds.climb_low_k_h,
        "climb_high_k_h": bounds.climb_high_k_h,
        "stoke_least_minutes": bounds.stoke_min_minutes,
        "stoke_most_minutes": bounds.stoke_max_minutes,
    }
    ordered = {name: getattr(bounds, name) for name in ("final_c", "session_h", "step_k")}
    tops = (bounds.cap_c, plateau_under(bounds.lid_c))
    ordered["cap_c"] = min((one for one in tops if one is not None), default=None)
    told |= {name: value for name, value in ordered.items() if value is not None}
    ranges = Limits.model_fields
    for name, value in told.items():
        for mark in ranges[name].metadata:
            low, high = getattr(mark, "ge", None), getattr(mark, "le", None)
            value = max(value, low) if low is not None else value
            value = min(value, high) if high is not None else value
        told[name] = value
    told["stoke_most_minutes"] = max(told["stoke_most_minutes"], told["stoke_least_minutes"])
    return USUAL.model_copy(update=told)


def planned(record: Facts, bounds: Bounds, now: datetime, first: datetime) -> Plan | None:
    """The model's plan with its first fire on the day of ``first``; kept while nothing moves it.

    It is laid for usual weather and the usual hour: forecast and hour are no part of what it is
    kept by, and a plan that came out otherwise before a forecast or a promise than after it would
    differ by chance. The firing about to be lit is computed for what is so (``next_only``).
    """

    def compute() -> Plan | None:
        belief = believe(record, now)
        if belief is None:
            return None
        start = max(instant(record.today(first), USUAL_START_HOUR, record.zoneinfo), belief.at)
        around = surroundings(now, start + timedelta(days=21), place_of(record))
        return plan_break_in(thinned(belief), limits_of(bounds), around, (start,))

    if record.makeup is None or record.members == 0:
        return None
    return record.worked.get(("plan", record.plan_ground, record.today(first)), compute)


def gentler(
    record: Facts, by_rule: tuple[Aim, ...], bounds: Bounds, now: datetime, first: datetime
) -> tuple[Aim, ...]:
    """The firings left: of the model's and the rule's the lower aim, firing by firing.

    There are as many as the slower of both takes to reach the height of the last.
    """
    plan = planned(record, bounds, now, first)
    makeup = record.makeup
    if plan is None or makeup is None or not plan.firings or not by_rule:
        return by_rule
    target_c = min(by_rule[-1].plateau_c, plan.firings[-1].plateau_c) - NEAR_K
    merged: list[Aim] = []
    for index in range(MOST_FIRINGS):
        firing = plan.firings[min(index, len(plan.firings) - 1)]
        rule = by_rule[min(index, len(by_rule) - 1)]
        merged.append(_merged(record, firing, rule, bounds, by_rule[0].number + index))
        enough = index >= len(plan.firings) - 1 and index >= len(by_rule) - 1
        if enough and merged[-1].plateau_c >= target_c:
            break
    count = len(merged)
    return tuple(
        aim.model_copy(update={"last": index == count - 1, "left": count - index})
        for index, aim in enumerate(merged)
    )


def _merged(record: Facts, firing: Firing, rule: Aim, bounds: Bounds, number: int) -> Aim:
    makeup = record.makeup
    if makeup is None:
        return rule
    lower_c = min(firing.plateau_c, rule.plateau_c)
    by = firing.limited_by.value if firing.plateau_c <= rule.plateau_c else "rule"
    hold_h = min(firing.hold_h, rule.hold_h) if firing.last else firing.hold_h
    shorter_h = firing.session_h - firing.hold_h + hold_h
    asked_kg, planned_kg = (
        firing_kg(makeup, one_c, one_h)
        for one_c, one_h in ((lower_c, shorter_h), (firing.plateau_c, firing.session_h))
    )
    less = min(asked_kg / planned_kg, 1.0)
    least_kg, most_kg = firing.wood_range_kg
    return sized(
        makeup,
        bounds,
        number=number,
        plateau_c=lower_c,
        hold_h=hold_h,
        last=firing.last,
        left=1,
        climb_c_per_h=firing.climb_c_per_h or None,
        wood_kg=less * firing.wood_kg,
        wood_range_kg=(less * least_kg, less * most_kg),
        limited_by=by,
        morning_c=firing.morning_c,
        water_left_l=firing.water_left_l.mid,
    ).model_copy(update={"warm_up": firing.warm_up})


def next_only(record: Facts, planned_aim: Aim, bounds: Bounds, now: datetime) -> Aim:
    """The firing about to be lit, computed for the oven as it is now; never above its plan."""
    if record.makeup is None or record.members == 0:
        return planned_aim

    def compute() -> Firing | None:
        belief = believe(record, now)
        if belief is None:
            return None
        around = surroundings(now, now + timedelta(days=2), place_of(record), record.forecast)
        return next_firing(thinned(belief), limits_of(bounds), around, max(now, belief.at))

    ground = (record.plan_ground, record.last_of(Foretold), record.today(now))
    firing = record.worked.get(("next", *ground), compute)
    if firing is None or firing.plateau_c >= planned_aim.plateau_c:
        return planned_aim
    aim = _merged(record, firing, planned_aim, bounds, planned_aim.number)
    return aim.model_copy(update={"last": planned_aim.last, "left": planned_aim.left})


def says(record: Facts, bounds: Bounds, now: datetime) -> WallSays | None:
    """What the wall has to say about the fire that burns."""
    session = record.session
    if session is None or session.aim is None:
        return None
    belief = believe(record, now)
    if belief is None or not belief.present.burning:
        return None
    aim = session.aim
    reads = (_read(record, one) for one in session.believed)
    told = forecast(
        thinned(belief),
        FiringAim(aim.plateau_c, aim.low_c, aim.high_c, aim.hold_h, aim.climb_c_per_h),
        tuple(read for read in reads if read is not None),
        session.last_fed_at,
        now,
        surroundings(now, now + timedelta(hours=2), place_of(record), record.forecast),
        limits_of(bounds),
    )
    return WallSays(
        steam_share=round(max(told.steam_share, told.steam_share_ahead), 3),
        steam_share_held=round(told.steam_share_held, 3),
        steam_share_led=round(told.steam_share_led, 3),
        plateau_at=None if told.plateau_at is None else told.plateau_at.middle,
        falls_at=told.falls_at,
        expect_c=(told.expect_c.low, told.expect_c.high),
        dry=told.dry,
    )


def dried(record: Facts, bounds: Bounds, at: datetime) -> bool:
    """Whether no free water is left in the shell, as far as is believed; False where nothing is."""
    belief = believe(record, at)
    return belief is not None and is_dry(belief, belief.present, limits_of(bounds))


def expected_c(record: Facts, at: datetime) -> tuple[float, float] | None:
    """Where the crown should lie at that moment, by the belief; None before any fire."""
    session = record.session
    if not record.sessions or (session is not None and session.believed):
        # The reading before says it closer, and sooner.
        return None
    belief = believe(record, at)
    if belief is None or belief.at > at + timedelta(minutes=1):
        return None
    top = belief.surface_c("top")
    return top.low, top.high


def water_left_l(record: Facts, now: datetime) -> tuple[float, float] | None:
    """Low and high of the water that the shell may still hold, in litres."""
    belief = believe(record, now)
    if belief is None:
        return None
    left = belief.water_left_l
    return round(left.low, 1), round(left.high, 1)
