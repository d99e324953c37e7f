"""Gaps between firings: what they cost, and that an idle oven is not put off for ever."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from scheduling.breakin.days import GapEffect
from scheduling.firing.rule import Bounds
from scheduling.journal import FireLit, FiringEnded
from scheduling.meaning import DaysProposed
from scheduling.oven.belief import Belief
from scheduling.oven.preset import shipped
from scheduling.oven.surroundings import Surroundings
from scheduling.record import Record
from scheduling.record.gap import NEVER, gap_effect
from scheduling.record.outlook import look_ahead
from scheduling.remark import Unavailable
from tests.scheduling.road import Road, fired

MORNING = datetime(2026, 5, 4, 7, 0, tzinfo=UTC)


@pytest.mark.parametrize("idle_d", [1, 5, 14, 20])
def test_an_oven_that_stood_idle_is_fired_on_the_first_good_day(idle_d: int) -> None:
    road = Road(now=MORNING).begin()
    aim = look_ahead(road.record, road.now).dated[0].aim
    lit_at = MORNING - timedelta(days=idle_d)
    ended = FiringEnded(
        at=lit_at + timedelta(hours=5),
        firing=1,
        aim_c=aim.plateau_c,
        peak_c=aim.plateau_c,
        held_h=aim.hold_h,
        completed=True,
        why="held",
    )
    fired = road.record.with_entries((FireLit(at=lit_at, aim=aim), ended))
    following = look_ahead(fired, MORNING).next
    assert following is not None
    assert following.day == MORNING.date()


def test_a_wet_wall_is_asked_what_a_gap_costs() -> None:
    make_up = shipped().make_up(
        "cast-dense", name="dome", inner_diameter_mm=900.0, wet_work_ended=date(2026, 3, 1)
    )
    air = Surroundings.steady(12.0, start=MORNING)
    belief = Belief.fresh(make_up, MORNING, air, members=16, seed=1)
    record = replace(Road().record, believed=belief)
    effect = gap_effect(record, Bounds())
    usual = GapEffect()
    assert effect.extra == NEVER
    assert effect.lost[1] == usual.lost[1]
    assert list(effect.lost) == sorted(effect.lost)
    assert effect.lost[15] == usual.lost[15] + 1, "after two weeks one firing more"


def test_without_an_ensemble_the_usual_gap_costs_the_usual() -> None:
    usual = GapEffect()
    effect = gap_effect(Road().record, Bounds())
    assert effect.lost == tuple(h + e for h, e in zip(usual.lost, usual.extra, strict=True))


def test_weeks_away_are_reckoned_with_before_they_come() -> None:
    """The days proposed begin with the warm-up that the oven will need by then."""
    road = fired(Road(now=MORNING, record=Record(members=8)).begin().to_first_firing())
    today = road.record.today(road.now)
    road.say(Unavailable(first=today + timedelta(days=1), last=today + timedelta(days=40)))
    proposal = road.last(DaysProposed)
    assert proposal.lines[0].warm_up
    assert [line.warm_up for line in proposal.lines[1:]] == [False] * (len(proposal.lines) - 1)
    road.confirms(proposal.proposal)
    promised = road.record.promise
    assert promised[0].warm_up
    assert promised[0].plateau_c <= 100.0
    assert promised[0].day == today + timedelta(days=41)


def test_a_few_days_away_bring_no_warm_up() -> None:
    road = fired(Road(now=MORNING, record=Record(members=8)).begin().to_first_firing())
    today = road.record.today(road.now)
    road.say(Unavailable(first=today + timedelta(days=1), last=today + timedelta(days=6)))
    assert not any(line.warm_up for line in road.last(DaysProposed).lines)
