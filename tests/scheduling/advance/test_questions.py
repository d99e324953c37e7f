from collections.abc import Callable
from datetime import timedelta

import pytest

from scheduling.alarm import AlarmName
from scheduling.choice import Command, CommandName
from scheduling.firing.aim import Action
from scheduling.meaning import (
    Answer,
    Greeted,
    HelpShown,
    LaterNoted,
    NotClear,
    NotUnderstood,
    NowTold,
    PlanTold,
    RecordShown,
)
from scheduling.remark import CrackSize, Doubt, Later, Question, Remark, Sign, Topic
from tests.scheduling.road import Road, lit


@pytest.mark.parametrize("topic", [one for one in Topic if one is not Topic.PLAN])
def test_every_topic_is_answered_from_the_state_of_this_oven(topic: Topic) -> None:
    road = lit()
    road.wait(31)
    road.reads(60)
    road.say(Question(topic=topic))
    answer = road.last(Answer)
    assert answer.topic is topic
    assert answer.lit
    assert answer.top_c == 60
    assert answer.aim is not None
    assert answer.climb_c_per_h is None or answer.climb_c_per_h > 0


def test_cooking_waits_until_the_break_in_is_done() -> None:
    road = Road().begin()
    road.say(Question(topic=Topic.COOKING))
    assert road.last(Answer).allowed is False


def test_a_burning_fire_may_not_be_left() -> None:
    road = lit()
    road.say(Question(topic=Topic.LEAVING))
    assert road.last(Answer).allowed is False


def test_lighting_is_allowed_only_when_nothing_bars_it() -> None:
    road = Road().begin()
    road.say(Question(topic=Topic.LIGHTING))
    assert road.last(Answer).allowed is True
    road.cracks(CrackSize.OPEN)
    road.say(Question(topic=Topic.LIGHTING))
    assert road.last(Answer).allowed is False
    assert road.last(Answer).crack == "open"


def test_the_plan_is_told_as_a_plan() -> None:
    road = Road().begin()
    road.say(Question(topic=Topic.PLAN))
    assert road.last(PlanTold).why == "asked"


def test_now_tells_the_phase_and_never_repeats_an_old_add() -> None:
    road = lit()
    road.wait(31)
    road.reads(45)
    road.wait(10)
    road.press(Command(name=CommandName.NOW))
    now = road.last(NowTold)
    assert now.phase == "lit"
    assert now.action is not None
    assert now.action.value != "add"


def test_later_is_shortened_as_the_fire_allows() -> None:
    road = lit()
    road.wait(31)
    road.say(Later(minutes=120))
    noted = road.last(LaterNoted)
    assert noted.shortened
    assert noted.next_at - road.now <= timedelta(minutes=30)


@pytest.mark.parametrize(
    ("remark", "kind"),
    [(Sign(kind="greeting"), Greeted), (Sign(kind="thanks"), Greeted)],
)
def test_kind_words_get_one_back(remark: Remark, kind: type) -> None:
    road = Road().begin()
    road.say(remark)
    assert road.heard_of(kind)


def test_what_is_unclear_is_asked_back_and_moves_nothing() -> None:
    road = lit()
    road.wait(31)
    before = len(road.record.readings)
    road.say(doubt=Doubt(why="which_number", heard="1 60"))
    assert road.heard_of(NotClear)
    assert len(road.record.readings) == before


def test_what_makes_no_sense_is_kept_and_said_so() -> None:
    road = Road().begin()
    road.say()
    assert road.last(NotUnderstood).phase == "waiting"
    assert road.record.entries[-1].kind == "noted"


def test_help_and_record_answer() -> None:
    road = Road().begin()
    road.press(Command(name=CommandName.HELP))
    road.press(Command(name=CommandName.RECORD))
    assert road.last(HelpShown).phase == "waiting"
    assert road.last(RecordShown).firings == 0


def test_before_the_first_look_what_now_is_to_leave_the_fire_as_it_is() -> None:
    road = lit()
    due = road.alarms[AlarmName.NUDGE]
    road.wait(1)
    road.press(Command(name=CommandName.NOW))
    now = road.last(NowTold)
    assert (now.action, now.next_at) == (Action.WAIT, due)
    road.until(due)
    road.press(Command(name=CommandName.NOW))
    assert road.last(NowTold).action is not Action.WAIT
    assert road.last(NowTold).next_at is None


def test_smoke_that_is_seen_and_asked_about_is_answered_once() -> None:
    road = lit()
    road.wait(2)
    road.say(Sign(kind="smoke"), Question(topic=Topic.SMOKE))
    assert not road.heard_of(Answer)
    assert road.heard
    road.say(Question(topic=Topic.SMOKE))
    assert road.heard_of(Answer)


def asked_for_wood() -> Road:
    road = lit()
    road.wait(31)
    road.reads(45)
    assert road.action is Action.ADD
    road.wait(2)
    return road


def now_of(road: Road) -> Action | None:
    road.press(Command(name=CommandName.NOW))
    return road.last(NowTold).action


def test_wood_that_was_just_asked_for_still_stands_for_who_asks_what_now() -> None:
    road = asked_for_wood()
    assert now_of(road) is Action.ADD
    road.wait(10)
    assert now_of(road) is Action.READ_AGAIN


def test_once_it_is_on_the_fire_is_left_as_it_is() -> None:
    road = asked_for_wood()
    road.stokes(2)
    assert now_of(road) is Action.WAIT


@pytest.mark.parametrize(
    "since",
    [
        lambda road: road.undoes(),
        lambda road: road.reads(900),
        lambda road: road.sees("steam"),
    ],
    ids=["taken back", "a doubtful number", "steam"],
)
def test_it_stands_no_more_once_anything_else_was_heard(since: Callable[[Road], object]) -> None:
    road = asked_for_wood()
    since(road)
    assert now_of(road) is not Action.ADD


def test_small_words_beside_a_question_are_not_answered_too() -> None:
    road = lit()
    road.wait(5)
    road.say(Sign(kind="yes"), Sign(kind="thanks"), Question(topic=Topic.CRACK))
    assert [type(one) for one in road.heard] == [Answer]
    road.say(Sign(kind="yes"), Sign(kind="thanks"))
    assert [type(one) for one in road.heard] == [Greeted]
