"""The wood of a firing, by plan and coach, on ovens that share no code with either."""

from dataclasses import replace
from datetime import timedelta
from functools import cache

import numpy as np
import pytest

from scheduling.breakin.limits import USUAL
from scheduling.breakin.trial import Profile, tried
from scheduling.firing.advice import decide
from scheduling.firing.aim import Action, Aim
from scheduling.firing.ground import Ground
from scheduling.firing.response import Known, first_guess_k_kg
from scheduling.firing.rule import Bounds, laid_for, sized
from scheduling.firing.session import Session
from scheduling.firing.wood import firing_kg
from scheduling.journal import Measured, WoodPutOn
from scheduling.oven.belief import Belief, Range
from scheduling.oven.makeup import MakeUp
from tests.scheduling.breakin.test_planner import scaled
from tests.scheduling.oven.domes import MILD, MORNING, an_oven, fresh
from tests.strange_ovens.build import Floats, made
from tests.strange_ovens.burn import Ovens, led

AIR_C = 12.0
FIRES = {155.0: 4.0, 300.0: 3.0, 400.0: 1.5}
"""Plateaus and the hours held there."""


def oven(construction: str, diameter_mm: float, plateau_c: float) -> MakeUp:
    """As it is told; dry, where the fire is one for a dry dome."""
    one = an_oven(construction, inner_diameter_mm=diameter_mm)
    return one if plateau_c < 200.0 else scaled(one, free_water_kg_m3=0.0)


@cache
def planned(construction: str, diameter_mm: float, plateau_c: float) -> tuple[Range, float]:
    """Wood by the plan (kg), and the hours of the fire."""
    belief = fresh(oven(construction, diameter_mm, plateau_c), members=60)
    hold_h = FIRES[plateau_c]
    done = tried(belief, belief.present, Profile(plateau_c, hold_h, hold_h), USUAL, MILD)
    return belief.ranged(done.wood_kg), hold_h + USUAL.climb_hours(AIR_C, plateau_c)


EVERY = [
    (one, diameter_mm, plateau_c)
    for one in ("cast-dense", "brick-mortar", "cast-thin", "cast-light")
    for diameter_mm in (700.0, 850.0, 1000.0)
    for plateau_c in FIRES
]


def test_the_wood_of_the_plan_is_what_nine_of_ten_strange_ovens_burn() -> None:
    shares = []
    for construction, diameter_mm, plateau_c in EVERY:
        (low, _, high), _ = planned(construction, diameter_mm, plateau_c)
        ovens = Ovens(made(oven(construction, diameter_mm, plateau_c), 12, 7), AIR_C)
        climb_k_h = (plateau_c - AIR_C) / USUAL.climb_hours(AIR_C, plateau_c)
        led(ovens, plateau_c, climb_k_h, FIRES[plateau_c], AIR_C)
        within = (ovens.wood_kg >= low) & (ovens.wood_kg <= high)
        shares.append(float(within.mean()))
    assert np.mean(shares) >= 0.90
    assert min(shares) >= 0.5


def test_a_first_fire_of_an_ordinary_dome_takes_five_to_seven_kilograms() -> None:
    """By a balance of wall, hearth and mouth done elsewhere; 16 to 19 when the whole dome was
    charged with what its mouth loses."""
    wood, _ = planned("cast-dense", 850.0, 155.0)
    assert 5.0 <= wood.mid <= 7.0
    assert wood.high < 2.6 * wood.low


@pytest.mark.parametrize("construction", ["cast-dense", "brick-mortar", "cast-thin"])
@pytest.mark.parametrize("plateau_c", [300.0, 400.0])
def test_the_closed_form_and_the_ensemble_agree_on_a_dry_dome(
    construction: str, plateau_c: float
) -> None:
    wood, session_h = planned(construction, 850.0, plateau_c)
    by_hand = firing_kg(oven(construction, 850.0, plateau_c), plateau_c, session_h)
    assert by_hand == pytest.approx(wood.mid, rel=0.25)


BEYOND = "78 ± 5 % within (n = 80), the rest mostly above the upper end; why is not known yet"


