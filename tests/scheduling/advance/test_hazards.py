"""Hazards of the registry: what each stops, who hears of it, and what closes it."""

from datetime import timedelta

import pytest

from scheduling.alarm import AlarmName
from scheduling.choice import About, OrderName, Restricting
from scheduling.firing.aim import Action
from scheduling.hazard import HAZARDS, TOLD, Closer, Hazard, Stops
from scheduling.journal import Advised, FireLit, HazardSeen, Measured
from scheduling.meaning import (
    Advice,
    Alert,
    BackAsked,
    CrackTold,
    FiringDone,
    HazardAsked,
    HazardClosedTold,
    HazardStays,
    HazardTold,
    HowToLay,
    InstrumentBlind,
    InstrumentMissing,
    LeavingFire,
    LitTooEarly,
    MustNotBurn,
    NotHeard,
    Nudge,
    SignTold,
    StaleTap,
    TooHot,
    WhatIsWrong,
    WhichHazard,
)
from scheduling.outcome import Urgency
from scheduling.record import Phase, Record
from scheduling.record.need import needs_of, phase_of
from scheduling.remark import (
    AllWell,
    Crack,
    CrackSize,
    FireBan,
    HazardSaid,
    Leaving,
    Looked,
    Misheard,
    Reading,
    Sign,
    SomethingWrong,
    Stoked,
)
from tests.scheduling.road import Road, lit

WORDS = "there is something odd about the thingummy"


def burning(builder: str | None = None) -> Road:
    """A fire that has just been fed, and is due to be fed again."""
    road = lit(builder=builder)
    road.wait(31)
    road.reads(50)
    assert road.action is Action.ADD
    road.stokes()
    return road


def assert_no_wood(road: Road, since: int) -> None:
    advised = [one for one in road.entries(Advised)[since:] if one.action is Action.ADD]
    assert not advised


@pytest.mark.parametrize("hazard", TOLD)
def test_no_wood_is_asked_for_while_a_hazard_stands_open(hazard: Hazard) -> None:
    road = burning()
    before = len(road.entries(Advised))
    road.say(Reading(top_c=62.0), HazardSaid(hazard=hazard), text="95, it happens")
    for top_c in (70, 75, 80):
        road.wait(20)
        road.reads(top_c)
    road.say(Stoked())
    assert_no_wood(road, before)


@pytest.mark.parametrize("hazard", TOLD)
def test_a_hazard_is_answered_at_once_and_alone(hazard: Hazard) -> None:
    road = burning(builder="beth")
    road.say(Reading(top_c=62.0), HazardSaid(hazard=hazard), text="95, it happens")
    to_people = [m for m in road.said[road.mark :] if not isinstance(m.meaning, Alert)]
    spoken = [m for m in to_people if m.replaces != "status"]
    assert [type(m.meaning) for m in spoken] == [HazardTold]
    assert spoken[0].urgency is Urgency.DANGER
    assert road.last(HazardTold).hazard is hazard
    assert road.last(HazardTold).emergency == "999"
    assert road.entries(Measured)[-1].top_c == 62.0, "the number is kept"


@pytest.mark.parametrize("hazard", TOLD)
def test_the_builder_hears_of_it_as_soon_as_it_says_and_in_the_owners_words(
    hazard: Hazard,
) -> None:
    road = burning(builder="beth")
    for _ in range(2):
        road.wait(2)
        road.endangered(hazard, text="the owner’s own words")
    alerts = road.all_said(Alert)
    assert len(alerts) == HAZARDS[hazard].at_once
    assert all(one.words == "the owner’s own words" for one in alerts)
    assert hazard in [one.what for one in needs_of(road.record, road.now)]


@pytest.mark.parametrize("hazard", TOLD)
def test_it_stops_as_much_as_the_registry_says(hazard: Hazard) -> None:
    road = burning()
    road.endangered(hazard)
    assert road.record.session is not None
    assert road.record.session.ending == (HAZARDS[hazard].stops >= Stops.FIRE)


@pytest.mark.parametrize("hazard", TOLD)
def test_done_a_reading_a_plan_or_the_clock_never_close_it(hazard: Hazard) -> None:
    road = burning()
    road.endangered(hazard)
    road.stokes()
    road.reads(70)
    road.say(Sign(kind="yes"))
    road.say(Sign(kind="thanks"))
    road.wait(40)
    road.say(Sign(kind="yes"))
    assert hazard in [one.what for one in road.record.hazards]


