"""The coldest side is asked for twice a fire, the second time before anything can be dry."""

from dataclasses import replace
from datetime import timedelta

from scheduling.firing.session import Session
from scheduling.firing.sides import side_wanted
from scheduling.journal import Measured
from tests.scheduling.firing.test_advice import LIT, aim, read


def fire(*readings: Measured) -> Session:
    return Session(LIT, aim(), False, LIT, readings)


def looks(answers: bool) -> list[int]:
    """Minutes after the match at which a side was asked for, of looks every half hour; a fire to
    150 °C that is held for three hours, ``answers`` saying whether a side is then read."""
    asked: list[int] = []
    readings: list[Measured] = []
    for minute in range(30, 270, 30):
        top_c = min(150.0, 20.0 + 1.4 * minute)
        wanted = side_wanted(fire(*readings), LIT + timedelta(minutes=minute))
        if wanted:
            asked.append(minute)
        sides = (0.8 * top_c,) if wanted and answers else ()
        readings.append(read(minute, top_c, sides_c=sides))
    return asked


def test_it_is_asked_for_at_least_twice_a_fire() -> None:
    asked = looks(answers=True)
    assert 2 <= len(asked) <= 4
    assert asked[0] <= 120
    assert asked[-1] >= 150


def test_who_does_not_tell_is_asked_again_before_the_hold_is_over() -> None:
    held = [minute for minute in looks(answers=False) if minute >= 150]
    assert len(held) >= 2


def test_a_fire_just_lit_or_on_its_way_out_is_not_asked_about() -> None:
    young = fire(read(30, 60))
    assert not side_wanted(young, LIT + timedelta(minutes=31))
    over = replace(fire(read(200, 150)), died_at=LIT + timedelta(minutes=200))
    assert over.ending or over.died_at is not None
    assert not side_wanted(over, LIT + timedelta(minutes=201))
