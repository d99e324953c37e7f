"""What is said of where an oven stands: people first, no fire indoors, and sparks where they go."""

from datetime import UTC, datetime

import pytest

from bot.channels.markup import plain
from bot.wording.voice import Voice
from scheduling.meaning import (
    Answer,
    Eve,
    FireIndoors,
    HowToLay,
    LitNoted,
    Meaning,
    SkyNow,
    StandsIndoors,
)
from scheduling.oven.stands import Stands
from scheduling.ports import Person
from scheduling.remark import Sky, Topic
from tests.bot.wording.sample_values import EARLY, NOW, SOON, TOMORROW

ANA = Person(id="ana", channel="replay", address="ana", name="Ana")


def said(meaning: Meaning) -> str:
    return plain(Voice().render(meaning, ANA, "Europe/London", NOW).text)


def test_a_fire_indoors_begins_with_people_and_asks_for_no_wood() -> None:
    text = said(FireIndoors(emergency="999", builder_told=True))
    assert text.startswith("Everybody out into fresh air now")
    assert text.index("doors and windows") < text.index("999") < text.index("Add nothing")
    assert "Your builder has been told" in text
    assert "your emergency number" in said(FireIndoors())


def test_why_no_fire_is_led_indoors_is_told_with_what_to_do() -> None:
    text = said(StandsIndoors(builder_told=True))
    assert text.startswith("Light nothing")
    for told in ("carbon monoxide", "catch fire", "licensed fitter", "local code", "open"):
        assert told in text
    assert "builder has been told" in text


@pytest.mark.parametrize("where", ["sky+beside", "slats", "roof", "roof+beside"])
def test_what_may_burn_is_minded_before_the_match_and_left_to_the_local_code(where: str) -> None:
    text = said(HowToLay(aim=EARLY, stands=Stands.read(where)))
    assert "local code" in text
    assert ("hedge or shed beside it" in text) == ("beside" in where)
    assert ("What is over it may burn" in text) == (where != "sky+beside")
    assert text.index("local code") < text.index("light it")


def test_in_the_open_nothing_is_said_of_roof_or_fence() -> None:
    text = said(HowToLay(aim=EARLY, stands=Stands.read("sky")))
    assert "local code" not in text
    assert "fence" not in text


@pytest.mark.parametrize("sky", [Sky.WIND, Sky.GALE])
def test_wind_beside_a_fence_says_what_to_watch_first(sky: Sky) -> None:
    near = said(SkyNow(what=sky, lit=True, stands=Stands.read("roof+beside")))
    assert "fence, hedge or shed beside it and the roof over it" in near
    assert "fence" not in said(SkyNow(what=sky, lit=True, stands=Stands.read("sky")))


def test_the_evening_before_near_a_fence_asks_for_a_hose() -> None:
    start = datetime(2026, 5, 14, 8, tzinfo=UTC)
    eve = Eve(aim=EARLY, day=TOMORROW, start=start, proposal="eve:1")
    near = eve.model_copy(update={"stands": Stands.read("sky+beside")})
    assert "a hose that reaches" in said(near)
    assert "hose" not in said(eve)


def test_an_oven_without_a_flue_hears_nothing_of_one() -> None:
    meanings: list[Meaning] = [
        LitNoted(aim=EARLY, lit_at=NOW, next_at=SOON, flue=False),
        HowToLay(aim=EARLY, stands=Stands.read("roof+beside"), flue=False),
        *(
            Answer(topic=topic, phase="lit", lit=lit, flue=False)
            for topic in Topic
            for lit in (True, False)
        ),
    ]
    for meaning in meanings:
        text = said(meaning)
        assert "flue" not in text, text
        assert "chimney" not in text, text
    assert "flames licking far out of the mouth" in said(meanings[0])
    assert "flames in the flue" in said(LitNoted(aim=EARLY, lit_at=NOW, next_at=SOON, flue=True))