@pytest.mark.parametrize("hazard", TOLD)
def test_whoever_may_close_it_closes_it_by_its_own_button(hazard: Hazard) -> None:
    road = Road().begin()
    road.endangered(hazard)
    since = road.record.hazards[0].since
    road.wait(1)
    road.say(Looked(hazard=hazard, sound=True, since=since))
    assert road.last(HazardClosedTold).hazard is hazard
    assert not road.record.hazards


@pytest.mark.parametrize("hazard", TOLD)
def test_a_button_of_an_older_one_closes_nothing(hazard: Hazard) -> None:
    road = Road().begin()
    road.endangered(hazard)
    road.say(Looked(hazard=hazard, sound=True, since=road.now - timedelta(days=1)))
    assert road.heard_of(StaleTap)
    assert road.record.hazards


@pytest.mark.parametrize("hazard", [one for one in TOLD if HAZARDS[one].closer is Closer.BUILDER])
def test_where_there_is_a_builder_the_wall_is_for_them_to_judge(hazard: Hazard) -> None:
    road = Road().begin(builder="beth")
    road.endangered(hazard)
    road.looked(hazard)
    assert road.last(HazardStays).why == "builder"
    assert road.last(Alert).looked
    road.orders(OrderName.CLOSE, field=hazard.value, confirmed=True)
    assert not road.record.hazards


@pytest.mark.parametrize("hazard", TOLD)
def test_it_is_asked_after_until_somebody_says_how_it_is(hazard: Hazard) -> None:
    road = Road().begin()
    road.endangered(hazard)
    road.wait(HAZARDS[hazard].ask_minutes + 1)
    assert road.last(HazardAsked).hazard is hazard
    assert road.last(HazardAsked).ask
    asked = len(road.all_said(HazardAsked))
    road.wait(days=2)
    assert len(road.all_said(HazardAsked)) > asked
    assert road.alarms[AlarmName.FOLLOW_UP] - road.now <= timedelta(days=1)


@pytest.mark.parametrize("hazard", TOLD)
def test_the_journal_of_every_drill_reads_as_it_was_written(hazard: Hazard) -> None:
    road = burning(builder="beth")
    road.endangered(hazard, text="told in words")
    road.wait(12)
    road.looked(hazard)
    again = Record.folded(road.record.entries)
    assert again.hazards == road.record.hazards
    assert again.sessions == road.record.sessions


@pytest.mark.parametrize("hazard", TOLD)
def test_nothing_is_lit_while_one_stands_open(hazard: Hazard) -> None:
    road = Road().begin().to_first_firing()
    road.endangered(hazard)
    assert phase_of(road.record, road.now) is Phase.HELD
    road.lights()
    assert road.entries(FireLit)[-1].too_early
    if HAZARDS[hazard].keep_away:
        assert road.heard_of(HazardAsked), "what stands open is all that is said"
    else:
        assert road.last(LitTooEarly).why == "trouble"


def test_the_gravest_comes_first_and_of_the_others_only_what_to_do_first() -> None:
    road = burning()
    road.endangered(Hazard.CHILD_NEAR, Hazard.BURNT, Hazard.POPPING)
    told = road.last(HazardTold)
    assert told.hazard is Hazard.BURNT
    assert set(told.also) == {Hazard.CHILD_NEAR, Hazard.POPPING}
    assert {one.hazard for one in road.entries(HazardSeen)} == {*told.also, Hazard.BURNT}


@pytest.mark.parametrize("grave", [Hazard.BURNT, Hazard.FLUE_FLAMES])
def test_nobody_is_called_to_a_fire_that_people_are_kept_away_from(grave: Hazard) -> None:
    road = burning()
    road.endangered(grave, Hazard.UNATTENDED, Hazard.DRUNK)
    assert road.last(HazardTold).also == ()
    assert {one.hazard for one in road.entries(HazardSeen)} >= {Hazard.UNATTENDED, Hazard.DRUNK}


def test_i_have_looked_asks_which_where_several_stand_open() -> None:
    road = Road().begin()
    road.endangered(Hazard.POPPING)
    road.endangered(Hazard.FLUE_FLAMES)
    road.looked()
    assert {one for one, _ in road.last(WhichHazard).hazards} == {
        Hazard.POPPING, Hazard.FLUE_FLAMES,
    }  # fmt: skip
    assert len(road.record.hazards) == 2
    road.looked(Hazard.POPPING)
    assert [one.what for one in road.record.hazards] == [Hazard.FLUE_FLAMES]


