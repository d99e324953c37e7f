"""A day on which the builder wants no fire: nothing is lit then, whoever says what."""

from datetime import timedelta

from scheduling.choice import OrderName
from scheduling.firing.aim import Action
from scheduling.meaning import Advice, DaysRefused, LitTooEarly, MustNotBurn
from scheduling.remark import Available
from tests.scheduling.road import Road


def forbidden(name: OrderName = OrderName.FORBID) -> tuple[Road, Road]:
    """An oven whose next fire's day the builder has closed the evening before, and the same as it
    was before."""
    road = Road().begin(None, "beth")
    first = road.record.promise[0]
    road.until(first.start - timedelta(hours=14))
    before = Road(road.now, road.record, dict(road.alarms), list(road.said), road.mark, road.count)
    days = (
        {"first": first.day, "last": first.day}
        if name is OrderName.FORBID
        else {"first": first.day + timedelta(days=2)}
    )
    road.orders(name, **days)
    road.until(first.start)
    return road, before


def test_a_fire_lit_on_a_day_that_the_builder_closed_is_left_to_die() -> None:
    for name in (OrderName.FORBID, OrderName.MOVE):
        road, _ = forbidden(name)
        road.reads(20)
        road.lights()
        assert road.last(LitTooEarly).why == "forbidden", name
        road.wait(30)
        road.reads(45)
        assert road.last(MustNotBurn).why == "forbidden"
        assert not [one for one in road.heard if isinstance(one, Advice) and one.kg]


def test_the_owner_cannot_open_it_again() -> None:
    road, before = forbidden()
    day = before.record.promise[0].day
    road.say(Available.model_validate({"from": day, "to": day}))
    assert road.last(DaysRefused).why == "forbidden"
    assert all(one.day != day for one in road.record.promise)


def test_the_builder_can() -> None:
    road, before = forbidden()
    seq = next(one.seq for one in reversed(road.record.live) if one.entry.kind == "forbidden")
    road.orders(OrderName.TAKE_BACK, value=float(seq), confirmed=True)
    road.lights()
    assert road.record.session is not None
    assert not road.record.session.too_early
    assert before.record.promise[0].day == road.record.today(road.now)


def test_a_fire_that_burns_gets_no_more_wood_from_then_on() -> None:
    road = Road().begin(None, "beth").to_first_firing()
    road.reads(20)
    road.lights()
    road.wait(30)
    road.reads(45)
    assert road.last(Advice).kg
    today = road.record.today(road.now)
    road.orders(OrderName.FORBID, first=today, last=today)
    road.wait(30)
    road.reads(60)
    assert road.action is Action.STOP
