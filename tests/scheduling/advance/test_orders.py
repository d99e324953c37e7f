from datetime import timedelta

from scheduling.alarm import AlarmName
from scheduling.choice import About, OrderName
from scheduling.firing.aim import Action
from scheduling.journal import Capped, Held, Order, TakenBack
from scheduling.meaning import Advice, OrderLessGentle, OrderRefused, OrderTaken, OrderTold
from scheduling.outcome import TENDERS
from scheduling.record import Phase
from scheduling.record.need import phase_of
from scheduling.record.outlook import aims_of
from tests.scheduling.road import Road, fired, lit


def test_a_cap_lowers_the_plan_and_both_sides_are_told() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.CAP, value=250.0, why="thin crown")
    assert max(aim.high_c for aim in aims_of(road.record, road.now)) == 250.0
    assert road.heard_of(OrderTaken)
    told = next(m for m in road.said[road.mark :] if isinstance(m.meaning, OrderTold))
    assert told.to == TENDERS
    assert (told.meaning.by, told.meaning.why) == ("beth", "thin crown")  # type: ignore[union-attr]
    assert road.entries(Capped)[0].by == "beth"


def test_raising_a_cap_is_done_only_if_confirmed_in_so_many_words() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.CAP, value=250.0)
    road.orders(OrderName.CAP, value=300.0)
    asked = road.last(OrderLessGentle)
    assert (asked.from_value, asked.to_value) == (250.0, 300.0)
    assert max(aim.high_c for aim in aims_of(road.record, road.now)) == 250.0
    road.orders(OrderName.CAP, value=300.0, confirmed=True)
    assert max(aim.high_c for aim in aims_of(road.record, road.now)) == 300.0
    assert road.entries(Capped)[-1].confirmed


def test_a_cap_reaches_the_fire_that_burns() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.reads(70)
    road.orders(OrderName.CAP, value=100.0)
    road.wait(30)
    road.reads(105)
    assert road.last(Advice).action is not Action.ADD
    assert road.last(Advice).aim.high_c == 100.0


def test_a_hold_during_a_fire_ends_the_adding() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.orders(OrderName.HOLD, why="I am coming over")
    assert Action.STOP in [one.action for one in road.record.sessions[-1].advised]
    road.wait(20)
    road.reads(50)
    assert road.action is not Action.ADD


def test_a_hold_can_be_released_only_when_confirmed() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.HOLD)
    road.orders(OrderName.RELEASE)
    assert phase_of(road.record, road.now) is Phase.HELD
    road.orders(OrderName.RELEASE, confirmed=True)
    assert phase_of(road.record, road.now) is Phase.WAITING


def test_a_repeat_keeps_the_next_firing_at_the_height_of_the_last() -> None:
    road = fired(Road().begin(builder="beth"))
    road.orders(OrderName.REPEAT, why="crown dried unevenly")
    assert road.record.promise[0].plateau_c <= 150.0
    fired(road)
    assert road.record.promise[0].plateau_c > 150.0


def test_a_repeat_before_any_firing_is_refused() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.REPEAT)
    assert road.last(OrderRefused).why == "nothing_fired"


def test_days_are_moved_and_forbidden() -> None:
    road = Road().begin(builder="beth")
    later = road.record.today(road.now) + timedelta(days=10)
    road.orders(OrderName.MOVE, first=later)
    assert road.record.promise[0].day >= later
    road.orders(OrderName.FORBID, first=later, last=later + timedelta(days=3))
    assert road.record.promise[0].day > later + timedelta(days=3)


def test_an_order_is_taken_back_by_its_number() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.CAP, value=200.0)
    seq = next(o.seq for o in road.record.live if isinstance(o.entry, Order))
    road.orders(OrderName.TAKE_BACK, value=float(seq), confirmed=True)
    assert max(aim.plateau_c for aim in aims_of(road.record, road.now)) == 400.0


def test_impossible_orders_are_refused() -> None:
    road = Road().begin(builder="beth")
    yesterday = road.record.today(road.now) - timedelta(days=1)
    for name, more, why in (
        (OrderName.CAP, {"value": 900.0}, "out_of_range"),
        (OrderName.MOVE, {"first": yesterday}, "in_the_past"),
        (OrderName.TAKE_BACK, {"value": 3.0}, "no_such_order"),
        (OrderName.CLOSE, {"field": "popping"}, "no_such_order"),
        (OrderName.LIMIT, {"field": "colour", "value": 3.0}, "out_of_range"),
    ):
        road.orders(name, **more)
        assert road.last(OrderRefused).why == why


def test_a_stricter_limit_is_taken_and_a_looser_one_asked_about() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.LIMIT, field="climb_low_k_h", value=60.0)
    assert road.record.promise[0].climb_c_per_h <= 60.0
    road.orders(OrderName.LIMIT, field="climb_low_k_h", value=90.0)
    assert road.heard_of(OrderLessGentle)
    assert road.record.promise[0].climb_c_per_h <= 60.0


def test_the_builders_cure_floor_is_kept() -> None:
    road = Road().begin({About.WET_WORK: "2026-04-01"}, builder="beth")
    before = road.record.promise[0].day
    road.orders(OrderName.LIMIT, field="cure_floor_d", value=60.0)
    assert road.record.promise[0].day >= before + timedelta(days=20)


