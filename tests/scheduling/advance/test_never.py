"""No sequence of words and waiting leads to wood that should not go on."""

from datetime import timedelta
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduling.choice import About, OrderName
from scheduling.firing.advice import FRESH
from scheduling.firing.aim import Action
from scheduling.firing.rule import SLOW_BELOW_C
from scheduling.firing.steering import LEARNT, MOST_CHARGE, MOST_LEARNT_CHARGE
from scheduling.hazard import TOLD
from scheduling.journal import Advised, Held, Released
from scheduling.record import Record
from scheduling.record.hazards import open_hazards
from scheduling.remark import (
    AllWell,
    Crack,
    CrackSize,
    DoorOn,
    FireOut,
    Later,
    Leaving,
    Lit,
    Question,
    Reading,
    Sign,
    Sky,
    SomethingWrong,
    Stoked,
    Topic,
)
from scheduling.remark import WeatherSaid as Weather
from tests.scheduling.road import Road

SIGNS = ["steam", "damp", "smoke", "too_big", "back", "wood_out", "only_embers",
         "soot_clear", "soot_black", "no_thermometer", "yes", "no", "undo", "thanks", "greeting",
         "stop_nudges"]  # fmt: skip

steps = st.one_of(
    st.tuples(st.just("read"), st.floats(-40.0, 700.0)),
    st.tuples(st.just("climb"), st.floats(-30.0, 60.0)),
    st.tuples(st.just("climb"), st.floats(10.0, 45.0)),
    st.tuples(st.just("wait"), st.floats(0.0, 60.0)),
    st.tuples(st.just("wait"), st.floats(10.0, 35.0)),
    st.tuples(st.just("sign"), st.sampled_from(SIGNS)),
    st.tuples(st.just("hazard"), st.sampled_from(TOLD)),
    st.tuples(st.just("looked"), st.sampled_from([None, *TOLD])),
    st.tuples(st.just("strange"), st.one_of(st.none(), st.floats(20.0, 400.0))),
    st.tuples(st.just("answer"), st.sampled_from([AllWell(), SomethingWrong()])),
    st.tuples(st.just("ask"), st.sampled_from(list(Topic))),
    st.tuples(st.just("later"), st.floats(1.0, 90.0)),
    st.tuples(st.just("leave"), st.one_of(st.none(), st.floats(1.0, 120.0))),
    st.tuples(st.just("stoke"), st.integers(1, 9)),
    st.tuples(st.just("lit"), st.none()),
    st.tuples(st.just("out"), st.none()),
    st.tuples(st.just("door"), st.none()),
    st.tuples(st.just("crack"), st.sampled_from(list(CrackSize))),
    st.tuples(st.just("sky"), st.sampled_from(list(Sky))),
    st.tuples(st.just("order"), st.sampled_from([OrderName.HOLD, OrderName.RELEASE])),
)


def take(road: Road, step: tuple[str, Any]) -> None:
    what, value = step
    match what:
        case "read":
            road.reads(value)
        case "climb":
            last = road.record.last_believed
            road.reads((last.top_c if last and last.top_c is not None else 15.0) + value)
        case "wait":
            road.wait(value)
        case "sign":
            road.say(Sign(kind=value))
        case "hazard":
            road.endangered(value, text="somebody's words")
        case "looked":
            road.looked(value)
        case "strange":
            reading = () if value is None else (Reading(top_c=value),)
            road.say(*reading, unheard="words that nobody knows")
        case "answer":
            road.say(value)
        case "ask":
            road.say(Question(topic=value))
        case "leave":
            road.say(Leaving(minutes=value))
        case "later":
            road.say(Later(minutes=value))
        case "stoke":
            road.say(Stoked(pieces=value))
        case "lit":
            road.say(Lit())
        case "out":
            road.say(FireOut())
        case "door":
            road.say(DoorOn())
        case "crack":
            road.say(Crack(size=value))
        case "sky":
            road.say(Weather(what=value))
        case _:
            road.orders(value, confirmed=True)


