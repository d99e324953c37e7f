"""Every meaning has its words, for both units, and they keep the rules of the house."""

import re
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from bot.channels.markup import plain, runs
from bot.wording.buttons import LABEL_LIMIT
from bot.wording.measures import Measures
from bot.wording.terms import answer_words
from bot.wording.voice import AREAS, SENTENCES, Voice
from scheduling.choice import About, Saying
from scheduling.firing.aim import Action
from scheduling.hazard import TOLD, Hazard
from scheduling.meaning import (
    Advice,
    Alert,
    CrackTold,
    Doubtful,
    FiringDone,
    FiringStatus,
    HazardAsked,
    HazardTold,
    HowToLay,
    Meaning,
    Nudge,
    SetUpRefused,
    WhatIsWrong,
)
from scheduling.oven.preset import shipped
from scheduling.ports import Parcel, Person
from scheduling.remark import FireOut, Reading, Stoked
from tests.bot.wording.samples import KINDS, NOW, everything
from tests.bot.wording.samples_of_days import without_flue

ALL = tuple(everything())
UNITS = ("C", "F")

ABOUT_BOTH_UNITS = (
    "doubtful", "import_shown", "not_clear", "no_instrument", "settings_shown", "order_unclear",
)  # fmt: skip


def reader(unit: str = "C") -> Person:
    return Person.model_validate(
        {"id": "p-1", "channel": "replay", "address": "robin", "name": "Robin", "unit": unit}
    )


def said(meaning: Meaning, unit: str = "C", later: timedelta = timedelta(0)) -> Parcel:
    return Voice().render(meaning, reader(unit), "Europe/London", NOW + later)


def of(kind: type) -> Iterable[Meaning]:
    return (meaning for meaning in ALL if isinstance(meaning, kind))


def test_every_meaning_has_its_sentences_and_only_one_area_says_it() -> None:
    assert set(SENTENCES) == set(KINDS)
    assert sum(len(area) for area in AREAS) == len(KINDS)


def test_the_samples_leave_no_meaning_out() -> None:
    assert {type(meaning) for meaning in ALL} == set(KINDS)


@pytest.mark.parametrize("unit", UNITS)
def test_everything_can_be_said(unit: str) -> None:
    for meaning in ALL:
        text = said(meaning, unit).text
        assert text.strip(), meaning
        assert not re.search(
            r"None(?! yet)|\{|\}|\bnan\b|\binf\b|  | [.,;:]|\.\.|\b0 minutes", text
        ), text


@pytest.mark.parametrize("unit", UNITS)
def test_messages_are_short_calm_and_begin_with_a_capital(unit: str) -> None:
    for meaning in ALL:
        text = plain(said(meaning, unit).text)
        assert len(text) < 1100, text
        assert "!" not in text
        assert not text[0].islower(), text


@pytest.mark.parametrize("unit", UNITS)
def test_at_most_one_thing_is_bold(unit: str) -> None:
    for meaning in ALL:
        strong = [run for run in runs(said(meaning, unit).text) if run.bold]
        assert len(strong) <= 1, said(meaning, unit).text


@pytest.mark.parametrize("unit", UNITS)
def test_buttons_are_short_and_each_is_known_by_its_label(unit: str) -> None:
    for meaning in ALL:
        parcel = said(meaning, unit)
        labels = [label for row in parcel.buttons for label in row]
        assert len(set(labels)) == len(labels)
        assert set(labels) == parcel.choices.keys() | parcel.chats.keys()
        assert not parcel.choices.keys() & parcel.chats.keys()
        assert all(0 < len(label) <= LABEL_LIMIT for label in labels), labels


def test_temperatures_are_in_the_readers_own_unit() -> None:
    for meaning in ALL:
        if meaning.kind in ABOUT_BOTH_UNITS or meaning.kind.startswith("set_up"):
            continue
        assert "°F" not in said(meaning, "C").text
        assert "°C" not in said(meaning, "F").text


