"""A reader finds the one thing to do."""

from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import TypeVar

import pytest

from bot.channels.markup import plain
from bot.rehearsal.reading_the_bot import Wish, understand
from bot.rehearsal.setting_up import answer
from bot.wording.voice import Voice
from scheduling.choice import About
from scheduling.firing.aim import Action
from scheduling.meaning import (
    Advice,
    BreakInDone,
    DaysProposed,
    Doubtful,
    Eve,
    FinishedTold,
    FiringDone,
    FiringStatus,
    HowToLay,
    Meaning,
    MorningAfterAsk,
    MorningAsk,
    Nudge,
    SetUpQuestion,
    StillWaiting,
    StoppedForNow,
    WelcomeBack,
    office,
)
from scheduling.oven.makeup import MakeUp
from scheduling.oven.preset import shipped
from scheduling.oven.reading import Ask
from scheduling.ports import Person
from tests.bot.rehearsal.scripted import Said
from tests.bot.wording.samples import NOW, everything

M = TypeVar("M")


def wish(text: str, *labels: str) -> Wish:
    return understand(Said(datetime(2026, 5, 26, tzinfo=UTC), "robin", text, (labels,)))


@pytest.mark.parametrize(
    ("text", "kg", "pieces"),
    [
        ("Put on 0.5 kg now, then read in half an hour.", 0.5, None),
        ("Add 2 pieces (about 1,2 kg).", 1.2, 2),
        ("Add two splits.", None, 2),
        ("Stoke with 1 to 1.5 kg.", 1.5, None),
        ("Add nothing. It should climb by itself.", None, None),
        ("Don't add wood yet: 2 kg would be too much.", None, None),
        ("For tomorrow lay in 6 kg of dry wood.", None, None),
        ("What does the top read?", None, None),
    ],
)
def test_wood_is_only_put_on_when_it_is_asked_for_now(
    text: str, kg: float | None, pieces: float | None
) -> None:
    found = wish(text)
    assert (found.wood_kg, found.pieces) == (kg, pieces)


def test_what_to_do_is_told_apart() -> None:
    assert wish("What does the top of the dome read?").read
    assert wish("Shut the door now, good night.").door_on
    assert wish("Rake the fire apart.").rake
    assert wish("Spread the embers over the floor.").embers
    assert wish("You can light it now, with 1 kg of sticks.").light
    assert not wish("Tomorrow you can light it at nine.").light
    assert wish("Not yet: do not light anything before Friday.").not_yet
    assert wish("Stop here and call your builder.").stop
    assert wish("Your break-in is done.").done
    assert wish("Did you mean 152?", "152", "52").unclear


def test_the_bold_number_is_the_one_that_counts() -> None:
    assert wish("From 90 °C to <b>150 °C</b>").named_c == 150
    assert wish("Aim for <b>302 °F</b>").named_c == pytest.approx(150)
    assert wish("nothing here").named_c is None


def test_buttons_are_found_by_what_they_say() -> None:
    found = wish("Is it lit?", "Not yet", "Lit")
    assert found.button("lit") == "Lit"
    assert found.button("yes") is None


# ---------------------------------------------------------------- the true sentences


def spoken(meaning: Meaning, unit: str = "C") -> Wish:
    """What a reader makes of a meaning as the bot really says it."""
    reader = Person.model_validate(
        {"id": "p", "channel": "replay", "address": "robin", "name": "Robin", "unit": unit}
    )
    parcel = Voice().render(meaning, reader, "Europe/London", NOW)
    return understand(Said(NOW, "robin", parcel.text, parcel.buttons))


def to_owners() -> list[Meaning]:
    """What is said to somebody at an oven: a builder's screens and news are not."""
    told = [one for one in everything() if type(one).__module__ != office.__name__]
    return [one for one in told if not isinstance(one, FinishedTold)]


def spoken_all(kind: type[M]) -> list[tuple[M, Wish]]:
    return [(one, spoken(one)) for one in everything() if isinstance(one, kind)]


def test_wood_goes_on_at_an_add_and_at_no_other_word() -> None:
    for meaning in everything():
        found = spoken(meaning)
        adds = (isinstance(meaning, Advice) and meaning.action is Action.ADD) or (
            isinstance(meaning, Nudge) and not meaning.read and meaning.kg is not None
        )
        if adds:
            assert isinstance(meaning, Advice | Nudge)
            assert found.wood_kg == pytest.approx(meaning.kg, abs=0.05)
            assert found.pieces == meaning.pieces
            assert found.button("done") == "Done, it’s on"
        elif not isinstance(meaning, HowToLay):
            assert (found.wood_kg, found.pieces) == (None, None), meaning


