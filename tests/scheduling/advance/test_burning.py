from datetime import timedelta

import pytest

from scheduling.alarm import AlarmName
from scheduling.choice import About
from scheduling.firing.aim import Action
from scheduling.journal import Advised, Measured, WoodPutOn
from scheduling.meaning import (
    Advice,
    Alert,
    Doubtful,
    FiringStatus,
    Nudge,
    SignTold,
    SkyNow,
    StokeNoted,
    TooHot,
)
from scheduling.oven.reading import Suspicion
from scheduling.remark import (
    CrackSize,
    Leaving,
    Lit,
    Reading,
    Remark,
    Sign,
    Sky,
    Stoked,
    WeatherSaid,
)
from tests.scheduling.road import Road, lit, stoking


def at_nudge(road: Road) -> Road:
    return road.until(road.alarms[AlarmName.NUDGE])


def test_a_fresh_believed_reading_below_the_band_gets_wood() -> None:
    road = at_nudge(lit())
    road.reads(45)
    advice = road.last(Advice)
    assert advice.action is Action.ADD
    assert advice.kg is not None
    assert 0 < advice.kg <= 1.5 * advice.aim.charge_kg
    assert advice.expect_c is not None
    assert advice.next_at == road.alarms[AlarmName.NUDGE]


def test_every_reading_gets_exactly_one_action_and_the_status_is_one_message() -> None:
    road = at_nudge(lit())
    road.reads(45)
    assert len(road.heard_of(Advice)) == 1
    slots = {m.slot for m in road.said if isinstance(m.meaning, FiringStatus)}
    assert len(slots) == 1


def test_wood_asked_for_is_not_asked_for_again_by_a_second_reading() -> None:
    road = at_nudge(lit())
    road.reads(45)
    road.wait(4)
    road.reads(47)
    assert road.action is not Action.ADD


def test_an_impossible_jump_is_asked_about_and_adds_nothing() -> None:
    road = at_nudge(lit())
    road.reads(45)
    road.stokes(3)
    road.wait(2)
    road.reads(190)
    doubtful = road.last(Doubtful)
    assert doubtful.suspicion in (Suspicion.FLAME_IN_SPOT, Suspicion.OTHER_UNIT)
    assert not road.heard_of(Advice)
    assert road.entries(Measured)[-1].believed is False


def test_a_number_far_too_low_never_calls_for_wood() -> None:
    road = stoking(lit(), 140)
    road.wait(10)
    road.reads(16)
    assert road.heard_of(Doubtful)
    assert not [a for a in road.heard_of(Advice) if a.action is Action.ADD]


def test_a_second_reading_that_bears_the_doubtful_one_out_is_believed() -> None:
    road = at_nudge(lit())
    road.reads(45)
    road.wait(2)
    road.reads(240)
    road.wait(3)
    road.reads(242)
    assert road.entries(Measured)[-1].believed


def test_a_climb_too_fast_gets_nothing_or_is_spread() -> None:
    road = at_nudge(lit())
    road.reads(45)
    road.wait(30)
    road.reads(115)
    road.wait(4)
    road.reads(117)
    assert road.action in (Action.ADD_NOTHING, Action.SPREAD)
    assert road.last(Advice).why.what == "too_fast"


def test_a_leap_that_the_wood_cannot_have_made_is_read_again_beside_the_flames() -> None:
    road = stoking(lit(), 130, times=3)
    road.wait(30)
    road.say(Reading(top_c=236.0, unit_named=True))
    doubtful = road.last(Doubtful)
    assert doubtful.suspicion is Suspicion.FLAME_IN_SPOT
    assert doubtful.at_least
    road.wait(4)
    road.reads(136)
    assert road.entries(Measured)[-1].believed
    assert road.record.session is not None
    assert road.record.session.peak_c == 136


def test_above_the_band_it_falls_and_far_above_it_is_spread() -> None:
    road = stoking(lit(), 150, times=6)
    top_c = road.last(Advice).top_c or 0.0
    road.wait(30)
    road.reads(176)
    assert top_c > 0
    actions = [road.action]
    road.wait(15)
    road.reads(199)
    actions.append(road.action)
    assert actions == [Action.LET_FALL, Action.SPREAD]