@pytest.mark.parametrize("days", [0, 1, 3])
def test_a_time_of_another_day_is_not_told_at_twice(days: int) -> None:
    for meaning in ALL:
        text = plain(said(meaning, later=timedelta(days=days)).text)
        assert not re.search(
            r"\bat (at|on|tomorrow|yesterday)\b|\bon (tomorrow|yesterday)\b", text
        ), text


def test_words_of_others_cannot_mark_up() -> None:
    for meaning in ALL:
        parcel = said(meaning)
        assert "<i>young" not in parcel.text
        assert "<b>arch" not in parcel.text
        assert re.sub(r"</?[bi]>", "", parcel.text).count("<") == 0


def test_pictures_and_papers_are_told_in_words_too() -> None:
    attached = [one for meaning in ALL for one in said(meaning).attachments]
    assert {one.kind for one in attached} == {
        "plan", "firing", "calendar", "record", "photo", "qr", "board", "ways", "week", "fires",
        "sheet",
    }  # fmt: skip
    assert all(len(one.alt) > 20 and "None" not in one.alt for one in attached)


# ---------------------------------------------------------------- safety

ASKS_FOR_WOOD = re.compile(r"^(put on|lay) ", re.IGNORECASE | re.MULTILINE)


@pytest.mark.parametrize("unit", UNITS)
def test_wood_is_asked_for_by_an_explicit_add_alone(unit: str) -> None:
    for meaning in ALL:
        asks = bool(
            ASKS_FOR_WOOD.search(plain(said(meaning, unit).text).replace("hear from you. ", "\n"))
        )
        adds = (
            isinstance(meaning, HowToLay)
            or (isinstance(meaning, Advice) and meaning.action is Action.ADD)
            or (isinstance(meaning, Nudge) and not meaning.read and meaning.kg is not None)
        )
        assert asks == adds, meaning


def test_nothing_says_to_burn_hotter_faster_or_bigger() -> None:
    urging = re.compile(
        r"\b(burn|fire|get|make) (it |the fire )?(hotter|bigger|faster)\b|\bspeed (it )?up\b|"
        r"\bmore wood (now|please)|\bbuild (it|the fire) up\b|\bhurry up\b",
        re.IGNORECASE,
    )
    for meaning in ALL:
        told = re.sub(r"no more wood now", "", plain(said(meaning).text), flags=re.IGNORECASE)
        assert not urging.search(told), told


def test_a_doubtful_number_never_gets_wood() -> None:
    for meaning in of(Doubtful):
        assert isinstance(meaning, Doubtful)
        text = said(meaning).text
        assert "I have not used it." in text
        assert ("Add nothing" in text or "add nothing" in text) == meaning.lit
        assert "out on" not in text


def test_a_reading_comes_before_wood_in_a_nudge() -> None:
    for meaning in of(Nudge):
        assert isinstance(meaning, Nudge)
        if meaning.read:
            text = said(meaning).text
            assert "What does the top of the dome read now?" in text
            assert "until I have seen the number" in text or "before I have seen" in text


def told(hazard: Hazard, emergency: str | None = "999", *, lit: bool = True) -> str:
    meaning = HazardTold(hazard=hazard, emergency=emergency, lit=lit, since=NOW)
    return said(meaning).text


def test_an_unwell_person_is_told_to_leave_first_and_the_fire_comes_last() -> None:
    first, call, rest = told(Hazard.UNWELL).split("\n\n")
    assert first == "Get away from the fire into fresh air now, everybody with you."
    assert call.startswith("Call <b>999</b> now")
    assert "Leave the fire" in rest


def test_where_the_number_of_the_place_is_not_known_112_is_the_one_to_try() -> None:
    for hazard in TOLD:
        text = told(hazard, None)
        assert "{call}" not in text
        assert ("999" in told(hazard)) == ("<b>112</b>" in text)


def test_a_burn_is_cooled_under_running_water_for_twenty_minutes() -> None:
    assert "cool running water now, for 20 minutes" in told(Hazard.BURNT).split("\n\n")[0]


