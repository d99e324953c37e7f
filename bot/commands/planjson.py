"""A plan as the JSON that ``plan --json`` prints and the table is made from."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from bot.commands.planning import Planned
from bot.wording import plans
from scheduling.breakin.plan import Firing
from scheduling.oven.belief import Belief, Range


def as_json(planned: Planned, notes: Sequence[str] = ()) -> dict[str, Any]:
    """Everything there is to say; times are in the oven's own zone."""
    plan, cured = planned.plan, planned.cure
    firings = () if plan is None else plan.firings
    more = [plans.frost_noticed(cured), plans.frost_likely(planned.likely_frost_c), *notes]
    return {
        "oven": planned.make_up.name,
        "at": _local(planned, planned.at),
        "ready_on": None if cured.ready_on is None else cured.ready_on.isoformat(),
        "reason": _why(planned),
        "notes": [note for note in more if note is not None],
        "finished": plan is not None and plan.finished,
        "unfinished": None if plan is None or plan.unfinished is None else plan.unfinished.value,
        "firings": [_firing(planned, firing) for firing in firings],
        "believed": _believed(planned),
    }


def _why(planned: Planned) -> str | None:
    """What is unusual about the plan as a whole."""
    plan = planned.plan
    if plan is None:
        return plans.no_day(planned.cure)
    if plan.unfinished is not None:
        return plans.UNFINISHED[plan.unfinished]
    return None if plan.firings else plans.DONE


def _firing(planned: Planned, firing: Firing) -> dict[str, Any]:
    start = firing.start.astimezone(planned.zone)
    return {
        "number": firing.number,
        "day": start.date().isoformat(),
        "start": start.isoformat(),
        "plateau_c": firing.plateau_c,
        "climb_c_per_h": firing.climb_c_per_h,
        "hold_h": firing.hold_h,
        "session_h": round(firing.session_h, 2),
        "stoke_minutes": firing.stoke_minutes,
        "wood_kg": firing.wood_kg,
        "wood_range_kg": list(firing.wood_range_kg),
        "charge": firing.charge.model_dump(),
        "water_left_l": firing.water_left_l.model_dump(),
        "steam_share": firing.steam_share,
        "morning_c": firing.morning_c,
        "limited_by": firing.limited_by.value,
        "reason": plans.reason(firing),
        "allowed_c": {limit.value: top_c for limit, top_c in firing.reason.allowed_c.items()},
        "warm_up": firing.warm_up,
        "last": firing.last,
    }


def _believed(planned: Planned) -> dict[str, Any]:
    """What the plan starts from."""
    belief: Belief = planned.belief
    stand = belief.present
    return {
        "at": _local(planned, belief.at),
        "strength": round(belief.strength_ratio, 3),
        "age_d": round(stand.age_d, 1),
        "water_left_l": _range(belief.water_left_l, 2),
        "surface_c": _range(belief.surface_c(), 1),
        "side_c": _range(belief.surface_c("side"), 1),
        "core_c": _range(belief.core_c, 1),
        "door_loss_w_m2k": _range(belief.door_loss, 2),
        "firings": stand.firings,
        "reached_c": stand.reached_c,
        "burning": stand.burning,
    }


def _range(values: Range, digits: int) -> dict[str, float]:
    return {name: round(value, digits) for name, value in values._asdict().items()}


def _local(planned: Planned, instant: datetime) -> str:
    return instant.astimezone(planned.zone).isoformat()