def test_far_too_hot_tells_the_builder_once() -> None:
    road = stoking(lit(builder="beth"), 150, times=6)
    for top_c in (185, 208, 212, 215):
        road.wait(20)
        road.reads(top_c)
    assert road.all_said(TooHot)
    assert [a.needs for a in road.all_said(Alert) if not a.again] == ["too_hot"]


def test_above_the_plateau_nothing_goes_on_and_after_the_hold_it_is_done() -> None:
    road = stoking(lit(), 152)
    actions = [a.action for a in road.all_said(Advice)]
    above = [a for a in road.all_said(Advice) if (a.top_c or 0.0) > a.aim.plateau_c]
    assert above
    assert all(a.action is not Action.ADD and a.kg is None for a in above)
    assert actions[-1] is Action.HOLD_DONE
    assert road.last(Advice).held_h >= road.last(Advice).aim.hold_h
    assert AlarmName.NUDGE not in road.alarms


def test_after_the_hold_nothing_is_added_however_cool_it_reads() -> None:
    road = stoking(lit(), 152)
    road.wait(30)
    road.reads(120)
    assert road.action is not Action.ADD


def test_sides_alone_are_taken_for_a_hotter_crown() -> None:
    road = at_nudge(lit())
    road.say(Reading(sides_c=(40.0, 44.0)))
    assert road.last(Advice).top_c == 64.0


def test_an_approximate_reading_gets_half_a_charge_at_most() -> None:
    road = at_nudge(lit())
    road.reads(45, approximate=True)
    advice = road.last(Advice)
    assert advice.kg is not None
    assert advice.kg <= 0.5 * advice.aim.charge_kg + 0.01


def test_stoking_is_noted_and_moves_the_next_nudge() -> None:
    road = at_nudge(lit())
    road.reads(45)
    pieces = road.last(Advice).pieces
    road.stokes(pieces)
    noted = road.last(StokeNoted)
    assert not noted.unasked
    assert not noted.too_much
    assert road.entries(WoodPutOn)[-1].advised
    assert road.alarms[AlarmName.NUDGE] == noted.next_at


def test_far_more_wood_than_asked_is_said_and_read_sooner() -> None:
    road = at_nudge(lit())
    road.reads(45)
    road.stokes((road.last(Advice).pieces or 0) + 6)
    assert road.last(StokeNoted).too_much
    assert road.alarms[AlarmName.NUDGE] - road.now <= timedelta(minutes=15)


def test_wood_put_on_ten_minutes_ago_counts_from_then() -> None:
    road = at_nudge(lit())
    road.wait(5)
    road.say(Stoked(pieces=2, at=road.now - timedelta(minutes=10)))
    assert road.entries(WoodPutOn)[-1].at == road.now - timedelta(minutes=10)


def test_several_things_at_once_are_all_noted_and_advised_on_once() -> None:
    road = at_nudge(lit())
    road.say(Stoked(pieces=2), Reading(top_c=48.0), Sign(kind="steam"))
    assert road.entries(WoodPutOn)
    assert road.heard_of(SignTold)
    assert len(road.heard_of(Advice)) == 1
    assert road.action is not Action.ADD


def test_a_gale_during_a_fire_ends_the_adding() -> None:
    road = at_nudge(lit())
    road.say(WeatherSaid(what=Sky.GALE))
    assert road.heard_of(SkyNow)
    road.wait(10)
    road.reads(50)
    assert road.action is Action.ADD_NOTHING


def test_a_crack_of_unknown_size_gets_no_wood_until_it_is_known() -> None:
    road = at_nudge(lit())
    road.cracks(CrackSize.UNSAID)
    road.wait(5)
    road.reads(50)
    assert Action.ADD not in [a.action for a in road.heard_of(Advice)]
    road.cracks(CrackSize.HAIRLINE)
    road.wait(14)
    road.reads(58)
    assert road.action is Action.ADD


def test_who_leaves_the_fire_gets_no_wood_asked_for() -> None:
    road = at_nudge(lit())
    road.say(Leaving())
    road.wait(5)
    road.reads(45)
    assert road.action is not Action.ADD


