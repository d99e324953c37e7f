"""The wall behind the conversation, with an ensemble small enough for a test."""

import gc
import weakref
from datetime import datetime, timedelta

import numpy as np
import pytest

from scheduling.breakin.limits import Limits
from scheduling.breakin.plan import Firing
from scheduling.breakin.planner import next_firing
from scheduling.breakin.weather import Forecast, HourWeather, Source
from scheduling.firing.aim import Action
from scheduling.happening import Forecasted
from scheduling.meaning import Advice, DoorNoted
from scheduling.oven.belief import Belief
from scheduling.oven.surroundings import Surroundings
from scheduling.record import Record, wall
from scheduling.record.fold import KEPT_BELIEFS
from scheduling.record.outlook import aims_of, bounds_of, rule_of
from scheduling.record.wall import believe, facts_of, next_only, says
from scheduling.remark import DoorOff
from tests.scheduling.road import Road, lit, stoking

FEW = 12


@pytest.fixture(scope="module")
def burning() -> Road:
    road = Road(record=Record(members=FEW)).begin().to_first_firing()
    road.reads(14)
    road.lights()
    return stoking(road, 150, times=4)


def copy_of(road: Road) -> Road:
    """The same, to go on from; with its count, or what is said next would count as heard."""
    return Road(road.now, road.record, dict(road.alarms), [], count=road.count)


def test_of_model_and_rule_the_lower_aim_is_taken(burning: Road) -> None:
    road = Road(record=Record(members=FEW)).begin()
    aims, by_rule = aims_of(road.record, road.now), rule_of(road.record, road.now)
    assert len(aims) >= len(by_rule)
    for aim, rule in zip(aims, by_rule, strict=False):
        assert aim.plateau_c <= rule.plateau_c
    assert aims[-1].last
    assert [aim.left for aim in aims] == list(range(len(aims), 0, -1))


def test_carried_on_or_recomputed_the_belief_is_the_same(burning: Road) -> None:
    whole = believe(Record.folded(burning.record.entries, ""), burning.now)
    fresh = Record(burning.record.entries, members=FEW)
    again = believe(fresh, burning.now)
    assert whole is not None
    assert again is not None
    halfway = len(burning.record.entries) // 2
    early = Record(burning.record.entries[:halfway], members=FEW)
    at = early.entries[-1].at
    carried = early.believing(believe(early, at)).with_entries(burning.record.entries[halfway:])
    later = believe(carried, burning.now)
    assert later is not None
    np.testing.assert_allclose(later.present.face_c, again.present.face_c, atol=1e-6)


def test_the_wall_hears_of_readings_and_wood_but_not_of_doubtful_numbers(burning: Road) -> None:
    told = len(facts_of(burning.record))
    doubtful = copy_of(burning)
    doubtful.wait(1)
    doubtful.reads(480)
    assert len(facts_of(doubtful.record)) == told


def test_an_undone_reading_leaves_the_belief_as_it_was(burning: Road) -> None:
    road = copy_of(burning)
    before = believe(road.record, road.now)
    road.reads(151)
    road.undoes()
    after = believe(road.record, road.now)
    assert before is not None
    assert after is not None
    np.testing.assert_allclose(after.present.face_c, before.present.face_c, atol=1e-6)


def test_advice_goes_on_with_the_wall_behind_it(burning: Road) -> None:
    actions = {one.action for one in burning.all_said(Advice)}
    assert Action.ADD in actions
    assert burning.record.session is not None


def test_a_door_put_on_too_early_and_taken_off_leaves_the_wall_in_the_talk(burning: Road) -> None:
    road = copy_of(burning)
    road.wait(2)
    road.shuts_door()
    assert road.last(DoorNoted).early
    road.wait(1)
    road.say(DoorOff())
    top_c = road.record.session.top_c if road.record.session is not None else None
    assert top_c is not None
    for _ in range(2):
        road.wait(10)
        road.reads(top_c)
        belief = believe(road.record, road.now)
        assert belief is not None
        assert belief.present.burning
        assert says(road.record, bounds_of(road.record), road.now) is not None


def test_a_door_still_on_when_its_fire_dies_keeps_the_warmth_in(burning: Road) -> None:
    road = copy_of(burning)
    road.wait(2)
    road.shuts_door()
    road.wait(20)
    road.fire_dies()
    belief = believe(road.record, road.now)
    assert belief is not None
    assert not belief.present.burning
    assert belief.present.door_on
    again = believe(Record(road.record.entries, members=FEW), road.now)
    assert again is not None
    assert again.present.door_on


def test_the_firing_about_to_be_lit_is_computed_anew_with_every_forecast(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    road = Road(record=Record(members=FEW)).begin().to_first_firing()
    looked: list[Surroundings] = []

    def watched(
        belief: Belief, limits: Limits, around: Surroundings, at: datetime
    ) -> Firing | None:
        looked.append(around)
        return next_firing(belief, limits, around, at)

    monkeypatch.setattr(wall, "next_firing", watched)
    bounds, planned = bounds_of(road.record), rule_of(road.record, road.now)[0]
    for _ in range(2):
        next_only(road.record, planned, bounds, road.now)
    assert len(looked) == 1
    road.happen(Forecasted(a_forecast(road.now)))
    next_only(road.record, planned, bounds, road.now)
    assert len(looked) == 2


def a_forecast(now: datetime) -> Forecast:
    """Two days of rain."""
    hours = tuple(
        HourWeather(at=now + timedelta(hours=hour), air_c=9.0, rain_mm=2.0) for hour in range(48)
    )
    return Forecast(
        source=Source.MADE_UP,
        issued_at=now,
        fetched_at=now,
        latitude=51.5,
        longitude=-0.1,
        hours=hours,
    )


def test_without_members_the_rule_stands_alone() -> None:
    road = lit()
    assert believe(road.record, road.now) is None
    assert aims_of(Road().begin().record, road.now) == rule_of(Road().begin().record, road.now)


def test_asking_again_and_again_keeps_no_more_than_the_last_beliefs(burning: Road) -> None:
    record = Record(burning.record.entries, members=FEW)
    asked = [believe(record, burning.now + timedelta(minutes=n)) for n in range(6)]
    watched = [weakref.ref(one) for one in asked if one is not None]
    assert len(watched) == 6
    asked.clear()
    gc.collect()
    assert sum(one() is not None for one in watched) == KEPT_BELIEFS