def test_a_hold_names_who_and_why_in_the_journal() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.HOLD, why="look first")
    held = road.entries(Held)[0]
    assert (held.by, held.why) == ("beth", "look first")


def test_taking_one_back_names_what_still_closes_the_day_to_both_sides() -> None:
    road = Road().begin(builder="beth")
    sunday = road.record.today(road.now) + timedelta(days=2)
    for more in ({"name": OrderName.HOLD}, {"name": OrderName.CAP, "value": 200.0}):
        road.orders(**more)
    road.orders(OrderName.FORBID, first=sunday, last=sunday)
    road.orders(OrderName.FORBID, first=sunday - timedelta(days=1), last=sunday)
    road.orders(OrderName.TAKE_BACK, first=sunday)
    asked = road.last(OrderLessGentle)
    assert asked.undone is not None
    assert asked.undone.last == sunday
    assert [one.what for one in asked.stays] == ["held", "forbidden"]
    road.orders(OrderName.TAKE_BACK, first=sunday, confirmed=True)
    taken, told = road.last(OrderTaken), road.last(OrderTold)
    assert [one.what for one in taken.stays] == ["held", "forbidden"]
    assert (told.stays, told.day, told.undone) == (taken.stays, sunday, asked.undone)


def test_an_order_taken_back_by_its_number_names_all_that_stand() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.HOLD)
    road.orders(OrderName.CAP, value=200.0)
    seq = road.last(OrderTaken).seq
    road.orders(OrderName.TAKE_BACK, value=float(seq or 0), confirmed=True)
    assert [one.what for one in road.last(OrderTold).stays] == ["held"]
    road.orders(OrderName.RELEASE, confirmed=True)
    assert road.last(OrderTold).stays == ()


def test_a_hold_on_a_hold_is_refused_and_written_once() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.HOLD)
    road.orders(OrderName.HOLD)
    assert road.last(OrderRefused).why == "held_already"
    assert len(road.entries(Held)) == 1


def test_of_an_order_for_many_the_owner_hears_and_the_builder_not_oven_by_oven() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.HOLD, together="storm-1", why="storm")
    assert [type(one) for one in road.heard] == [OrderTold]
    assert road.entries(Held)[0].together == "storm-1"
    road.orders(OrderName.HOLD, together="storm-1")
    assert len(road.entries(Held)) == 1


def test_no_plan_gets_harder_by_an_order_for_many_that_was_not_confirmed() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.CAP, value=150.0)
    road.orders(OrderName.CAP, value=200.0, together="x")
    assert road.record.lid_c == 150.0
    assert not road.heard


def test_what_was_ordered_together_is_taken_back_by_what_it_has_in_common() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.CAP, value=200.0, together="x")
    road.orders(OrderName.CAP, value=150.0)
    road.orders(OrderName.TAKE_BACK, field="x", together="y", confirmed=True)
    assert [one.cap_c for one in road.record.all_of(Capped)] == [150.0]
    road.orders(OrderName.TAKE_BACK, field="x", together="z", confirmed=True)
    assert len(road.entries(TakenBack)) == 1, "there is nothing more to take back"


def test_days_closed_for_many_are_laid_anew_when_the_alarm_comes() -> None:
    road = Road().begin(builder="beth")
    first = road.record.promise[0].day
    road.orders(OrderName.FORBID, first=first, last=first + timedelta(days=1), together="x")
    assert road.alarms[AlarmName.ORDERED] == road.now
    road.wait(1)
    assert road.record.promise[0].day > first + timedelta(days=1)
    assert AlarmName.ORDERED not in road.alarms


def test_days_that_it_does_not_touch_are_left_alone() -> None:
    road = Road().begin(builder="beth")
    far = road.record.promise[-1].day + timedelta(days=30)
    road.orders(OrderName.FORBID, first=far, last=far, together="x")
    assert AlarmName.ORDERED not in road.alarms


def test_a_long_gap_is_planned_for_within_a_quarter_of_an_hour() -> None:
    road = Road().begin(builder="beth")
    far = road.record.promise[0].day + timedelta(days=20)
    road.orders(OrderName.MOVE, first=far, together="x")
    road.wait(0.1)
    assert road.record.promise[0].day >= far, "the days at once"
    assert road.now < road.alarms[AlarmName.ORDERED] <= road.now + timedelta(minutes=17)
    road.wait(20)
    assert AlarmName.ORDERED not in road.alarms
    alone = Road().begin(builder="beth")
    alone.orders(OrderName.MOVE, first=far)
    assert road.record.promise == alone.record.promise, "as if it were the only one"


def test_a_hold_for_many_ends_the_adding_at_a_fire_at_once() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.orders(OrderName.HOLD, together="x")
    assert Action.STOP in [one.action for one in road.record.sessions[-1].advised]


def test_a_cap_for_many_reaches_the_fire_that_burns() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.reads(70)
    road.orders(OrderName.CAP, value=100.0, together="x")
    road.wait(1)
    assert road.last(Advice).aim.high_c == 100.0
