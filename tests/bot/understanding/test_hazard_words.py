"""Every hazard is heard in words of its own, and not in words that only sound like it."""

import pytest

from bot.understanding import understand
from bot.understanding.hazard_words import WORDS
from scheduling.hazard import TOLD, Hazard
from scheduling.remark import Crack, CrackSize, Expectation, HazardSaid, Looked, Setting
from tests.bot.understanding.corpus import NOW

AT_THE_FIRE = Setting(unit="C", now=NOW, expect=Expectation.READING, last_top_c=110.0)


def hazards_in(text: str, setting: Setting = AT_THE_FIRE) -> set[Hazard]:
    told = understand(text, setting).meanings
    opened = any(isinstance(one, Crack) and one.size is not CrackSize.HAIRLINE for one in told)
    found = {one.hazard for one in told if isinstance(one, HazardSaid)}
    return found | ({Hazard.CRACK} if opened else set())


@pytest.mark.parametrize("hazard", TOLD)
def test_its_examples_are_heard(hazard: Hazard) -> None:
    for text in WORDS[hazard].examples:
        assert hazard in hazards_in(text), text


@pytest.mark.parametrize("hazard", TOLD)
def test_what_only_sounds_like_it_is_not(hazard: Hazard) -> None:
    for text in WORDS[hazard].harmless:
        assert hazard not in hazards_in(text), text


LOOKED = [
    ("popping", "ive looked at it, its fine", None, True),
    ("flue_flames", "sweep has been, flue is clear", "flue_flames", True),
    ("unwell", "feeling much better now thanks", "unwell", True),
    ("child_near", "kids are inside now", "child_near", True),
    ("fire_spreading", "fence is out now all safe", "fire_spreading", True),
    ("popping", "had a look, bit loose still", None, False),
    ("popping", "looked at it just now", None, None),
    ("unattended", "im back", "unattended", True),
]


@pytest.mark.parametrize(("open_", "text", "named", "sound"), LOOKED)
def test_a_look_is_read_with_how_it_was_found(
    open_: str, text: str, named: str | None, sound: bool | None
) -> None:
    setting = AT_THE_FIRE.model_copy(update={"open_hazards": (Hazard(open_),)})
    looks = [one for one in understand(text, setting).meanings if isinstance(one, Looked)]
    assert [(one.hazard, one.sound) for one in looks] == [(named and Hazard(named), sound)]
    alone = understand(text, AT_THE_FIRE).meanings
    assert not [one for one in alone if isinstance(one, Looked)], "with nothing open it is no look"


@pytest.mark.parametrize(
    "text", ["done", "yes", "yeah on for tomorrow", "152", "ok", "not feeling better", "it is on"]
)
def test_no_other_word_closes_anything(text: str) -> None:
    setting = AT_THE_FIRE.model_copy(update={"open_hazards": TOLD})
    looks = [one for one in understand(text, setting).meanings if isinstance(one, Looked)]
    assert not [one for one in looks if one.sound]


@pytest.mark.parametrize(
    ("open_", "text"),
    [
        ("fire_spreading", "the fire is out of the oven and on the hedge"),
        ("fire_spreading", "it's out of hand"),
        ("fire_spreading", "it's out on the lawn now"),
        ("out_of_control", "it has dropped onto the grass"),
        ("unattended", "i'm back tomorrow"),
        ("unattended", "im back at 6"),
        ("popping", "i haven't looked at it, it's fine"),
        ("popping", "didn't look at it yet, sure its fine"),
        ("popping", "will look at it tomorrow, probably fine"),
        ("crack", "nobody has looked at it but it looks ok from here"),
        ("crack", "looked at it, its fine i think"),
        ("ban", "council says we can burn again from tomorrow"),
    ],
)
def test_words_that_are_not_plainly_a_look_close_nothing(open_: str, text: str) -> None:
    setting = AT_THE_FIRE.model_copy(update={"open_hazards": (Hazard(open_),)})
    looks = [one for one in understand(text, setting).meanings if isinstance(one, Looked)]
    assert not [one for one in looks if one.sound]


def test_a_new_danger_is_no_look_at_the_old_one() -> None:
    setting = AT_THE_FIRE.model_copy(update={"open_hazards": (Hazard.FIRE_SPREADING,)})
    assert Hazard.FIRE_SPREADING in hazards_in("now the shed has caught too", setting)
