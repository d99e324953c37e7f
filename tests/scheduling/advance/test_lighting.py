from datetime import timedelta

from scheduling.alarm import AlarmName
from scheduling.choice import About, OrderName, Restricting
from scheduling.hazard import Hazard
from scheduling.journal import FireLit
from scheduling.meaning import (
    Advice,
    Alert,
    DaysKept,
    DaysMoved,
    Doubtful,
    Eve,
    FiringDone,
    HazardAsked,
    HowToLay,
    LitNoted,
    LitTooEarly,
    MorningAsk,
    NotToday,
    StillOn,
    StillWaiting,
    WhichDay,
)
from scheduling.outcome import BUILDER, TENDERS, Urgency
from scheduling.record import Phase
from scheduling.record.need import needs_of, phase_of
from scheduling.remark import CrackSize, FireOut, Lit, NotLit, Sign, Sky, WeatherSaid
from tests.scheduling.road import Road, lit


def test_the_evening_before_tells_tomorrows_aim_and_asks_whether_it_is_on() -> None:
    road = Road().begin()
    road.until(road.alarms[AlarmName.DAY_BEFORE])
    eve = road.last(Eve)
    assert eve.day == road.record.promise[0].day
    assert eve.aim.wood_kg > 0
    assert eve.first
    road.confirms(eve.proposal)
    assert road.last(StillOn).day == eve.day


def test_a_no_on_the_evening_before_asks_for_another_day() -> None:
    road = Road().begin()
    road.until(road.alarms[AlarmName.DAY_BEFORE])
    road.say(Sign(kind="no"))
    near = road.last(WhichDay).near
    assert near
    assert min(near) > road.now.date()


def test_the_morning_asks_for_a_reading_and_then_says_how_to_lay() -> None:
    road = Road().begin().to_first_firing()
    assert road.heard_of(MorningAsk)
    road.reads(14)
    laid = road.last(HowToLay)
    assert laid.start_c == 14
    assert laid.aim.plateau_c == road.record.promise[0].plateau_c


def test_without_a_thermometer_the_morning_says_how_to_lay_at_once() -> None:
    road = Road().begin({About.INSTRUMENT: "none"}).to_first_firing()
    assert road.heard_of(HowToLay)
    assert not road.all_said(MorningAsk)


def test_a_lit_fire_is_noted_and_the_first_reading_is_due_within_the_window() -> None:
    road = lit()
    noted = road.last(LitNoted)
    assert timedelta(minutes=30) <= noted.next_at - road.now <= timedelta(minutes=60)
    assert road.alarms[AlarmName.NUDGE] == noted.next_at
    assert phase_of(road.record, road.now) is Phase.LIT


def test_a_backdated_lighting_counts_from_when_it_was() -> None:
    road = Road().begin().to_first_firing()
    road.reads(14)
    road.wait(25)
    road.lights(at=road.now - timedelta(minutes=20))
    assert road.last(LitNoted).lit_at == road.now - timedelta(minutes=20)
    assert road.alarms[AlarmName.NUDGE] == road.now + timedelta(minutes=10)


def test_lit_pressed_twice_changes_nothing() -> None:
    road = lit()
    first = road.last(LitNoted)
    due = road.alarms[AlarmName.NUDGE]
    road.wait(1)
    road.lights()
    again = road.last(LitNoted)
    assert len(road.all_said(LitNoted)) == 2
    assert (again.lit_at, again.next_at) == (first.lit_at, first.next_at)
    assert road.alarms[AlarmName.NUDGE] == due
    assert len(road.entries(FireLit)) == 1
    assert not road.all_said(Advice)


def test_the_hour_of_lighting_told_after_the_press_moves_the_first_look() -> None:
    road = lit()
    due = road.alarms[AlarmName.NUDGE]
    road.lights(at=road.now - timedelta(minutes=10))
    assert road.last(LitNoted).lit_at == road.now - timedelta(minutes=10)
    assert road.alarms[AlarmName.NUDGE] == due - timedelta(minutes=10)


def test_a_fire_lit_before_the_cure_is_left_to_die_and_the_builder_is_told() -> None:
    road = Road().begin({About.WET_WORK: "2026-04-25"}, builder="beth")
    road.lights()
    early = road.last(LitTooEarly)
    assert early.why == "cure"
    assert early.ready_on is not None
    assert early.builder_told
    assert road.entries(FireLit)[0].too_early
    alerts = [m for m in road.said if m.to == BUILDER and isinstance(m.meaning, Alert)]
    assert [m.meaning.needs for m in alerts] == [Hazard.LIT_EARLY]  # type: ignore[union-attr]
    assert alerts[0].urgency is Urgency.DANGER