def test_an_owner_without_thermometer_gets_small_charges_by_time() -> None:
    road = lit({About.INSTRUMENT: "none"})
    road.wait(35)
    nudge = road.last(Nudge)
    assert nudge.read is False
    assert nudge.kg is not None
    assert nudge.kg <= nudge.aim.charge_kg
    road.stokes(nudge.pieces)
    for _ in range(24):
        if AlarmName.NUDGE not in road.alarms:
            break
        at_nudge(road)
        if road.heard_of(Nudge) and road.last(Nudge).kg:
            road.stokes(road.last(Nudge).pieces)
        else:
            road.say(Sign(kind="back"))  # the button of who finds it calm
    burnt = sum(one.kg or 0.0 for one in road.entries(WoodPutOn))
    assert burnt <= road.record.sessions[0].aim.wood_kg  # type: ignore[union-attr]
    assert road.last(Advice).action in (Action.HOLD_DONE, Action.SHUT_DOOR)


def test_steam_pauses_an_owner_without_thermometer() -> None:
    road = lit({About.INSTRUMENT: "none"})
    road.wait(20)
    road.sees("steam")
    road.wait(12)
    assert all(nudge.kg is None for nudge in road.heard_of(Nudge))


def test_a_nudge_never_carries_wood_to_put_on_where_the_dome_can_be_read() -> None:
    road = stoking(lit(), 152)
    assert road.all_said(Nudge)
    assert all(nudge.kg is None for nudge in road.all_said(Nudge))


# ---------------------------------------------------------------- the door is for embers


def test_a_fire_that_goes_on_after_a_silence_is_not_told_to_shut_its_door() -> None:
    road = lit()
    road.wait(80)
    assert AlarmName.EMBERS in road.alarms
    road.reads(60)
    assert AlarmName.EMBERS not in road.alarms


def test_a_fire_lit_again_is_not_told_to_shut_its_door() -> None:
    road = lit()
    road.wait(10)
    road.fire_dies()
    assert AlarmName.EMBERS in road.alarms
    road.wait(5)
    road.lights()
    assert AlarmName.EMBERS not in road.alarms
    assert AlarmName.NUDGE in road.alarms


def test_wood_put_on_after_the_nudges_were_stopped_puts_the_door_off() -> None:
    road = lit()
    road.wait(30)
    road.reads(45)
    road.sees("stop_nudges")
    assert AlarmName.EMBERS in road.alarms
    road.wait(20)
    road.stokes(3)
    assert AlarmName.EMBERS not in road.alarms
    assert AlarmName.NUDGE in road.alarms


def test_the_same_wood_is_asked_for_once() -> None:
    road = lit()
    for top_c in (40, 60):
        road.wait(30)
        road.reads(top_c)
    asked = road.last(Advice)
    assert asked.action is Action.ADD
    road.wait(2)
    road.stokes(asked.pieces)
    assert not road.last(StokeNoted).unasked
    road.wait(8)
    road.stokes(asked.pieces)
    assert road.last(StokeNoted).unasked
    assert [one.advised for one in road.entries(WoodPutOn)[-2:]] == [True, False]


@pytest.mark.parametrize("how", [Sign(kind="yes"), Lit()], ids=["done", "its on"])
def test_done_says_that_the_wood_asked_for_is_on(how: Remark) -> None:
    road, top_c = lit(), 14.0
    while road.action is not Action.ADD and top_c < 140.0:
        road.until(road.alarms[AlarmName.NUDGE])
        top_c += 8.0
        road.reads(top_c)
    asked = road.entries(Advised)[-1]
    assert asked.kg is not None
    road.wait(minutes=3)
    road.say(how)
    (put,) = road.entries(WoodPutOn)
    assert (put.pieces, put.kg, put.advised) == (asked.pieces, asked.kg, True)
    road.say(how)
    assert len(road.entries(WoodPutOn)) == 1, "and only once"


def test_sides_told_right_after_the_top_belong_to_it() -> None:
    road = lit()
    road.wait(minutes=31)
    road.reads(75)
    told_at = road.now
    road.wait(minutes=1)
    road.say(Reading(sides_c=(60.0,)))
    last = road.entries(Measured)[-1]
    assert (last.top_c, last.sides_c, last.at) == (75.0, (60.0,), told_at)
    assert road.last(Advice).why.what != "missing"
