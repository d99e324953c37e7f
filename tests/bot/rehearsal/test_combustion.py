"""Wood on the invented hearth."""

import pytest

from bot.rehearsal.combustion import Fire

PLENTY_OF_AIR = 1.0


def burnt_out(fire: Fire, air_kg_s: float = PLENTY_OF_AIR, hours: float = 12.0) -> Fire:
    for _ in range(int(hours * 180)):
        fire.burn(20.0, air_kg_s, 300.0)
    return fire


@pytest.mark.parametrize("moisture", [0.0, 0.15, 0.20, 0.30])
def test_wood_gives_its_net_calorific_value(moisture: float) -> None:
    """ISO 17225-1 Annex D (EN 14961-1): q = 19 (1 - M) - 2.443 M, in MJ/kg as fired."""
    fire = Fire()
    fire.add(2.0, 0.05, moisture, kindling=True)
    burnt_out(fire)
    expected = 2.0 * (19.0 * (1 - moisture) - 2.443 * moisture)
    left = fire.unburnt_j() / 1e6
    assert fire.released_j / 1e6 + left == pytest.approx(expected, rel=1e-3)
    assert left < 0.15 * expected


def test_heat_is_never_made_from_nothing_when_air_is_short() -> None:
    fire = Fire()
    fire.add(4.0, 0.04, 0.18, kindling=True)
    before = fire.unburnt_j()
    for _ in range(400):
        burning = fire.burn(20.0, 0.0015, 200.0)
        assert burning.heat_w <= 1.1 * 0.0015 * 3.0e6 + 1
    assert fire.released_j + fire.escaped_j + fire.unburnt_j() == pytest.approx(before, rel=1e-9)
    assert fire.escaped_j > 0


def test_logs_burn_no_faster_than_a_crib() -> None:
    """Babrauskas, SFPE Handbook after Gross & Block (from memory): 50 mm sticks, 5 kg."""
    fire = Fire()
    fire.add(5.0, 0.05, 0.0, kindling=True)
    fire.charges[0].kindled = 1.0
    before = fire.charges[0].volatile + fire.charges[0].char_to_come
    fire.burn(20.0, PLENTY_OF_AIR, 20.0)
    after = fire.charges[0].volatile + fire.charges[0].char_to_come
    assert 0 < (before - after) * 180 < 19.12


def test_thin_wood_burns_faster_than_thick() -> None:
    fires = [Fire(), Fire()]
    for fire, size in zip(fires, (0.03, 0.10), strict=True):
        fire.add(1.0, size, 0.15, kindling=True)
        burnt_out(fire, hours=0.5)
    assert fires[0].released_j > 1.5 * fires[1].released_j


def test_wet_wood_catches_later() -> None:
    fires = [Fire(), Fire()]
    for fire, moisture in zip(fires, (0.12, 0.35), strict=True):
        fire.embers = 1.0
        fire.add(1.0, 0.06, moisture)
        for _ in range(9):
            fire.burn(20.0, PLENTY_OF_AIR, 150.0)
    assert fires[0].charges[0].kindled > 1.3 * fires[1].charges[0].kindled


def test_nothing_burns_on_a_cold_hearth_without_a_match() -> None:
    fire = Fire()
    fire.add(2.0, 0.05, 0.15)
    burnt_out(fire, hours=1.0)
    assert fire.released_j == 0.0
