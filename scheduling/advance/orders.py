"""A builder's orders. They only make a plan gentler, unless confirmed in so many words."""

from typing import Any

from scheduling.advance import cases
from scheduling.advance.burning import advise
from scheduling.advance.hazards import only_seen_there, tell_closed
from scheduling.advance.promising import promise
from scheduling.advance.turn import Turn
from scheduling.choice import Ordering, OrderName
from scheduling.hazard import Hazard
from scheduling.journal import (
    Capped,
    Entry,
    Forbidden,
    HazardClosed,
    Held,
    LimitsSet,
    Moved,
    Order,
    Released,
    RepeatOrdered,
    TakenBack,
)
from scheduling.meaning import OrderLessGentle, OrderRefused, OrderTaken, OrderTold
from scheduling.outcome import TENDERS, Urgency
from scheduling.record.outlook import bounds_of, limits_of

GENTLER_LOWER = {"step_k", "climb_low_k_h", "climb_high_k_h", "session_h", "final_c"}
"""Limits of which the lower is the gentler; the cure floor is the other way round, and the
stoking window is gentle both ways."""

PLAUSIBLE: dict[str, tuple[float, float]] = {
    "step_k": (20.0, 150.0),
    "climb_low_k_h": (5.0, 150.0),
    "climb_high_k_h": (5.0, 250.0),
    "stoke_min_minutes": (10.0, 60.0),
    "stoke_max_minutes": (20.0, 90.0),
    "cure_floor_d": (0.0, 120.0),
    "session_h": (1.5, 12.0),
    "final_c": (150.0, 480.0),
}


def order(turn: Turn, said: Ordering) -> None:
    """Take an order: refused, asked back where it is less gentle, or done and told to both."""
    if said.name is OrderName.TAKE_BACK and said.value is None:
        said = said.model_copy(update={"value": _newest(turn)})
    refused = _refused(turn, said)
    if refused is not None:
        turn.say(OrderRefused(what=said.name.value, why=refused))
        return
    harder = _less_gentle(turn, said)
    if harder is not None and not said.confirmed:
        turn.say(
            OrderLessGentle(
                what=said.name.value,
                oven=turn.record.name,
                from_value=harder[0],
                to_value=harder[1],
                **_undone(turn, said),
            )
        )
        return
    cases.acted(turn, said.by)
    turn.write(_entry(turn, said))
    lit = turn.record.session is not None
    turn.say(
        OrderTaken(
            what=said.name.value,
            oven=turn.record.name,
            cap_c=said.value if said.name is OrderName.CAP else None,
            first=said.first,
            last=said.last,
            confirmed=harder is not None,
            lit=lit,
        )
    )
    turn.say(
        OrderTold(
            what=_TOLD[said.name],
            by=turn.by,
            why=said.why,
            cap_c=said.value if said.name is OrderName.CAP else None,
            first=said.first,
            last=said.last,
        ),
        TENDERS,
        Urgency.FIRE if lit else Urgency.ANSWER,
    )
    if said.name is OrderName.CLOSE and said.field != "mortar":
        tell_closed(turn, Hazard(said.field))
    elif lit:
        advise(turn)
    else:
        promise(turn, "order")


def _undone(turn: Turn, said: Ordering) -> dict[str, Any]:
    """What an order to take back is about."""
    if said.name is not OrderName.TAKE_BACK:
        return {}
    match next((one.entry for one in turn.record.live if one.seq == said.value), None):
        case Capped(cap_c=cap_c) | RepeatOrdered(cap_c=cap_c) as entry:
            return {"undoes": entry.kind, "cap_c": cap_c}
        case Moved(not_before=day) as entry:
            return {"undoes": entry.kind, "first": day}
        case Forbidden(first=first, last=last) as entry:
            return {"undoes": entry.kind, "first": first, "last": last}
        case Order() as entry:
            return {"undoes": getattr(entry, "kind", "")}
    return {}


def _newest(turn: Turn) -> float | None:
    """Number of the newest order of this person that holds, else of anybody of the team."""
    holding = [
        one
        for one in turn.record.live
        if isinstance(one.entry, Order) and not isinstance(one.entry, TakenBack)
    ]
    theirs = [one for one in holding if one.entry.by == turn.by]
    newest = (theirs or holding)[-1:]
    return float(newest[0].seq) if newest else None


