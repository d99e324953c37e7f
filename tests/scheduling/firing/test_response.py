"""How a dome answers wood, and what a fire that does not burn is answered with."""

from datetime import timedelta

import pytest

from scheduling.firing.advice import decide
from scheduling.firing.aim import Action
from scheduling.firing.ground import Ground
from scheduling.firing.response import first_guess_k_kg, response_of
from scheduling.firing.rule import Bounds
from scheduling.firing.session import Session
from scheduling.journal import WoodPutOn
from tests.scheduling.firing.test_advice import LIT, MAKEUP, aim, read


def fire(tops: list[tuple[float, float]], fed: list[tuple[float, float]]) -> Session:
    """A fire lit at 20 °C: (minute, °C) as read, (minute, kg) as put on."""
    return Session(
        LIT,
        aim(),
        False,
        LIT + timedelta(minutes=tops[-1][0]),
        readings=tuple(read(minute, top_c) for minute, top_c in tops),
        stokes=tuple(WoodPutOn(at=LIT + timedelta(minutes=m), kg=kg) for m, kg in fed),
        start=read(-5, 20),
    )


def decided(session: Session) -> Action:
    last = session.readings[-1].at
    on = Ground(session, last + timedelta(minutes=1), Bounds(), True, gain_k_kg=60.0)
    return decide(on).action


def test_the_first_guess_is_the_rise_of_a_thick_wall_under_the_flux_of_a_kilogram() -> None:
    """2q√(t/π)/e, Carslaw & Jaeger §2.9: recomputed by hand for a 900 mm dome."""
    flux = 0.30 * 15.1e6 / (MAKEUP.dome_area_m2 * 1200.0)
    layer = MAKEUP.layers[0]
    effusivity = (layer.conductivity_w_mk * layer.density_kg_m3 * layer.heat_capacity_j_kgk) ** 0.5
    by_hand = 2.0 * flux * (1200.0 / 3.141592653589793) ** 0.5 / effusivity
    assert first_guess_k_kg(MAKEUP) == pytest.approx(by_hand, rel=1e-9)
    assert 30 < by_hand < 150


def test_a_dome_that_answers_strongly_is_given_less() -> None:
    weak = response_of(fire([(30, 60), (60, 90)], [(31, 1.0)]), 60.0)
    strong = response_of(fire([(30, 60), (60, 150)], [(31, 1.0)]), 60.0)
    assert strong.gain_k_kg > weak.gain_k_kg


def test_wood_that_has_not_burnt_is_still_to_come() -> None:
    dead = response_of(fire([(30, 60), (60, 55), (90, 50)], [(31, 1.0), (61, 1.0)]), 60.0)
    alive = response_of(fire([(30, 60), (60, 115), (90, 165)], [(31, 1.0), (61, 1.0)]), 60.0)
    assert dead.pending_kg > 1.0
    assert alive.pending_kg < 0.5


def test_no_more_wood_goes_on_top_of_wood_that_does_not_burn() -> None:
    assert decided(fire([(30, 75), (60, 68), (75, 62)], [(31, 1.2)])) is Action.ADD_NOTHING


def test_a_fire_that_burns_is_fed() -> None:
    assert decided(fire([(30, 55), (60, 85)], [(31, 0.5)])) is Action.ADD


def test_a_charge_is_sized_to_peak_at_the_plateau() -> None:
    session = fire([(30, 100), (60, 128), (90, 118)], [(31, 0.6)])
    decision = decide(Ground(session, LIT + timedelta(minutes=91), Bounds(), True, gain_k_kg=60.0))
    assert decision.action is Action.ADD
    assert decision.kg is not None
    assert 118 + 60.0 * decision.kg <= 150 + 10