def test_nobody_judges_a_wall_or_a_flue_while_a_fire_burns_in_it() -> None:
    for hazard in (Hazard.POPPING, Hazard.FLUE_FLAMES):
        road = burning()
        road.endangered(hazard)
        road.looked(hazard)
        assert road.last(HazardStays).why == "hot"
        assert road.record.hazards


def test_a_look_that_finds_it_not_sound_closes_nothing() -> None:
    road = Road().begin()
    road.endangered(Hazard.UNWELL)
    road.looked(Hazard.UNWELL, sound=False)
    assert road.last(HazardStays).why == "not_sound"
    assert road.record.hazards


def test_what_holds_only_the_wood_lets_the_fire_go_on_once_it_is_over() -> None:
    road = burning()
    road.endangered(Hazard.CHILD_NEAR)
    road.wait(3)
    road.looked(Hazard.CHILD_NEAR)
    assert road.last(HazardClosedTold).lit
    road.wait(20)
    road.reads(75)
    assert road.action is Action.ADD


def test_nothing_is_added_for_the_rest_of_a_firing_that_was_stopped() -> None:
    road = burning()
    road.endangered(Hazard.UNWELL)
    road.wait(15)
    road.looked(Hazard.UNWELL)
    before = len(road.entries(Advised))
    for _ in range(4):
        road.wait(15)
        road.reads(50)
    assert_no_wood(road, before)


KEPT_AWAY = [one for one in TOLD if HAZARDS[one].keep_away]
NEAR_THE_OVEN = (
    *(Advice, BackAsked, InstrumentBlind, LeavingFire),
    *(MustNotBurn, Nudge, SignTold, TooHot),
)


@pytest.mark.parametrize("hazard", KEPT_AWAY)
def test_nobody_is_asked_to_do_anything_near_the_oven_while_it_keeps_people_away(
    hazard: Hazard,
) -> None:
    road = burning()
    road.endangered(hazard)
    start = len(road.said)
    for remark in (
        Reading(top_c=88.0),
        Sign(kind="too_big"),
        Leaving(),
        Reading(top_c=231.0),
        Reading(top_c=230.0),
        Stoked(),
    ):
        road.wait(3)
        road.say(remark)
    road.wait(150)
    said = [one.meaning for one in road.said[start:]]
    assert not [one for one in said if isinstance(one, NEAR_THE_OVEN)]
    assert [one for one in said if isinstance(one, HazardAsked)]


def test_of_several_hazards_each_is_asked_after_in_its_own_time() -> None:
    road = burning()
    road.endangered(Hazard.BURNT)
    road.cracks(CrackSize.OPEN)
    road.wait(11)
    assert road.last(HazardAsked).hazard is Hazard.BURNT


def test_the_end_of_the_fire_closes_nothing_that_somebody_told_of() -> None:
    for hazard in (Hazard.OUT_OF_CONTROL, Hazard.DRUNK, Hazard.ACCELERANT):
        road = burning()
        road.endangered(hazard)
        road.fire_dies()
        road.shuts_door()
        assert hazard in [one.what for one in road.record.hazards]


def test_a_fire_that_looks_too_big_gets_no_wood_until_a_number_shows_that_it_has_dropped() -> None:
    road = burning()
    road.wait(20)
    before = len(road.entries(Advised))
    road.say(Sign(kind="too_big"), Reading(top_c=62.0))
    road.wait(10)
    road.reads(70)
    assert_no_wood(road, before)
    road.wait(15)
    road.reads(60)
    assert road.action is Action.ADD


def test_no_wood_is_to_be_at_hand_while_words_are_not_understood() -> None:
    road = burning()
    road.wait(20)
    road.say(Reading(top_c=62.0), unheard=WORDS)
    start = len(road.said)
    road.wait(11)
    assert not [one for one in road.said[start:] if isinstance(one.meaning, Nudge)]
    assert road.heard_of(NotHeard)


