"""Letters that do not arrive: the builder's side sees it, until the person is heard or reached."""

from datetime import timedelta

import pytest

from scheduling.firing.advice import FRESH
from scheduling.firing.aim import Action
from scheduling.happening import Delivery
from scheduling.meaning import Advice
from scheduling.outcome import FIRE_THREAD, Urgency
from scheduling.record import Need
from scheduling.record.need import needs_of
from scheduling.record.standing import Concern
from scheduling.remark import Sign
from tests.scheduling.road import ANA, Road, lit


def needs(road: Road) -> list[Need]:
    return [one.what for one in needs_of(road.record, road.now)]


@pytest.mark.parametrize("why", ["late", "given_up", "unknown", "refused"])
def test_a_letter_that_does_not_arrive_shows_until_one_does(why: str) -> None:
    road = Road().begin(builder="hearths")
    road.happen(Delivery(ANA, reached=False, why=why))
    assert needs(road) == [Concern.UNDELIVERED]
    road.wait(minutes=1)
    road.happen(Delivery(ANA, reached=True, why="arrived"))
    assert needs(road) == []


def test_whoever_writes_is_not_out_of_reach() -> None:
    road = Road().begin(builder="hearths")
    road.happen(Delivery(ANA, reached=False, why="refused"))
    road.wait(minutes=1)
    road.say(Sign(kind="greeting"))
    assert needs(road) == []
    road.wait(minutes=1)
    road.happen(Delivery(ANA, reached=False, why="late"))
    assert needs(road) == [Concern.UNDELIVERED]


def test_wood_is_asked_for_only_while_its_reading_is_fresh() -> None:
    """Whatever else happens to the letter, it is not sent after that."""
    road = lit()
    for top_c in (40.0, 60.0, 80.0, 95.0):
        road.reads(top_c, top_c - 20.0)
        asked = [one for one in road.said[road.mark :] if isinstance(one.meaning, Advice)]
        if asked and asked[-1].meaning.action is Action.ADD:  # type: ignore[union-attr]
            assert asked[-1].expires == road.now + FRESH
            assert (asked[-1].urgency, asked[-1].replaces) == (Urgency.FIRE, FIRE_THREAD)
            assert timedelta(minutes=20) >= FRESH
            return
        road.wait(minutes=15)
    raise AssertionError("no wood was asked for, so nothing was tried")
