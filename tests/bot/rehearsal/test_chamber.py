"""The room between fire and wall."""

import math

import numpy as np
import pytest

from bot.rehearsal.chamber import Chamber, Hearth, Mouth

MOUTH = Mouth(area_m2=0.08, height_m=0.25, leak=0.05, door_w_m2k=5.0)
CHAMBER = Chamber(radius_m=0.4, mouth=MOUTH, crown_lick=1.5)


@pytest.mark.parametrize("door_on", [False, True])
@pytest.mark.parametrize("flame_w", [0.0, 6000.0])
def test_all_heat_of_the_fire_goes_into_wall_hearth_or_out_of_the_mouth(
    door_on: bool, flame_w: float
) -> None:
    surface = np.array([210.0, 180.0, 160.0])
    heat = CHAMBER.exchange(surface, flame_w, 1500.0, 12.0, 2.0, door_on, 0.95)
    taken = float(heat.flux @ CHAMBER.areas)
    assert taken + heat.mouth_w == pytest.approx(flame_w + 1500.0, rel=1e-9)


def test_without_a_fire_an_even_oven_only_cools() -> None:
    heat = CHAMBER.exchange(np.full(3, 150.0), 0.0, 0.0, 10.0, 2.0, False, 0.95)
    assert np.all(heat.flux < 0)


def test_the_door_keeps_most_of_the_heat_in() -> None:
    losses = [
        CHAMBER.exchange(np.full(3, 150.0), 0.0, 0.0, 10.0, 2.0, door, 0.95).mouth_w
        for door in (False, True)
    ]
    assert losses[1] < 0.4 * losses[0]


def test_the_crown_takes_more_than_the_sides() -> None:
    heat = CHAMBER.exchange(np.full(3, 100.0), 5000.0, 1000.0, 10.0, 2.0, False, 0.95)
    assert heat.flux[0] > 1.2 * heat.flux[1]


def test_the_hearth_takes_a_steady_flux_as_the_textbook_says() -> None:
    """Incropera Eq. 5.59: surface rise 2q√(αt/π)/k, before the heat reaches the insulation."""
    hearth = Hearth(20.0, 0.06, 1.05)
    for _ in range(30):
        hearth.step(10.0, 5000.0, 1e-6, 12.0)
    alpha = 1.05 / 2.05e6
    assert hearth.surface - 20.0 == pytest.approx(
        2 * 5000.0 * math.sqrt(alpha * 300.0 / math.pi) / 1.05, rel=0.06
    )
