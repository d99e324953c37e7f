"""Whoever writes while a question of ours is unanswered sees the question again."""

import pytest

from scheduling.choice import About, Command, CommandName, Confirm
from scheduling.happening import Begun
from scheduling.hazard import Hazard
from scheduling.meaning import Eve, SetUpQuestion, StillAsked
from scheduling.remark import Question, Remark, Sign, Topic
from tests.scheduling.road import ANA, Road

GREETING, WEATHER = Sign(kind="greeting"), Question(topic=Topic.WEATHER)


def asked_first() -> Road:
    road = Road()
    road.happen(Begun(ANA, "", None))
    return road


def kinds(road: Road) -> list[str]:
    return [message.meaning.kind for message in road.said[road.mark :]]


@pytest.mark.parametrize("remark", [GREETING, WEATHER, None], ids=str)
def test_the_set_up_s_question_comes_again_after_other_words(remark: Remark | None) -> None:
    road = asked_first()
    road.say(*([remark] if remark else []), text="hello?")
    again = road.said[-1].meaning
    assert isinstance(again, SetUpQuestion)
    assert again.about is About.UNITS
    assert kinds(road).count("set_up_question") == 1


def test_it_comes_again_after_a_command_too() -> None:
    road = asked_first()
    road.press(Command(name=CommandName.HELP))
    assert kinds(road) == ["help_shown", "set_up_question"]


def test_nothing_is_asked_beside_a_danger() -> None:
    road = asked_first()
    road.endangered(Hazard.UNWELL)
    assert "set_up_question" not in kinds(road)


def eve(road: Road) -> Eve:
    for _ in range(40):
        road.wait(hours=12)
        found = [one.meaning for one in road.said if isinstance(one.meaning, Eve)]
        question = road.record.question
        if found and question is not None and question.proposal == found[-1].proposal:
            return found[-1]
    raise AssertionError("no evening came")


def test_the_evening_s_question_comes_again_with_its_buttons_until_it_is_answered() -> None:
    road = Road().begin()
    asked = eve(road)
    road.say(WEATHER)
    assert road.said[-1].meaning == StillAsked(what="eve", proposal=asked.proposal)
    road.press(Confirm(proposal=asked.proposal, yes=True))
    road.say(WEATHER)
    assert "still_asked" not in kinds(road)


def test_what_was_just_proposed_is_not_asked_twice() -> None:
    road = Road().begin()
    eve(road)
    proposed = road.confirms(eve(road).proposal, yes=False)
    assert not any(isinstance(one.meaning, StillAsked) for one in proposed.messages)