@pytest.mark.parametrize(
    "plateau_c", [155.0, pytest.param(300.0, marks=pytest.mark.xfail(strict=True, reason=BEYOND))]
)
def test_the_wood_that_is_asked_for_at_the_fire_is_that_of_the_plan(plateau_c: float) -> None:
    """Nine of ten strange ovens, looked at when they are asked to be."""
    within = []
    for construction in ("cast-dense", "brick-mortar"):
        wood, _ = planned(construction, 850.0, plateau_c)
        asked_kg, _ = _coached(construction, plateau_c)
        within.append((asked_kg >= wood.low) & (asked_kg <= wood.high))
    assert np.mean(within) >= 0.90


@pytest.mark.parametrize("plateau_c", [155.0, 300.0])
def test_the_crown_of_a_strange_oven_comes_up_and_not_far_beyond(plateau_c: float) -> None:
    for construction in ("cast-dense", "brick-mortar"):
        over_k = _coached(construction, plateau_c)[1] - plateau_c
        assert np.min(over_k) > -10.0
        assert np.max(over_k) < 65.0


@cache
def _coached(construction: str, plateau_c: float, count: int = 10) -> tuple[Floats, Floats]:
    """Wood asked for (kg) and highest crown of ``count`` strange ovens led by the coach."""
    make_up = oven(construction, 850.0, plateau_c)
    aim = _aim(make_up, plateau_c, planned(construction, 850.0, plateau_c)[0])
    ovens = Ovens(made(make_up, count, 3), AIR_C)
    start = Measured(at=MORNING - timedelta(minutes=5), by="ana", top_c=AIR_C, taken_in="C")
    sessions = [Session(MORNING, aim, False, MORNING, start=start)] * count
    burning = np.full(count, aim.lay_kg)
    asked, peak, look = burning.copy(), np.zeros(count), np.full(count, 30.0)
    for minute in range(1, 600):
        ovens.passed(60.0, AIR_C, burning / 0.6 / 3600.0, door_on=False)
        burning *= 1.0 - 1.0 / 36.0
        peak = np.maximum(peak, ovens.surface[:, 0])
        for one in np.flatnonzero(look <= minute):
            session, kg, wait = _looked(make_up, sessions[one], ovens.surface[one, 0], minute)
            sessions[one] = session
            burning[one] += kg
            asked[one] += kg
            look[one] = minute + wait
    assert (look == np.inf).all()
    return asked, peak


def _looked(
    make_up: MakeUp, session: Session, crown_c: float, minute: int
) -> tuple[Session, float, float]:
    """One look at a fire: the session after it, wood to put on, minutes to the next look."""
    now = MORNING + timedelta(minutes=minute)
    read = Measured(at=now, by="ana", top_c=float(round(crown_c)), taken_in="C")
    session = replace(session, readings=(*session.readings, read))
    known = Known(first_guess_k_kg(make_up), start_c=AIR_C)
    decision = decide(Ground(session, now, Bounds(), True, known=known))
    if decision.action is Action.HOLD_DONE:
        return session, 0.0, np.inf
    kg = decision.kg or 0.0
    if kg:
        session = replace(session, stokes=(*session.stokes, WoodPutOn(at=now, kg=kg)))
    return session, kg, decision.minutes or 30.0


def _aim(make_up: MakeUp, plateau_c: float, wood: Range) -> Aim:
    aim = sized(
        make_up,
        Bounds(),
        number=1,
        plateau_c=plateau_c,
        hold_h=FIRES[plateau_c],
        last=False,
        left=3,
        wood_kg=wood.mid,
        climb_c_per_h=(plateau_c - AIR_C) / USUAL.climb_hours(AIR_C, plateau_c),
    )
    return laid_for(aim, Bounds(), Known(first_guess_k_kg(make_up), start_c=AIR_C))


def test_a_belief_of_another_seed_wants_the_same_wood() -> None:
    make_up = oven("cast-dense", 850.0, 155.0)
    wood, _ = planned("cast-dense", 850.0, 155.0)
    other = Belief.fresh(make_up, MORNING, MILD, members=120, seed=9)
    done = tried(other, other.present, Profile(155.0, 4.0, 4.0), USUAL, MILD)
    assert other.ranged(done.wood_kg).mid == pytest.approx(wood.mid, rel=0.08)
