"""The wall behind the conversation, with an ensemble small enough for a test."""

import numpy as np
import pytest

from scheduling.firing.aim import Action
from scheduling.meaning import Advice
from scheduling.record import Record
from scheduling.record.outlook import aims_of, rule_of
from scheduling.record.wall import believe, facts_of
from tests.scheduling.road import Road, lit, stoking

FEW = 12


@pytest.fixture(scope="module")
def burning() -> Road:
    road = Road(record=Record(members=FEW)).begin().to_first_firing()
    road.reads(14)
    road.lights()
    return stoking(road, 150, times=4)


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
    doubtful = Road(burning.now, burning.record, dict(burning.alarms), [])
    doubtful.wait(1)
    doubtful.reads(480)
    assert len(facts_of(doubtful.record)) == told


def test_an_undone_reading_leaves_the_belief_as_it_was(burning: Road) -> None:
    road = Road(burning.now, burning.record, dict(burning.alarms), [])
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


def test_without_members_the_rule_stands_alone() -> None:
    road = lit()
    assert believe(road.record, road.now) is None
    assert aims_of(Road().begin().record, road.now) == rule_of(Road().begin().record, road.now)
