"""The ovens of the trials keep to physics; what they prove of the bot is worth no more."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from tests.trials.unmet_ovens.draw import Drawn, draw_oven, generators
from tests.trials.unmet_ovens.make import draw_make
from tests.trials.unmet_ovens.oven import Oven, Weather
from tests.trials.unmet_ovens.slab import Drying, Layer, Pores, Slab
from tests.trials.unmet_ovens.soot import Soot, SootKind
from tests.trials.unmet_ovens.steam import boiling_c, saturation_pa
from tests.trials.unmet_ovens.structures import Structure

NINE = datetime(2026, 6, 1, 9, tzinfo=UTC)
DRY_WOOD = 0.16


def calm(_: datetime) -> Weather:
    return Weather(14.0, 1.5)


def an_oven(structure: Structure, number: int = 0) -> Drawn:
    return draw_oven(structure, generators(7, number, 1)[0], NINE, calm)


def tend(oven: Oven, hours: float, kg_m2: float) -> None:
    """Feed it every twenty minutes, by the size of it."""
    kg = kg_m2 * float(oven.cavity.areas.sum())
    oven.light(kg, DRY_WOOD, 25.0)
    for _ in range(round(hours * 3)):
        oven.run_until(oven.now + timedelta(minutes=20))
        oven.stoke(kg, DRY_WOOD, 40.0)


@pytest.mark.parametrize("structure", Structure)
def test_heat_is_neither_made_nor_lost(structure: Structure) -> None:
    oven = an_oven(structure).oven
    areas, wall = oven.cavity.areas, oven.wall
    had = float((wall.stored_j_m2() * areas).sum())
    tend(oven, 2.0, 0.4)
    oven.soak(0.3)
    oven.run_until(oven.now + timedelta(hours=1))
    oven.door_on = True
    oven.run_until(oven.now + timedelta(hours=6))
    account, fire = oven.account, oven.fire
    assert fire.released_j + fire.left_j() == pytest.approx(fire.laid_j, rel=1e-6)
    assert account.into_walls_j + account.lost_j == pytest.approx(fire.released_j, rel=1e-6)
    gained = float((wall.stored_j_m2() * areas).sum()) - had
    left = float(((wall.outer_j_m2 + wall.vapour_j_m2) * areas).sum())
    assert gained + left == pytest.approx(account.into_walls_j, rel=1e-6)
    assert float((wall.vapour_j_m2 * areas).sum()) > 0.0


@pytest.mark.parametrize("structure", Structure)
def test_a_fire_dries_the_wall_and_rain_wets_it(structure: Structure) -> None:
    oven = an_oven(structure, 2).oven
    had = oven.water_kg
    tend(oven, 3.0, 0.4)
    dried = oven.water_kg
    oven.soak(0.5)
    assert dried < 0.9 * had
    assert oven.water_kg > dried


def tight(permeability_m2: float, drying: Drying) -> Slab:
    pores = Pores(
        permeability_m2=permeability_m2,
        opens=1.0,
        holds_kg_m3=120.0,
        limit_pa=0.5e6,
        outward=0.8,
        resists=40.0,
        drying=drying,
        hours_at_100=2.0,
        energy_j_mol=45e3,
        clings_k=30.0,
    )
    return Slab(((Layer(0.09, 1.4, 2.0e6, 70.0), Layer(0.05, 0.1, 1e5, 0.0)),), pores, 20.0, 9.0)


def worst_share(wall: Slab, flux_w_m2: float, hours: float) -> float:
    worst = 0.0
    for _ in range(round(hours * 120)):
        wall.step(30.0, np.array([flux_w_m2]), 15.0)
        worst = max(worst, float(wall.steam_share[0]))
    return worst


@pytest.mark.parametrize("drying", Drying)
def test_a_tight_wall_fired_hard_bears_it_no_longer(drying: Drying) -> None:
    assert worst_share(tight(2e-16, drying), 9e3, 1.5) > 1.0
    assert worst_share(tight(2e-13, drying), 9e3, 1.5) < 0.5
    assert worst_share(tight(2e-16, drying), 1.2e3, 1.5) < 0.5


def test_soot_goes_only_where_it_is_hot() -> None:
    soot = Soot(SootKind(370.0, 40.0, 160e3), 3)
    soot.step(600.0, np.array([100.0, 100.0, 100.0]), 5.0)
    assert not soot.bare.any()
    for _ in range(60):
        soot.step(60.0, np.array([250.0, 320.0, 385.0]), 0.0)
    assert list(soot.bare) == [0.0, 0.0, 1.0]
    assert soot.black[0] > 0.95


def test_steam_boils_where_tables_say() -> None:
    assert saturation_pa(np.array([100.0, 150.0, 200.0])) == pytest.approx(
        [101_325, 476_000, 1_555_000], rel=0.015
    )
    assert float(boiling_c(np.array(476_000.0))) == pytest.approx(150.0, abs=0.5)


def test_wood_on_a_cold_bed_smoulders_and_paper_lights_it() -> None:
    cold, lit = an_oven(Structure.ZONES).oven, an_oven(Structure.ZONES).oven
    for oven, paper in ((cold, False), (lit, True)):
        oven.stoke(1.0, 0.3, 60.0, paper=paper)
        oven.run_until(NINE + timedelta(minutes=30))
    assert cold.fire.unburnt_kg > 0.95
    assert lit.fire.unburnt_kg < 0.8
    assert lit.crown_c > cold.crown_c + 5.0


def test_a_door_keeps_the_night_warm() -> None:
    shut, open_ = an_oven(Structure.ZONES, 2).oven, an_oven(Structure.ZONES, 2).oven
    for oven, door in ((shut, True), (open_, False)):
        tend(oven, 2.0, 0.4)
        oven.run_until(NINE + timedelta(hours=4))
        oven.door_on = door
        oven.run_until(NINE + timedelta(hours=12))
    assert shut.crown_c > open_.crown_c + 5.0


def test_sides_of_a_lopsided_dome_lag_and_lead() -> None:
    """Some by more than 30 K each way, a quarter of an hour after a stoking of the first hour."""
    apart = []
    for number in range(7):
        oven = an_oven(Structure.LOPSIDED, number).oven
        tend(oven, 1.0, 0.4)
        apart.append(oven.wall.surface_c[1:-1] - oven.crown_c)
    assert min(float(one.min()) for one in apart) < -30.0
    assert max(float(one.max()) for one in apart) > 15.0


def test_what_is_drawn_spans_what_there_is() -> None:
    makes = [draw_make(np.random.default_rng(seed)) for seed in range(300)]
    burns = [an_oven(Structure.ZONES, number).oven.fire.burning for number in range(40)]
    assert min(one.diameter_m for one in makes) < 0.65 < 1.15 < max(one.diameter_m for one in makes)
    assert min(one.shell_m for one in makes) < 0.05 < 0.12 < max(one.shell_m for one in makes)
    assert min(one.permeability_m2 for one in makes) < 1e-15
    assert max(one.permeability_m2 for one in makes) > 5e-14
    assert min(one.burn_out_min for one in burns) < 15.0
    assert max(one.burn_out_min for one in burns) > 50.0


def test_an_oven_depends_on_its_seed_and_number_alone() -> None:
    again = [an_oven(Structure.SKIN, 3).make for _ in range(2)]
    assert again[0] == again[1]
    assert an_oven(Structure.SKIN, 4).make != again[0]
