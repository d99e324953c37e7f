"""Of an oven without a flue everything that is said of a hazard knows that it has none."""

import pytest

from scheduling.choice import About, Command, CommandName
from scheduling.hazard import Hazard
from scheduling.meaning import (
    HazardAsked,
    HazardClosedTold,
    HazardStays,
    HazardTold,
    Meaning,
    MustNotBurn,
    NotHeard,
    NowTold,
    WhatIsWrong,
    WhichHazard,
)
from scheduling.remark import SomethingWrong
from tests.scheduling.road import Road, lit

OF_HAZARDS = (
    *(HazardAsked, HazardClosedTold, HazardStays, HazardTold, MustNotBurn),
    *(NotHeard, NowTold, WhatIsWrong, WhichHazard),
)


def said_of_hazards(road: Road) -> list[Meaning]:
    return [one.meaning for one in road.said if isinstance(one.meaning, OF_HAZARDS)]


def drilled(openings: str) -> Road:
    """Every kind of word about hazards, on a burning fire and after it."""
    road = lit({About.OPENINGS: openings})
    road.say(unheard="something odd about the thingummy")
    road.say(SomethingWrong())
    road.endangered(Hazard.POPPING, Hazard.CHILD_NEAR)
    road.looked(Hazard.CHILD_NEAR)
    road.looked(sound=False)
    road.undoes()
    road.wait(days=1)
    road.lights()
    road.reads(60)
    road.press(Command(name=CommandName.NOW))
    road.fire_dies()
    road.endangered(Hazard.GLOWING)
    road.looked()
    return road


@pytest.mark.parametrize(
    ("openings", "flue"), [("insulated+no_flue", False), ("insulated+flue", True)]
)
def test_whatever_is_said_of_a_hazard_knows_whether_there_is_a_flue(
    openings: str, flue: bool
) -> None:
    told = said_of_hazards(drilled(openings))
    assert {type(one) for one in told} == set(OF_HAZARDS)
    assert {one.flue for one in told if isinstance(one, OF_HAZARDS)} == {flue}


def test_before_anybody_has_said_nothing_is_known_of_a_flue() -> None:
    road = Road()
    assert road.record.flue is None
    road.endangered(Hazard.FLUE_FLAMES)
    assert road.last(HazardTold).flue is None