def assert_no_rash_wood(road: Road, instrument: bool) -> int:
    """Every ADD ever advised, judged by the record as it was just before it."""
    adds = 0
    for index, entry in enumerate(road.record.entries):
        if not isinstance(entry, Advised) or entry.action is not Action.ADD:
            continue
        adds += 1
        before = Record.folded(road.record.entries[:index])
        session = before.session
        assert session is not None, "wood without a fire"
        assert session.aim is not None, "wood on a fire that nobody planned"
        assert not session.too_early
        assert not session.ending, "wood on a fire that was to end"
        assert not open_hazards(before.facts), "wood while a hazard stands open"
        assert session.unheard is None, "wood on words that nobody understood"
        held = [e for e in before.facts if isinstance(e, Held | Released)]
        assert not (held and isinstance(held[-1], Held)), "wood while held"
        assert session.silent is None, "wood into silence"
        if instrument:
            last = session.readings[-1]
            assert last.believed, "wood on a doubtful reading"
            assert entry.at - last.at <= FRESH, "wood on a stale reading"
            assert (session.top_c or 0.0) <= session.aim.plateau_c, "wood above the plateau"
        assert entry.kg is not None
        dry = session.aim.plateau_c >= SLOW_BELOW_C
        learnt = dry and len(session.believed) >= LEARNT
        most = MOST_LEARNT_CHARGE if learnt else MOST_CHARGE
        assert entry.kg <= most * session.aim.charge_kg + 0.01
        others = [e.at for e in session.advised if e.action is Action.ADD and e.at != entry.at]
        assert all(entry.at - at >= timedelta(minutes=10) for at in others), "wood twice"
    return adds


@settings(max_examples=60, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(steps, min_size=5, max_size=25))
def test_no_wood_on_a_doubtful_stale_or_missing_reading_nor_after_danger(
    story: list[tuple[str, Any]],
) -> None:
    road = Road().begin(builder="beth").to_first_firing()
    road.reads(14)
    road.lights()
    road.wait(30)
    for step in story:
        take(road, step)
    assert_no_rash_wood(road, instrument=True)


@settings(max_examples=12, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(steps, min_size=5, max_size=14))
def test_nor_with_the_wall_computed(story: list[tuple[str, Any]]) -> None:
    road = Road(record=Record(members=12)).begin(builder="beth").to_first_firing()
    road.reads(14)
    road.lights()
    road.wait(30)
    for step in story:
        take(road, step)
    assert_no_rash_wood(road, instrument=True)
    assert Record.folded(road.record.entries).hazards == road.record.hazards


@settings(max_examples=25, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(steps.filter(lambda s: s[0] not in ("read", "climb")), min_size=5, max_size=20))
def test_without_a_thermometer_nothing_is_added_after_danger_or_twice(
    story: list[tuple[str, Any]],
) -> None:
    road = Road().begin({About.INSTRUMENT: "none"}, builder="beth").to_first_firing()
    road.lights()
    for step in story:
        take(road, step)
    assert_no_rash_wood(road, instrument=False)


@settings(max_examples=25, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(steps, min_size=3, max_size=15))
def test_no_wood_is_ever_asked_for_before_the_cure(story: list[tuple[str, Any]]) -> None:
    road = Road().begin({About.WET_WORK: "2026-04-25"})
    road.say(Lit())
    for step in story:
        take(road, step)
    assert assert_no_rash_wood(road, instrument=True) == 0


def test_the_property_is_not_empty_an_ordinary_firing_does_get_wood() -> None:
    road = Road().begin().to_first_firing()
    road.reads(14)
    road.lights()
    for _ in range(3):
        road.wait(30)
        road.say(Reading(top_c=(road.record.last_believed.top_c or 0) + 30))  # type: ignore[union-attr]
    assert assert_no_rash_wood(road, instrument=True) >= 2