def test_a_fire_lit_before_anything_is_known_is_left_to_die() -> None:
    road = Road()
    road.lights()
    assert road.last(LitTooEarly).why == "set_up"


def test_a_fire_that_was_lit_too_early_ends_and_leaves_no_trouble_behind() -> None:
    road = Road().begin({About.WET_WORK: "2026-04-25"})
    road.lights()
    road.wait(40)
    road.fire_dies()
    assert road.record.session is None
    assert not road.record.hazards
    assert not road.all_said(FiringDone)


def test_a_fire_during_a_restriction_is_too_early() -> None:
    road = Road().begin()
    today = road.record.today(road.now)
    road.press(Restricting(first=today, last=today + timedelta(days=30)))
    assert all(one.day > today + timedelta(days=30) for one in road.record.promise)
    road.lights()
    assert road.last(LitTooEarly).why == "restricted"


def test_a_held_oven_is_told_no_on_the_morning() -> None:
    road = Road().begin(builder="beth")
    road.until(road.alarms[AlarmName.DAY_BEFORE])
    road.orders(OrderName.HOLD, why="let me look at the flue first")
    road.until(road.record.promise[0].start)
    assert road.last(NotToday).why == "held"
    road.lights()
    assert road.last(LitTooEarly).why == "held"


def test_while_nobody_has_looked_one_word_a_day_is_enough() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.cracks(CrackSize.OPEN)
    road.wait(40)
    road.fire_dies()
    road.wait(days=1)
    said = len(road.said)
    road.wait(days=7)
    week = [one.meaning for one in road.said[said:] if TENDERS in (one.to,)]
    assert [type(one) for one in week] == [HazardAsked] * 7
    assert road.record.promise[0].day >= road.record.today(road.now)


def test_a_day_that_runs_on_is_asked_after_and_then_given_another() -> None:
    road = Road().begin().to_first_firing()
    first = road.record.promise[0].day
    road.reads(14)
    road.wait(hours=2)
    assert road.all_said(StillWaiting)
    road.wait(hours=10)
    assert road.last(DaysMoved).why == "slipped"
    assert road.record.promise[0].day > first


def test_not_yet_waits_an_hour() -> None:
    road = Road().begin().to_first_firing()
    road.reads(14)
    road.say(NotLit())
    assert road.alarms[AlarmName.MORNING] == road.now + timedelta(hours=1)


def test_needs_are_empty_for_an_ordinary_oven() -> None:
    road = Road().begin()
    assert needs_of(road.record, road.now) == ()


def test_a_morning_that_changes_after_the_reading_asks_for_no_second_one() -> None:
    road = Road().begin().to_first_firing()
    road.reads(14)
    asked = len(road.all_said(MorningAsk))
    road.say(WeatherSaid(what=Sky.RAIN, when="now"), WeatherSaid(what=Sky.SOAKED, when="now"))
    assert [type(one) for one in road.heard].count(DaysMoved) == 1
    assert not road.heard_of(DaysKept)
    road.wait(1)
    assert len(road.all_said(MorningAsk)) == asked


def test_a_morning_without_its_reading_is_told_how_to_lay_all_the_same() -> None:
    road = Road().begin()
    road.until(road.record.promise[0].start)
    assert not road.all_said(HowToLay), "first the reading"
    road.wait(minutes=76)
    assert road.last(HowToLay).start_c is None
    assert not road.all_said(StillWaiting)
    road.wait(minutes=61)
    assert len(road.all_said(HowToLay)) == 1
    assert road.all_said(StillWaiting)


def test_all_right_to_the_laying_is_no_fire_yet() -> None:
    road = Road().begin().to_first_firing()
    road.reads(14)
    road.say(Sign(kind="yes"))
    assert road.record.session is None
    road.wait(hours=2)
    assert road.all_said(StillWaiting)
    road.say(Sign(kind="yes"))
    assert road.record.session is not None, "but yes to whether it is lit"


def test_a_fire_called_out_by_mistake_burns_on() -> None:
    road = lit()
    road.wait(minutes=31)
    road.reads(60)
    aim = road.record.session.aim if road.record.session else None
    road.wait(minutes=40)
    road.say(FireOut())
    assert road.all_said(FiringDone)
    road.wait(minutes=2)
    road.say(Lit())
    session = road.record.session
    assert session is not None
    assert session.aim == aim
    assert not road.entries(FireLit)[1:], "it is no new one"
    assert AlarmName.NUDGE in road.alarms


def test_a_dome_that_warms_without_a_fire_is_asked_about_every_time() -> None:
    road = Road().begin().to_first_firing()
    road.reads(20)
    for top_c in (60, 66, 72):
        road.wait(minutes=10)
        road.reads(top_c)
        assert road.heard_of(Doubtful)