def test_what_is_done_first_never_asks_for_wood() -> None:
    for hazard in TOLD:
        for lit in (True, False):
            assert not re.search(r"[Pp]ut on|[Aa]dd (one|two|three|some|a)", told(hazard, lit=lit))


def test_the_lighting_message_carries_the_cautions_before_the_match() -> None:
    for meaning in of(HowToLay):
        text = said(meaning).text
        for caution in ("Door off", "water at hand", "carbon monoxide", "fire rules", "children"):
            assert text.index(caution) < text.index("light it")


@pytest.mark.parametrize("why", ["not_burning", "burnt_down"])
def test_wood_that_has_to_catch_again_is_put_on_with_the_face_away_and_no_spirit(why: str) -> None:
    texts = [
        said(one).text
        for one in of(Advice)
        if isinstance(one, Advice) and one.action is Action.ADD and one.why.what == why
    ]
    assert texts
    for text in texts:
        assert "can catch all at once" in text
        assert "face" in text
        assert "No petrol or spirit" in text


def test_without_a_thermometer_the_look_comes_before_the_wood() -> None:
    for meaning in of(Nudge):
        assert isinstance(meaning, Nudge)
        if not meaning.read and meaning.kg is not None:
            text = said(meaning).text
            assert text.index("Popping") < text.index("Put on")


def test_nobody_is_asked_to_touch_a_wall_or_to_lay_a_coin_by_it_while_a_fire_burns() -> None:
    for meaning in of(CrackTold):
        assert isinstance(meaning, CrackTold)
        text = said(meaning).text
        if meaning.lit:
            assert "coin" not in text
            assert "go into" not in text
            assert "fingernail" not in text or "touch" in text


def test_who_told_of_no_crack_can_say_so() -> None:
    for meaning in of(CrackTold):
        assert isinstance(meaning, CrackTold)
        labels = [label for row in said(meaning).buttons for label in row]
        assert ("No, you misread me" in labels) == (meaning.misread_as is not None)


def test_a_crack_of_unsaid_width_is_asked_after_by_its_width() -> None:
    asked = [one for one in of(HazardAsked) if getattr(one, "hazard", None) is Hazard.CRACK_UNSAID]
    assert asked
    for meaning in asked:
        parcel = said(meaning)
        assert "fingernail" in parcel.text
        assert "touch" in parcel.text
        assert [list(row) for row in parcel.buttons] == [["A hairline", "Open, or growing"]]


def test_nobody_without_a_flue_is_told_of_one() -> None:
    flue = re.compile(r"flue|chimney|pipe|damper|swept|sweeps", re.I)
    for meaning in without_flue():
        parcel = said(meaning)
        labels = [label for row in parcel.buttons for label in row]
        assert not flue.search(" ".join((parcel.text, *labels))), meaning
    named = said(WhatIsWrong(flue=None))
    assert any(flue.search(label) for row in named.buttons for label in row)


def test_the_door_is_never_asked_for_without_a_word_about_flames() -> None:
    asking = re.compile(r"(put|shut|stand) the door\b|the door on overnight|put on the door")
    for meaning in ALL:
        text = said(meaning).text
        if asking.search(text) and not isinstance(meaning, HazardTold):
            assert re.search(r"flame|embers", text), text


def test_the_status_of_a_burning_fire_is_pinned_and_asks_for_nothing() -> None:
    for meaning in of(FiringStatus):
        assert isinstance(meaning, FiringStatus)
        parcel = said(meaning)
        assert parcel.pin == (meaning.shown.ended_at is None)
        assert "?" not in parcel.text
        assert not ASKS_FOR_WOOD.search(parcel.text)


def test_a_hold_is_lifted_by_a_look_alone_and_only_where_it_is_asked_for() -> None:
    for meaning in of(HazardAsked):
        assert isinstance(meaning, HazardAsked)
        offered = [c for c in said(meaning).choices.values() if isinstance(c, Saying)]
        assert bool(offered) == meaning.ask


