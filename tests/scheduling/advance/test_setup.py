from datetime import UTC, date, datetime

import pytest

from scheduling.advance import advance
from scheduling.alarm import AlarmName
from scheduling.choice import About, Command, CommandName, SetUpAnswer
from scheduling.happening import Begun, Chose
from scheduling.meaning import (
    CureCountdown,
    CureDone,
    InstrumentShort,
    NoInstrument,
    Noted,
    PlanTold,
    SecondPersonAsked,
    SettingsShown,
    SetUpQuestion,
    SetUpRefused,
)
from scheduling.record import Record
from scheduling.remark import Doubt
from tests.scheduling.road import ANA, ANSWERS, Road


def test_the_first_meeting_welcomes_and_asks_one_question() -> None:
    road = Road()
    road.happen(Begun(ANA, "Ana's oven"))
    assert [one.kind for one in road.heard] == ["welcome", "set_up_question"]
    assert road.last(SetUpQuestion).about is About.UNITS


def test_each_answer_brings_the_next_question_and_the_last_one_the_plan() -> None:
    road = Road().begin()
    asked = [one.about for one in road.all_said(SetUpQuestion)]
    assert asked == list(ANSWERS)
    plan = road.last(PlanTold)
    assert plan.why == "first"
    assert [line.number for line in plan.lines] == list(range(1, len(plan.lines) + 1))
    assert all(line.day is not None for line in plan.lines)


def test_what_the_builder_has_set_is_not_asked() -> None:
    road = Road()
    road.happen(
        Begun(ANA, "Oven", "beth", given=((About.CONSTRUCTION, "cast-dense"), (About.SIZE, "900")))
    )
    assert About.CONSTRUCTION in road.record.answers
    for about, value in ANSWERS.items():
        if about not in (About.CONSTRUCTION, About.SIZE):
            road.press(SetUpAnswer(about=about, value=value))
    asked = {one.about for one in road.all_said(SetUpQuestion)}
    assert not asked & {About.CONSTRUCTION, About.SIZE}
    assert road.last(PlanTold).lines


@pytest.mark.parametrize(
    ("about", "value", "why"),
    [
        (About.WET_WORK, "2027-01-01", "in_future"),
        (About.WET_WORK, "1999-01-01", "too_old"),
        (About.WET_WORK, "tuesday", "not_understood"),
        (About.SIZE, "90", "out_of_range"),
        (About.INSTRUMENT, "20", "out_of_range"),
        (About.PLACE, "95,0,Europe/London", "out_of_range"),
        (About.PLACE, "51,0,Europe/Atlantis", "not_understood"),
        (About.CONSTRUCTION, "igloo", "unknown_choice"),
        (About.HOURS, "9-11", "too_few_hours"),
        (About.HOURS, "18-9", "out_of_range"),
        (About.DAYS, "", "no_days"),
        (About.DAYS, "89", "not_understood"),
    ],
)
def test_an_impossible_answer_is_refused_with_a_reason_and_asked_again(
    about: About, value: str, why: str
) -> None:
    road = Road()
    road.happen(Begun(ANA))
    road.press(SetUpAnswer(about=about, value=value))
    assert road.last(SetUpRefused).why == why
    assert road.last(SetUpQuestion).about is about
    assert about not in road.record.answers


def test_a_set_up_left_half_done_is_reminded_of_once_and_can_be_resumed() -> None:
    road = Road()
    road.happen(Begun(ANA))
    road.press(SetUpAnswer(about=About.UNITS, value="F"))
    road.wait(days=3)
    reminders = [one for one in road.all_said(SetUpQuestion) if one.reminder]
    assert [one.about for one in reminders] == [About.PLACE]
    road.press(Command(name=CommandName.START))
    assert road.last(SetUpQuestion).about is About.PLACE
    assert road.record.unit == "F"


def test_an_answer_can_be_corrected_and_the_plan_follows() -> None:
    road = Road().begin()
    before = road.last(PlanTold)
    road.press(SetUpAnswer(about=About.DAYS, value="56"))
    after = road.last(PlanTold)
    assert after is not before
    assert all(line.day is not None and line.day.weekday() >= 5 for line in after.lines)


def test_a_thermometer_that_stops_short_is_told_at_once() -> None:
    short = Road().begin({About.INSTRUMENT: "330"}).last(InstrumentShort)
    assert short.max_c == 330.0
    assert short.needed_c > 400.0
    assert all(
        line.plateau_c <= 305.0
        for line in Road().begin({About.INSTRUMENT: "330"}).last(PlanTold).lines
    )


def test_without_a_thermometer_the_charges_are_smaller() -> None:
    with_one = Road().begin().last(PlanTold).lines[0]
    road = Road().begin({About.INSTRUMENT: "none"})
    assert road.last(NoInstrument).firings >= 5
    assert road.last(PlanTold).lines[0].charge_kg < with_one.charge_kg


def test_a_second_person_is_invited() -> None:
    assert Road().begin({About.SECOND: "invite"}).all_said(SecondPersonAsked)


def test_a_young_oven_gets_a_countdown_and_no_firing_before_its_mortar_is_ready() -> None:
    road = Road().begin({About.WET_WORK: "2026-04-25"})
    countdown = road.last(CureCountdown)
    assert countdown.ready_on is not None
    assert countdown.ready_on > date(2026, 5, 10)
    assert all(one.day >= countdown.ready_on for one in road.record.promise)
    road.until(datetime(2026, 6, 20, tzinfo=UTC))
    assert len(road.all_said(CureCountdown)) >= 3
    assert len(road.all_said(CureDone)) == 1


def test_settings_show_every_answer() -> None:
    road = Road().begin()
    road.press(Command(name=CommandName.SETTINGS))
    assert dict(road.last(SettingsShown).answers).keys() == ANSWERS.keys()


def test_beginning_twice_opens_one_oven() -> None:
    road = Road()
    road.happen(Begun(ANA))
    entries = road.record.entries
    road.happen(Begun(ANA))
    assert [entry.kind for entry in road.record.entries[len(entries) :]] == ["asked"]


def test_the_same_press_twice_has_one_effect() -> None:
    road = Road()
    road.happen(Begun(ANA))
    press = Chose(ANA, SetUpAnswer(about=About.UNITS, value="C"), "k1")
    road.happen(press)
    assert road.happen(press).entries == ()


def test_advance_is_pure() -> None:
    road = Road()
    begun = Begun(ANA, "Oven")
    assert advance(Record(), begun, road.now) == advance(Record(), begun, road.now)


def test_the_reminder_alarm_goes_once_the_set_up_is_done() -> None:
    assert AlarmName.SET_UP not in Road().begin().alarms


def test_a_photo_in_the_set_up_is_kept_and_the_open_question_asked_again() -> None:
    road = Road()
    road.happen(Begun(ANA, "Ana's oven"))
    road.say(
        photo="telegram:f1", text="this one", doubt=Doubt(why="which_number", heard="this one")
    )
    assert [type(one) for one in road.heard] == [Noted, SetUpQuestion]
    assert road.last(SetUpQuestion).about is About.UNITS