def test_a_fire_is_laid_and_lit_as_told() -> None:
    for meaning, found in spoken_all(HowToLay):
        assert found.light
        assert found.wood_kg == pytest.approx(meaning.aim.lay_kg, abs=0.05)
        assert found.button("lit") == "Lit"
        assert found.door_off


def test_nobody_lights_a_fire_at_any_other_word() -> None:
    for meaning in everything():
        if not isinstance(meaning, HowToLay | StillWaiting):
            found = spoken(meaning)
            assert not found.light, meaning
            assert found.button("lit") is None, meaning


@pytest.mark.parametrize("unit", ["C", "F"])
def test_a_reading_is_heard_to_be_asked_for(unit: str) -> None:
    for meaning in everything():
        asks = (
            isinstance(meaning, MorningAsk | MorningAfterAsk)
            or (isinstance(meaning, Nudge | WelcomeBack) and meaning.read)
            or (isinstance(meaning, Advice) and meaning.action is Action.READ_AGAIN)
        )
        if asks:
            assert spoken(meaning, unit).read, meaning


def test_raking_embers_door_and_stop_are_told_apart_in_true_sentences() -> None:
    for meaning, found in spoken_all(Advice):
        assert found.rake == (meaning.action is Action.SPREAD)
        assert found.door_on == (meaning.action is Action.SHUT_DOOR)
        assert found.embers == (meaning.action is Action.SHUT_DOOR and meaning.aim.last)
        assert found.stop == (meaning.action is Action.STOP)
        if meaning.action is Action.SHUT_DOOR:
            assert found.button("door is on") == "Door is on"
    for done, found in spoken_all(FiringDone):
        assert found.door_on == (not done.door_on)
        assert found.embers == (done.embers and not done.door_on)


def test_the_end_is_heard_once_and_only_then() -> None:
    for meaning in to_owners():
        assert spoken(meaning).done == isinstance(meaning, BreakInDone), meaning


def test_a_stop_is_heard_from_stop_advice_alone() -> None:
    for meaning in to_owners():
        if not isinstance(meaning, Advice | StoppedForNow):
            assert not spoken(meaning).stop, meaning


def test_the_status_moves_nobody() -> None:
    for _, found in spoken_all(FiringStatus):
        asked = (
            found.wood_kg, found.pieces, found.light, found.read, found.door_on, found.rake,
            found.embers, found.stop, found.done,
        )  # fmt: skip
        assert not any(asked)


def test_a_doubtful_number_is_heard_as_a_wish_for_another() -> None:
    for meaning, found in spoken_all(Doubtful):
        if meaning.ask not in (Ask.IS_IT_LIT, Ask.WHICH_TIME):
            assert found.read or found.unclear, meaning


def test_yes_is_found_where_a_yes_is_wanted() -> None:
    for _, found in spoken_all(Eve):
        assert found.button("yes") == "Yes, still on"
    for _, found in spoken_all(DaysProposed):
        assert found.button("yes") == "Yes, move them"


@dataclass
class Someone:
    """An owner as far as the first meeting asks."""

    make_up: MakeUp
    unit: str = "C"
    fire_lit: bool = False
    measures: bool = True


EXPECTED = {
    About.UNITS: "°C",
    About.CONSTRUCTION: "Cast dome, thin",
    About.STANDS: "Open sky, a sheet for rain",
    About.OPENINGS: "Plain door, no flue",
    About.SHELTER: "Partly",
    About.INSTRUMENT: "Up to 550 °C",
    About.DAYS: "Any day",
    About.SECOND: "Just me",
}
TYPED = {
    About.PLACE: "51.5, -2.6",
    About.WET_WORK: "2026-05-01",
    About.SIZE: "800 mm",
    About.THICKNESS: "60 mm",
    About.HOURS: "9-18",
}


def test_every_question_of_the_first_meeting_is_recognised() -> None:
    owner = Someone(
        shipped().make_up(
            "cast-thin",
            name="Oven",
            inner_diameter_mm=800.0,
            thickness_mm={"shell": 60.0},
            wet_work_ended=date(2026, 5, 1),
            latitude=51.5,
            longitude=-2.6,
            cover="sheet",
            door="plain",
            shelter="part",
            instrument={"max_c": 550},
        )
    )
    for meaning in everything():
        if isinstance(meaning, SetUpQuestion):
            parcel = Voice().render(
                meaning,
                Person(id="p", channel="replay", address="robin", name="Robin"),
                "Europe/London",
                NOW,
            )
            heard = Said(NOW, "robin", plain(parcel.text), parcel.buttons)
            told = answer(owner, heard, understand(heard))
            assert told is not None, meaning
            assert told.press == EXPECTED.get(meaning.about), meaning
            assert told.text == TYPED.get(meaning.about), meaning