_TOLD = {
    OrderName.HOLD: "held",
    OrderName.RELEASE: "released",
    OrderName.CAP: "capped",
    OrderName.LIMIT: "limits",
    OrderName.REPEAT: "repeat",
    OrderName.MOVE: "moved",
    OrderName.FORBID: "forbidden",
    OrderName.TAKE_BACK: "taken_back",
    OrderName.CLOSE: "closed",
}


def _refused(turn: Turn, said: Ordering) -> str | None:
    record, today = turn.record, turn.record.today(turn.now)
    match said.name:
        case OrderName.MOVE | OrderName.FORBID:
            if said.first is None or (said.last or said.first) < today:
                return "in_the_past"
        case OrderName.CAP:
            if said.value is not None and not 80.0 <= said.value <= 480.0:
                return "out_of_range"
        case OrderName.LIMIT:
            bounds = PLAUSIBLE.get(said.field)
            if bounds is None or said.value is None or not bounds[0] <= said.value <= bounds[1]:
                return "out_of_range"
        case OrderName.REPEAT:
            if not record.ended_sessions:
                return "nothing_fired"
        case OrderName.TAKE_BACK:
            seqs = {one.seq for one in record.live if isinstance(one.entry, Order)}
            if said.value is None or int(said.value) not in seqs:
                return "no_such_order"
        case OrderName.CLOSE:
            standing = {one.what.value for one in record.hazards} | {"mortar"}
            if said.field not in standing:
                return "no_such_order"
            if said.field != "mortar" and only_seen_there(turn, Hazard(said.field)):
                return "only_seen_there"
        case _:
            pass
    return None


def _less_gentle(turn: Turn, said: Ordering) -> tuple[float | None, float | None] | None:
    """From what to what, where an order allows more than holds now."""
    record = turn.record
    match said.name:
        case OrderName.CAP:
            now_c = record.lid_c
            if now_c is not None and (said.value is None or said.value > now_c):
                return now_c, said.value
        case OrderName.LIMIT:
            limits = limits_of(record)
            held = getattr(limits, said.field, None) if limits is not None else None
            usual = getattr(bounds_of(record), said.field, None)
            now_value = held if held is not None else usual
            if now_value is None or said.value is None:
                return None
            if said.field in GENTLER_LOWER and said.value > now_value:
                return now_value, said.value
            if said.field == "cure_floor_d" and said.value < now_value:
                return now_value, said.value
        case OrderName.MOVE:
            if record.not_before is not None and said.first and said.first < record.not_before:
                return None, None
        case OrderName.TAKE_BACK:
            taken = next((one.entry for one in record.live if one.seq == said.value), None)
            # What was itself confirmed, as less gentle, is taken back without another word.
            return None if isinstance(taken, Order) and taken.confirmed else (None, None)
        case OrderName.RELEASE | OrderName.CLOSE:
            return None, None
        case _:
            pass
    return None


def _entry(turn: Turn, said: Ordering) -> Entry:
    order_of = {"at": turn.now, "by": turn.by, "why": said.why, "confirmed": said.confirmed}
    today = turn.record.today(turn.now)
    first = said.first or today
    match said.name:
        case OrderName.HOLD:
            return Held.model_validate(order_of)
        case OrderName.RELEASE:
            return Released.model_validate(order_of)
        case OrderName.CAP:
            return Capped.model_validate(order_of | {"cap_c": said.value})
        case OrderName.LIMIT:
            return LimitsSet.model_validate(order_of | {said.field: said.value})
        case OrderName.REPEAT:
            last = turn.record.ended_sessions[-1]
            cap_c = last.aim.plateau_c if last.aim is not None else 150.0
            return RepeatOrdered.model_validate(order_of | {"cap_c": cap_c})
        case OrderName.MOVE:
            return Moved.model_validate(order_of | {"not_before": first})
        case OrderName.FORBID:
            return Forbidden.model_validate(order_of | {"first": first, "last": said.last or first})
        case OrderName.TAKE_BACK:
            return TakenBack.model_validate(order_of | {"seq": int(said.value or 0)})
        case OrderName.CLOSE:
            return HazardClosed.model_validate(
                {"at": turn.now, "by": turn.by, "what": said.field, "why": said.why}
            )
