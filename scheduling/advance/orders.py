"""A builder's orders. They only make a plan gentler, unless confirmed in so many words."""

from datetime import date
from typing import Any

from scheduling.advance import cases
from scheduling.advance.burning import advise
from scheduling.advance.hazards import only_seen_there, tell_closed
from scheduling.advance.promising import promise, remind
from scheduling.advance.reckoning import moves_days
from scheduling.advance.showing import order_line
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
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
from scheduling.meaning import (
    JournalLine,
    Meaning,
    OrderLessGentle,
    OrderRefused,
    OrderTaken,
    OrderTold,
)
from scheduling.outcome import TENDERS, Urgency
from scheduling.record.orders import closes, standing_orders
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
    """Take an order: refused, asked back where it is less gentle, or done and told to both.

    Of one that is given to many ovens together nothing is said to the builder here: what became
    of it is told in one message for all.
    """
    if said.together and any(_is_of(one, said.together) for one in turn.record.entries):
        # A second tap, or the same word after a crash.
        return
    if said.name is OrderName.TAKE_BACK and said.value is None:
        said = said.model_copy(update={"value": _newest(turn, said)})
    refused = _refused(turn, said)
    if refused is not None:
        _answer(turn, said, OrderRefused(what=said.name.value, why=refused))
        return
    harder = _less_gentle(turn, said)
    if harder is not None and not said.confirmed:
        asked = OrderLessGentle(
            what=said.name.value,
            oven=turn.record.name,
            from_value=harder[0],
            to_value=harder[1],
            undone=_undone(turn, said),
            day=_opened(said),
            stays=_stays(turn, said),
        )
        _answer(turn, said, asked)
        return
    if not said.together:
        cases.acted(turn, said.by)
    undone, stays = _undone(turn, said), _stays(turn, said)
    turn.write(_entry(turn, said))
    _tell(turn, said, confirmed=harder is not None, undone=undone, stays=stays)
    _follow(turn, said)


def _is_of(entry: Entry, together: str) -> bool:
    return isinstance(entry, Order) and entry.together == together


def _answer(turn: Turn, said: Ordering, meaning: Meaning) -> None:
    if not said.together:
        turn.say(meaning)


def _tell(
    turn: Turn,
    said: Ordering,
    *,
    confirmed: bool,
    undone: JournalLine | None,
    stays: tuple[JournalLine, ...],
) -> None:
    """To the builder that it holds, and to those at the oven what was ordered."""
    lit = turn.record.session is not None
    about: dict[str, Any] = {
        "cap_c": said.value if said.name is OrderName.CAP else None,
        "first": None if said.name is OrderName.TAKE_BACK else said.first,
        "last": said.last,
        "undone": undone,
        "day": _opened(said),
        "stays": stays,
    }
    taken = OrderTaken(
        what=said.name.value,
        oven=turn.record.name,
        confirmed=confirmed,
        lit=lit,
        seq=len(turn.record.entries),
        **about,
    )
    _answer(turn, said, taken)
    # Of many not all are awake, and nothing burns at those who can wait for the morning.
    quiet = Urgency.CALM if said.together else Urgency.ANSWER
    told = OrderTold(what=_TOLD[said.name], by=turn.by, why=said.why, **about)
    turn.say(told, TENDERS, Urgency.FIRE if lit else quiet)


def _follow(turn: Turn, said: Ordering) -> None:
    """What the order changes at the fire, or in the days to come.

    To reckon anew takes up to a second an oven. Of an order for many that is left to an alarm,
    which comes at once and lets others have their turn; what the order closes is closed already.
    """
    lit = turn.record.session is not None
    if said.name is OrderName.CLOSE and said.field != "mortar":
        tell_closed(turn, Hazard(said.field))
    elif said.name is OrderName.HOLD:
        # The days stay as they were told: what is laid on them is not lit while it is held.
        if lit:
            advise(turn)
        else:
            remind(turn)
    elif said.together:
        if lit or moves_days(turn):
            turn.set(AlarmName.ORDERED, turn.now)
    elif lit:
        advise(turn)
    else:
        promise(turn, "order")


def _opened(said: Ordering) -> date | None:
    """The day that is to be opened again by taking an order back."""
    return said.first if said.name is OrderName.TAKE_BACK else None


def _undone(turn: Turn, said: Ordering) -> JournalLine | None:
    """The order that is to be taken back."""
    if said.name is not OrderName.TAKE_BACK:
        return None
    taken = next((one for one in turn.record.live if one.seq == said.value), None)
    return None if taken is None else order_line(taken)


def _stays(turn: Turn, said: Ordering) -> tuple[JournalLine, ...]:
    """What still stands once fires are allowed again, or once an order is taken back: of a day
    that was to be opened what still closes it, else all."""
    if said.name not in (OrderName.TAKE_BACK, OrderName.RELEASE):
        return ()
    after = turn.record.with_entries([_entry(turn, said)])
    day = _opened(said)
    return tuple(
        order_line(one)
        for one in standing_orders(after, turn.now)
        if day is None or closes(one, day)
    )


def _newest(turn: Turn, said: Ordering) -> float | None:
    """Number of the order that is to be taken back: the newest that closes the day that was named,
    or that was given together with others, or else that is of this person, or of the team."""
    if said.first is not None:
        closing = [one for one in standing_orders(turn.record, turn.now) if closes(one, said.first)]
        days = [one for one in closing if not isinstance(one.entry, Held)]
        return float((days or closing)[-1].seq) if closing else None
    holding = [
        one
        for one in turn.record.live
        if isinstance(one.entry, Order)
        and not isinstance(one.entry, TakenBack)
        and said.field in ("", one.entry.together)
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
        case OrderName.HOLD if record.held is not None:
            # One that is on hold for a reason of its own stays so when many are allowed again.
            return "held_already"
        case OrderName.RELEASE if said.together and record.held is None:
            return "no_such_order"
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
    order_of = {
        "at": turn.now,
        "by": turn.by,
        "why": said.why,
        "confirmed": said.confirmed,
        "together": said.together,
    }
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
