from datetime import timedelta

import pytest

from scheduling.alarm import AlarmName
from scheduling.choice import About, OrderName
from scheduling.firing.aim import Action
from scheduling.journal import Advised
from scheduling.meaning import (
    Advice,
    Alert,
    CrackTold,
    FiringDone,
    FlueFlames,
    InstrumentMissing,
    LitTooEarly,
    OnHold,
    Popping,
    TroubleOver,
    Unwell,
)
from scheduling.outcome import Urgency
from scheduling.record import Need, Phase
from scheduling.record.need import needs_of, phase_of
from scheduling.remark import CrackSize, Reading, Sign
from tests.scheduling.road import Road, lit


def test_unwell_comes_first_and_is_the_whole_answer() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.say(Reading(top_c=50.0), Sign(kind="unwell"))
    to_people = [m for m in road.said[road.mark :] if not isinstance(m.meaning, Alert)]
    assert [type(m.meaning) for m in to_people] == [Unwell]
    assert to_people[0].urgency is Urgency.DANGER
    assert road.last(Unwell).emergency == "999"
    assert [one.what for one in needs_of(road.record, road.now)] == [Need.UNWELL]
    assert AlarmName.NUDGE not in road.alarms


def test_nobody_unwell_is_asked_to_read_and_after_ten_minutes_is_asked_after() -> None:
    road = lit()
    road.sees("unwell")
    road.wait(11)
    hold = road.last(OnHold)
    assert hold.trouble == "unwell"
    assert hold.ask_look
    road.confirms(hold.proposal or "")
    assert road.heard_of(TroubleOver)
    assert road.action is not Action.ADD


def test_nothing_is_added_for_the_rest_of_a_firing_that_was_stopped() -> None:
    road = lit()
    road.wait(31)
    road.sees("unwell")
    road.wait(15)
    road.confirms(road.last(OnHold).proposal or "")
    for _ in range(4):
        road.wait(15)
        road.reads(50)
        assert road.action is not Action.ADD


@pytest.mark.parametrize(
    ("sign", "meaning", "need"),
    [("popping", Popping, Need.POPPING), ("flue_flames", FlueFlames, Need.FLUE)],
)
def test_a_danger_stops_the_fire_and_tells_the_builder_once(
    sign: str, meaning: type, need: Need
) -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.sees(sign)
    road.wait(2)
    road.sees(sign)
    assert road.all_said(meaning)
    assert road.entries(Advised)[0].action is Action.STOP
    assert [alert.needs for alert in road.all_said(Alert)] == [need.value]


def test_an_open_crack_ends_the_firing_and_bars_the_next_until_somebody_looked() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.cracks(CrackSize.OPEN)
    assert road.last(CrackTold).builder_told
    assert road.action is Action.STOP
    road.wait(40)
    road.fire_dies()
    assert phase_of(road.record, road.now) is Phase.HELD
    road.wait(days=1)
    road.lights()
    assert road.last(LitTooEarly).why == "trouble"
    road.fire_dies()
    road.orders(OrderName.CLOSE, field="crack", confirmed=True, why="surface only")
    assert phase_of(road.record, road.now) is not Phase.HELD


def test_a_fire_that_ends_with_something_to_be_looked_at_names_no_next_day() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.sees("popping")
    road.fire_dies()
    assert road.last(FiringDone).next_day is None
    assert road.last(FiringDone).next_aim is None


def test_an_owner_alone_is_asked_to_look_and_closes_the_matter() -> None:
    road = lit()
    road.cracks(CrackSize.OPEN)
    road.fire_dies()
    road.wait(days=1, hours=1)
    hold = road.last(OnHold)
    assert hold.ask_look
    road.confirms(hold.proposal or "")
    assert road.last(TroubleOver).what == "crack"
    assert not road.record.troubles


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


def test_the_follow_up_comes_again_while_a_trouble_stands_open() -> None:
    road = Road().begin()
    road.sees("popping")
    road.wait(days=3)
    assert len(road.all_said(OnHold)) == 3
    assert road.alarms[AlarmName.FOLLOW_UP] - road.now <= timedelta(days=1)


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


def test_flames_in_the_flue_get_one_order_and_no_other_beside_it() -> None:
    """The door starves them; to be told beside it to leave the mouth open would gainsay that."""
    road = lit()
    road.wait(31)
    road.sees("flue_flames")
    assert road.heard_of(FlueFlames)
    assert not road.heard_of(Advice)
