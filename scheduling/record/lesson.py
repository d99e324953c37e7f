"""What an oven's journal teaches at its end, and what several of them teach the next."""

import math
from collections.abc import Iterable
from datetime import datetime

from scheduling.breakin.hourly import surroundings
from scheduling.choice import Keep
from scheduling.firing.session import Session, completed
from scheduling.journal import Finished, Learnt, Model, Promised, Taught
from scheduling.oven.learnt import LEAST_OVENS, learnt_from, narrowed
from scheduling.oven.lesson import Told, told_by
from scheduling.record.calendar import place_of
from scheduling.record.facts import Facts
from scheduling.record.wall import facts_of

FIRES_SPREAD = 0.35
"""One standard deviation of fires taken over fires promised, as a logarithm, before anything is
known of a model (own choice)."""

FIRES_ERROR = 0.10
"""Of one oven: a fire more or less is often chance."""


def lesson_of(record: Facts, now: datetime) -> Taught | None:
    """What a finished oven teaches; None where it may not, has already, or tells nothing."""
    makeup, ended = record.makeup, record.last_of(Finished)
    fires = record.ended_sessions
    if makeup is None or ended is None or not record.finished or record.members == 0:
        return None
    may = record.builder is not None and record.agreed in (Keep.NAMELESS, Keep.NAMED)
    promised = next((len(one.firings) for one in record.all_of(Promised) if one.firings), 0)
    if not may or record.last_of(Taught) is not None or not fires or not promised:
        return None
    facts = tuple(fact for fact in facts_of(record) if fact.at <= ended.at)
    around = surroundings(facts[0].at, ended.at, place_of(record), record.forecast)
    wood_kg = {one.lit_at: kg for one in fires if (kg := _burnt_kg(one)) is not None}
    first, last = record.today(fires[0].lit_at), record.today(fires[-1].lit_at)
    return Taught(
        at=now,
        model=Model.of(makeup),
        told=told_by(makeup, facts, wood_kg, around),
        fires=len(completed(fires)),
        promised=promised,
        days=(last - first).days + 1,
    )


def _burnt_kg(session: Session) -> float | None:
    """What a fire burnt, unsaid amounts as they were planned; None where nothing was planned."""
    aim = session.lit_for
    if aim is None:
        return None
    return aim.lay_kg + sum(aim.charge_kg if one.kg is None else one.kg for one in session.fed)


def lessons_for(taught: Iterable[Taught], at: datetime) -> tuple[Learnt, ...]:
    """What the finished ovens of a builder teach the next, model by model; nothing of a model of
    which fewer than five are finished."""
    by_model: dict[Model, list[Taught]] = {}
    for one in taught:
        by_model.setdefault(one.model, []).append(one)
    return tuple(
        Learnt(
            at=at,
            model=model,
            ovens=len(ovens),
            narrowed=learnt_from([one.told for one in ovens]),
            fires=narrowed("fires", [_fires(one) for one in ovens], FIRES_SPREAD),
        )
        for model, ovens in by_model.items()
        if len(ovens) >= LEAST_OVENS
    )


def _fires(one: Taught) -> Told:
    ratio = math.log(max(one.fires, 1) / one.promised)
    return Told(quantity="fires", mean=ratio, sd=FIRES_ERROR)


def fires_range(learnt: Learnt, promised: int) -> tuple[int, int] | None:
    """Between how many fires nine of ten such ovens will take, where so many are promised."""
    if learnt.fires is None:
        return None
    ends = (learnt.fires.shift + side * 1.645 * learnt.fires.width for side in (-1.0, 1.0))
    low, high = (promised * math.exp(FIRES_SPREAD * end) for end in ends)
    return max(1, math.floor(low)), math.ceil(high)