# ---------------------------------------------------------------- numbers


def advice(**known: object) -> Advice:
    plain_advice = next(
        one for one in ALL if isinstance(one, Advice) and one.action is Action.ADD and one.kg
    )
    return plain_advice.model_copy(update=known)


def test_a_charge_is_told_in_pieces_and_kilograms() -> None:
    text = said(advice(kg=0.42, pieces=3, piece_mm=30.0)).text
    assert text.startswith("Put on <b>three thumb-thick sticks (about 0.4 kg)</b> now")
    put_on = said(advice(kg=0.42, pieces=3)).choices["Done, it’s on"]
    assert put_on.model_dump()["remarks"][0] == Stoked(pieces=3).model_dump()


def test_what_to_expect_is_told_in_the_readers_degrees() -> None:
    known = advice(expect_c=(140.0, 155.0), top_c=131.0)
    assert "It should then show 140–155 °C." in said(known).text
    assert "It should then show 285–310 °F." in said(known, "F").text
    assert "The top stands at 268 °F." in said(known, "F").text


def test_a_number_in_the_wrong_unit_can_be_put_right_with_one_tap() -> None:
    doubts = [one for one in of(Doubtful) if isinstance(one, Doubtful) and one.likely_c]
    labels = {label: one.likely_c for one in doubts for label in said(one).choices}
    assert labels["It was 300 °F"] == pytest.approx(148.9)
    assert labels["It was 150 °C"] == pytest.approx(150.0)
    choice = said(doubts[0]).choices["It was 300 °F"]
    wanted = Reading(top_c=148.9, unit_named=True)
    assert choice.model_dump()["remarks"][0] == wanted.model_dump()


def test_a_number_put_right_later_keeps_the_time_of_its_reading() -> None:
    read_at = datetime(2026, 5, 13, 7, 0, tzinfo=UTC)
    doubt = next(one for one in of(Doubtful) if isinstance(one, Doubtful) and one.likely_c)
    choice = said(doubt.model_copy(update={"at": read_at})).choices["It was 300 °F"]
    assert isinstance(choice, Saying)
    assert [getattr(one, "at", None) for one in choice.remarks] == [read_at]


def test_a_range_that_was_missed_is_told_in_the_fields_own_unit() -> None:
    size = SetUpRefused.model_validate(
        {"about": "size", "value": "9", "why": "out_of_range", "low": 300, "high": 2500}
    )
    assert "between 30 cm and 250 cm" in said(size).text
    assert "between 12 in and 98 in" in said(size, "F").text


def test_the_soot_is_asked_after_on_the_last_fire_alone() -> None:
    asking = [one for one in of(FiringDone) if "Soot is gone" in said(one).choices]
    assert len(asking) == 1
    assert isinstance(asking[0], FiringDone)
    assert asking[0].shown.aim.last


def test_an_alert_names_the_oven_and_hands_on_the_photo() -> None:
    alert = Alert(needs="crack", since=NOW, oven="Meadow oven", photos=("telegram:abc",))
    parcel = said(alert)
    assert parcel.text.startswith("Meadow oven: ")
    assert parcel.attachments[0].data == {"photo": "telegram:abc"}


def test_a_fire_that_is_to_die_can_be_told_dead_with_one_tap() -> None:
    stop = next(one for one in of(Advice) if isinstance(one, Advice) and one.action is Action.STOP)
    assert said(stop).choices["Fire is out"].model_dump()["remarks"][0] == FireOut().model_dump()


@pytest.mark.parametrize("key", shipped().presets)
def test_a_construction_is_told_by_its_title_and_never_by_its_key(key: str) -> None:
    m = Measures("C", ZoneInfo("UTC"), datetime(2026, 5, 13, 9, tzinfo=UTC))
    assert answer_words(About.CONSTRUCTION, key, m) == shipped().presets[key].title
