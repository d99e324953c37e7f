"""An ordinary oven and a first fire in it, to build tests on."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

from scheduling.oven.belief import Belief
from scheduling.oven.history import DoorSet, Fact, FireLit, FireOut, SurfaceRead
from scheduling.oven.makeup import MakeUp
from scheduling.oven.preset import shipped
from scheduling.oven.surroundings import Surroundings

MORNING = datetime(2026, 6, 1, 8, tzinfo=UTC)
MILD = Surroundings.steady(12.0)


def hours(count: float) -> timedelta:
    return timedelta(hours=count)


def an_oven(construction: str = "cast-dense", **known: Any) -> MakeUp:
    """A metre across, cured for five weeks, with a thermometer."""
    described: dict[str, Any] = {
        "name": "Garden oven",
        "inner_diameter_mm": 1000,
        "wet_work_ended": date(2026, 4, 25),
        "instrument": {"max_c": 550},
        **known,
    }
    return shipped().make_up(construction, **described)


def fresh(make_up: MakeUp | None = None, members: int = 30, **known: Any) -> Belief:
    return Belief.fresh(make_up or an_oven(), MORNING, MILD, members=members, **known)


def a_first_fire(plateau_c: float = 155.0, hold_h: float = 4.0) -> tuple[Fact, ...]:
    """Read every half hour: up at 100 K/h, held, embers, door on."""
    climb_h = (plateau_c - 12.0) / 100.0
    end = MORNING + hours(climb_h + hold_h)
    facts: list[Fact] = [FireLit(at=MORNING, aim_c=plateau_c)]
    at = MORNING + hours(0.5)
    while at < end:
        passed = (at - MORNING) / hours(1)
        facts.append(SurfaceRead(at=at, top_c=min(plateau_c, 12.0 + 100.0 * passed)))
        at += hours(0.5)
    facts += [SurfaceRead(at=end, top_c=plateau_c), FireOut(at=end)]
    facts.append(DoorSet(at=end + hours(0.5), on=True))
    return tuple(facts)


def after_first_fire(belief: Belief, rest_h: float = 24.0) -> Belief:
    """The next morning."""
    return belief.carried(a_first_fire(), MORNING + hours(rest_h), MILD)
