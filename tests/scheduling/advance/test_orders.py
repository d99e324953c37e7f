from datetime import timedelta

from scheduling.choice import About, OrderName
from scheduling.firing.aim import Action
from scheduling.journal import Capped, Held, Order
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