def test_the_builder_does_not_close_from_afar_what_only_the_owner_can_see() -> None:
    road = burning(builder="beth")
    road.endangered(Hazard.CRY_FOR_HELP)
    road.wait(1)
    road.reads(64)
    road.orders(OrderName.CLOSE, field="cry_for_help", confirmed=True)
    assert road.record.hazards
    assert road.action is not Action.ADD


def test_a_picture_opens_no_crack_that_was_looked_at() -> None:
    road = Road().begin()
    road.cracks(CrackSize.OPEN)
    road.looked(Hazard.CRACK)
    road.wait(5)
    road.say(photo="file-9")
    assert not road.record.hazards


def test_the_builder_hears_of_a_crack_told_with_something_else() -> None:
    road = burning(builder="beth")
    road.say(HazardSaid(hazard=Hazard.CHILD_NEAR), Crack(size=CrackSize.OPEN))
    assert [one.needs for one in road.all_said(Alert)] == ["crack"]
    told = road.last(HazardTold)
    assert Hazard.CRACK in (told.hazard, *told.also)


def test_nothing_is_told_of_how_to_light_beside_words_not_understood() -> None:
    road = Road().begin().to_first_firing()
    road.say(Reading(top_c=14.0), unheard=WORDS)
    assert road.heard_of(NotHeard)
    assert not road.heard_of(HowToLay)


def test_a_restriction_that_is_over_closes_the_ban_that_was_told_of() -> None:
    road = Road().begin()
    road.endangered(Hazard.BAN)
    today = road.record.today(road.now)
    road.say(FireBan.model_validate({"from": today, "to": today, "over": True}))
    assert not road.record.hazards


# ---------------------------------------------------------------- misheard


def test_what_was_misread_is_taken_back_with_the_stop_that_it_brought() -> None:
    road = burning(builder="beth")
    road.endangered(Hazard.POPPING, text="wood pops")
    assert road.last(HazardTold).from_words
    road.wait(1)
    road.say(Misheard(hazard=Hazard.POPPING, since=road.last(HazardTold).since))
    assert road.last(HazardClosedTold).misheard
    assert road.last(Alert).misheard
    assert road.record.session is not None
    assert not road.record.session.ending
    road.wait(20)
    road.reads(75)
    assert road.action is Action.ADD


def test_a_danger_told_by_a_button_was_not_misread() -> None:
    road = burning()
    road.endangered(Hazard.POPPING)
    road.say(Misheard(hazard=Hazard.POPPING, since=road.last(HazardTold).since))
    assert road.heard_of(StaleTap)
    assert road.record.hazards


# ---------------------------------------------------------------- words nobody understood


def test_words_that_nobody_understood_hold_the_wood_and_keep_the_number() -> None:
    road = burning()
    road.wait(20)
    road.say(Reading(top_c=62.0), unheard=WORDS)
    asked = road.last(NotHeard)
    assert (asked.words, asked.top_c) == (WORDS, 62.0)
    assert not road.heard_of(Advice)
    assert road.entries(Measured)[-1].top_c == 62.0
    assert road.entries(Advised)[-1].action is not Action.ADD


def test_all_well_takes_the_fire_up_again_from_the_number_that_was_kept() -> None:
    road = burning()
    road.wait(20)
    road.say(Reading(top_c=62.0), unheard=WORDS)
    road.wait(1)
    road.say(AllWell())
    assert road.action is Action.ADD


def test_all_well_on_a_number_that_has_grown_old_asks_for_another() -> None:
    road = burning()
    road.wait(20)
    road.say(Reading(top_c=62.0), unheard=WORDS)
    road.wait(30)
    road.say(AllWell())
    assert road.action is Action.READ_AGAIN


def test_something_wrong_opens_the_short_list_and_holds_until_it_is_named() -> None:
    road = burning(builder="beth")
    road.wait(20)
    road.say(Reading(top_c=62.0), unheard=WORDS)
    road.say(SomethingWrong())
    assert road.heard_of(WhatIsWrong)
    assert [one.what for one in road.record.hazards] == [Hazard.UNNAMED]
    road.endangered(Hazard.FIRE_SPREADING)
    assert [one.what for one in road.record.hazards] == [Hazard.FIRE_SPREADING]


def test_the_builder_hears_of_something_wrong_that_stays_unnamed() -> None:
    road = burning(builder="beth")
    road.say(SomethingWrong())
    road.wait(6)
    assert [one.needs for one in road.all_said(Alert)] == ["unnamed"]


