"""What somebody told the bot they did is what was done at the invented oven."""

from datetime import timedelta

import pytest

from bot.commands.ovenfile import example, read_oven
from bot.rehearsal.hands import Hands
from bot.rehearsal.owners import Kind
from bot.rehearsal.staging import Weather, scene
from bot.rehearsal.trueoven import TrueOven
from scheduling.firing.wood import piece_kg
from tests.scheduling.road import Road, lit


@pytest.fixture
def oven() -> TrueOven:
    return scene(read_oven(example({})).make_up, Kind.CAREFUL, Weather.DRY, 3).oven


def at_hand(oven: TrueOven, road: Road) -> Hands:
    """The oven is as old as the road, whatever the year."""
    oven.now = road.record.entries[0].at
    return Hands(oven)


def test_a_fire_that_was_told_of_burns_with_what_was_laid_for_it(oven: TrueOven) -> None:
    road = lit()
    hands = at_hand(oven, road)
    hands.follow(road.record, road.now + timedelta(minutes=5))
    aim = road.record.session.aim  # type: ignore[union-attr]
    assert aim is not None
    assert oven.account.fires == 1
    assert oven.account.wood_kg == pytest.approx(aim.lay_kg)
    assert oven.alight
    assert oven.now == road.now + timedelta(minutes=5)


def test_each_deed_is_done_once(oven: TrueOven) -> None:
    road = lit()
    hands = at_hand(oven, road)
    hands.follow(road.record, road.now)
    laid_kg = oven.account.wood_kg
    road.wait(10)
    road.stokes(2)
    hands.follow(road.record, road.now)
    hands.follow(road.record, road.now + timedelta(minutes=1))
    aim = road.record.session.aim  # type: ignore[union-attr]
    assert aim is not None
    assert oven.account.wood_kg == pytest.approx(laid_kg + 2 * piece_kg(aim.piece_mm), abs=0.01)
    assert oven.account.fires == 1


def test_lit_told_again_lights_nothing_new(oven: TrueOven) -> None:
    road = lit()
    hands = at_hand(oven, road)
    hands.follow(road.record, road.now + timedelta(minutes=2))
    road.wait(3)
    road.lights(at=road.now - timedelta(minutes=8))
    hands.follow(road.record, road.now)
    assert oven.account.fires == 1


def test_the_door_and_the_rake_are_theirs_too(oven: TrueOven) -> None:
    road = lit()
    hands = at_hand(oven, road)
    hands.follow(road.record, road.now)
    hands.rake(road.now + timedelta(minutes=1))
    assert oven.fire.raked < 1
    road.wait(60)
    road.shuts_door()
    hands.follow(road.record, road.now)
    assert oven.door_on
