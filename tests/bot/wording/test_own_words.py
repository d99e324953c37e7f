"""A builder's own words stand beside the house's sentences, and never in their place."""

from collections.abc import Iterable

import pytest

from bot.wording.voice import Voice
from scheduling.meaning import Eve, FiringDone, HowToLay, Meaning, Welcome
from scheduling.ports import Parcel, Person
from tests.bot.wording.samples import NOW, everything

READER = Person(id="p-1", channel="replay", address="robin", name="Robin")
OWN = ("Fill it up <b>right</b> to the mouth", "Ask Ole for the key")


def said(meaning: Meaning) -> Parcel:
    return Voice().render(meaning, READER, "Europe/London", NOW)


def with_own(meaning: Meaning) -> Meaning:
    own = " ".join(OWN) if isinstance(meaning, Welcome) else OWN
    return meaning.model_copy(update={"own": own})


def samples() -> Iterable[Meaning]:
    return (one for one in everything() if isinstance(one, Welcome | Eve | HowToLay | FiringDone))


@pytest.mark.parametrize("meaning", samples(), ids=lambda one: one.kind)
def test_everything_that_is_said_without_them_is_said_with_them(meaning: Meaning) -> None:
    bare, added = said(meaning), said(with_own(meaning))
    paragraphs = added.text.split("\n\n")
    assert all(paragraph in paragraphs for paragraph in bare.text.split("\n\n"))
    assert len(paragraphs) == len(bare.text.split("\n\n")) + 1
    assert added.buttons == bare.buttons


@pytest.mark.parametrize("meaning", samples(), ids=lambda one: one.kind)
def test_they_are_told_as_the_builders_and_cannot_mark_up(meaning: Meaning) -> None:
    added = said(with_own(meaning)).text
    (theirs,) = (part for part in added.split("\n\n") if "Ask Ole for the key" in part)
    assert "uilder" in theirs or " says: " in theirs
    assert "<b>right</b>" not in added