def test_a_later_message_understood_whole_lifts_the_doubt() -> None:
    road = burning()
    road.wait(20)
    road.say(Reading(top_c=62.0), unheard=WORDS)
    road.wait(15)
    road.reads(64)
    assert road.action is Action.ADD


def test_strange_words_far_from_any_fire_are_no_matter() -> None:
    road = Road().begin()
    road.say(Sign(kind="thanks"), unheard=WORDS)
    assert not road.heard_of(NotHeard)


def test_words_not_understood_beside_a_laid_fire_are_asked_about_too() -> None:
    road = Road().begin().to_first_firing()
    road.reads(14)
    road.say(unheard=WORDS)
    assert not road.last(NotHeard).lit


# ---------------------------------------------------------------- a fire that must not be


@pytest.mark.parametrize("why", ["held", "cure", "restricted", "crack"])
def test_every_message_from_a_fire_that_must_not_be_is_answered(why: str) -> None:
    road = Road().begin({About.WET_WORK: "2026-04-25"} if why == "cure" else None, builder="beth")
    match why:
        case "held":
            road.orders(OrderName.HOLD)
        case "restricted":
            today = road.record.today(road.now)
            road.press(Restricting(first=today, last=today + timedelta(days=30)))
        case "crack":
            road.cracks(CrackSize.OPEN)
    road.lights()
    for top_c in (88, 131):
        road.wait(20)
        road.reads(top_c)
        told = road.heard_of(MustNotBurn)
        assert told, "silence"
        assert told[0].top_c == top_c
        assert told[0].why == {"crack": "trouble"}.get(why, why)
        assert (told[0].hazard is Hazard.CRACK) == (why == "crack")
    assert [one.top_c for one in road.entries(Measured)][-2:] == [88, 131]


# ---------------------------------------------------------------- cracks and instruments


def test_an_open_crack_ends_the_firing_and_bars_the_next_until_somebody_looked() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.cracks(CrackSize.OPEN)
    assert road.last(CrackTold).builder_told
    assert road.entries(Advised)[-1].action is Action.STOP
    road.wait(40)
    road.fire_dies()
    assert phase_of(road.record, road.now) is Phase.HELD
    road.wait(days=1)
    road.lights()
    assert road.last(LitTooEarly).why == "trouble"
    road.fire_dies()
    road.orders(OrderName.CLOSE, field="crack", confirmed=True, why="surface only")
    assert road.record.hazards, "nobody can judge it while it is hot"
    road.wait(hours=7)
    road.orders(OrderName.CLOSE, field="crack", confirmed=True, why="surface only")
    assert phase_of(road.record, road.now) is not Phase.HELD


def test_a_fire_that_ends_with_something_to_be_looked_at_names_no_next_day() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.endangered(Hazard.POPPING)
    road.fire_dies()
    assert road.last(FiringDone).next_day is None
    assert road.last(FiringDone).next_aim is None


def test_a_hairline_is_expected_and_carries_on() -> None:
    road = lit()
    road.wait(31)
    road.cracks(CrackSize.HAIRLINE)
    assert road.last(CrackTold).size is CrackSize.HAIRLINE
    road.wait(2)
    road.reads(50)
    assert road.action is Action.ADD


def test_a_photo_belongs_to_the_crack_just_told_of() -> None:
    road = lit()
    road.cracks(CrackSize.OPEN)
    road.say(photo="file-7")
    assert road.record.facts[-1].photo == "file-7"  # type: ignore[union-attr]
    assert road.record.facts[-1].kind == "crack_seen"


def test_who_has_no_thermometer_goes_on_by_the_clock() -> None:
    road = lit({About.INSTRUMENT: "none"})
    road.wait(40)
    road.sees("no_thermometer")
    assert road.action is not None
    assert not road.all_said(InstrumentMissing)


def test_a_fire_that_was_led_by_readings_gets_no_more_wood_without_one() -> None:
    road = lit()
    road.wait(30)
    road.reads(45)
    road.wait(30)
    before = len(road.all_said(Advice))
    road.sees("no_thermometer")
    assert road.last(InstrumentMissing).lit
    assert len(road.all_said(Advice)) == before


def test_without_its_thermometer_an_oven_is_not_lit() -> None:
    road = Road().begin()
    road.sees("no_thermometer")
    assert not road.last(InstrumentMissing).lit
