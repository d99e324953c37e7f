"""A thermometer that stands on the other unit, told from the fire's own readings."""

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduling.firing.response import Known
from scheduling.firing.session import Session
from scheduling.firing.steering import SURELY_FAHRENHEIT
from scheduling.firing.unit import ASKED_FROM, misread, slipped, turned
from scheduling.journal import Measured, WoodPutOn
from tests.scheduling.firing.test_advice import LIT, aim, read

TRUE = [(15.0, 48.0), (30.0, 70.0), (60.0, 98.0), (90.0, 118.0), (120.0, 134.0)]
FED = [(31.0, 0.8), (61.0, 0.8), (91.0, 0.8)]
KNOWN = Known(60.0)


def fire(tops: list[tuple[float, float]]) -> tuple[Session, Measured]:
    """A fire lit at 20 °C, all its readings but the last, and that one."""
    session = Session(
        LIT,
        aim(),
        False,
        LIT + timedelta(minutes=tops[-1][0]),
        readings=tuple(read(minute, top_c) for minute, top_c in tops[:-1]),
        stokes=tuple(WoodPutOn(at=LIT + timedelta(minutes=m), kg=kg) for m, kg in FED),
        start=read(-5, 20),
    )
    return session, read(*tops[-1])


def fahrenheit(top_c: float) -> float:
    return top_c * 1.8 + 32.0


def test_a_fire_read_in_its_own_unit_is_not_doubted() -> None:
    for last in range(1, len(TRUE) + 1):
        session, newest = fire(TRUE[:last])
        assert slipped(session, KNOWN, newest).chance < ASKED_FROM


def test_a_fire_read_in_fahrenheit_under_celsius_is_doubted_by_its_second_reading() -> None:
    session, newest = fire([(minute, fahrenheit(top_c)) for minute, top_c in TRUE[:2]])
    slip = slipped(session, KNOWN, newest)
    assert slip.chance > ASKED_FROM
    assert len(slip.wrong) == 2


def test_a_thermometer_that_slips_in_the_middle_is_doubted_from_there() -> None:
    tops = [*TRUE[:3], *((minute, fahrenheit(top_c)) for minute, top_c in TRUE[3:])]
    session, newest = fire(tops)
    slip = slipped(session, KNOWN, newest)
    assert slip.chance > ASKED_FROM
    assert [one.top_c for one in slip.wrong] == [one for _, one in tops[3:]]


def test_a_dome_that_answers_strongly_from_the_start_is_seldom_doubted() -> None:
    """Half as much again as promised."""
    strong = [(minute, 20.0 + 1.5 * (top_c - 20.0)) for minute, top_c in TRUE]
    doubted = 0
    for last in range(1, len(strong) + 1):
        session, newest = fire(strong[:last])
        doubted += slipped(session, KNOWN, newest).chance > ASKED_FROM
    assert doubted <= 1


def test_a_unit_that_was_named_stays() -> None:
    session, newest = fire([(minute, fahrenheit(top_c)) for minute, top_c in TRUE[:3]])
    named = newest.model_copy(update={"unit_certain": True})
    assert slipped(session, KNOWN, named).chance == 0.0


def test_what_was_read_before_the_unit_was_named_is_put_right() -> None:
    session, newest = fire([(minute, fahrenheit(top_c)) for minute, top_c in TRUE[:3]])
    named = turned(newest).model_copy(update={"unit_certain": True})
    wrong = misread(session, KNOWN, named)
    assert wrong == session.believed
    assert [round(turned(one).top_c or 0.0) for one in wrong] == [48, 70]


def test_nothing_is_put_right_that_was_right() -> None:
    session, newest = fire(TRUE[:4])
    named = newest.model_copy(update={"unit_certain": True})
    assert misread(session, KNOWN, named) == ()


def in_fahrenheit(tops: list[tuple[float, float]]) -> tuple[Session, Measured]:
    """The same, all of it taken for °F."""
    session, newest = fire(tops)
    taken = tuple(one.model_copy(update={"taken_in": "F"}) for one in session.readings)
    return replace(session, readings=taken), newest.model_copy(update={"taken_in": "F"})


@pytest.mark.parametrize("answers", [1.0, 0.6])
def test_fahrenheit_that_is_fahrenheit_speaks_clearly_for_itself(answers: float) -> None:
    """Of a dome that answers as promised, and of a weak one."""
    session, newest = in_fahrenheit([(m, 20.0 + answers * (top_c - 20.0)) for m, top_c in TRUE])
    assert slipped(session, KNOWN, newest).chance < SURELY_FAHRENHEIT


def test_celsius_taken_for_fahrenheit_never_does() -> None:
    taken = [(minute, (top_c - 32.0) / 1.8) for minute, top_c in TRUE]
    for last in range(1, len(taken) + 1):
        session, newest = in_fahrenheit(taken[:last])
        assert slipped(session, KNOWN, newest).chance > SURELY_FAHRENHEIT
