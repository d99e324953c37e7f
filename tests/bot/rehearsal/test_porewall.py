"""The invented wall against textbook solutions and its own books."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from scipy.special import erfc

from bot.rehearsal.porewall import (
    ATMOSPHERE_PA,
    LATENT_J_KG,
    Course,
    PoreWall,
    Surroundings,
    saturation_pa,
)


def brick(thickness_m: float = 0.4, water: float = 1e-9, permeability: float = 1e-16) -> Course:
    """The reference brick of the conduction tables: k 1.0, ρ 2050, c 960."""
    held = max(15.0, water / 0.85)
    return Course(
        thickness_m, 1.0, 2050.0, 960.0, water, permeability, held, 0.2, 0.004, True
    )  # fmt: skip


def around(wall: PoreWall, fire_c: float, h: float, outer_h: float = 10.0) -> Surroundings:
    size = wall.shape[0]
    return Surroundings(
        flux_w_m2=h * (fire_c - wall.surface),
        slope_w_m2k=np.full(size, h),
        inner_vapour_pa=1000.0,
        inner_mass_ms=0.006,
        outer_c=20.0,
        outer_w_m2k=outer_h,
        outer_vapour_pa=1000.0,
        outer_mass_ms=0.008,
        rain_kg_m2s=0.0,
    )


@pytest.mark.parametrize("celsius", [20.0, 60.0, 100.0, 150.0, 200.0, 250.0, 300.0])
def test_saturation_pressure_is_waters(celsius: float) -> None:
    """IAPWS-95, as CoolProp gives it."""
    ours = float(saturation_pa(np.array([celsius]))[0][0])
    assert ours == pytest.approx(PropsSI("P", "T", celsius + 273.15, "Q", 1, "Water"), rel=0.012)


def test_latent_heat_is_waters_at_a_usual_front() -> None:
    gas = PropsSI("H", "T", 403.15, "Q", 1, "Water")
    liquid = PropsSI("H", "T", 403.15, "Q", 0, "Water")
    assert pytest.approx(gas - liquid, rel=0.005) == LATENT_J_KG


def test_a_dry_wall_conducts_as_the_error_function_says() -> None:
    """Incropera & DeWitt Eq. 5.57; Carslaw & Jaeger §2.5. Surface stepped from 20 to 300 °C."""
    wall = PoreWall([[brick()]], 50.0, 20.0)
    alpha = 1.0 / (2050.0 * 960.0)
    for _ in range(360):
        wall.step(20.0, around(wall, 300.0, 1e5))
    depth = np.cumsum(wall.dx[0]) - wall.dx[0] / 2
    exact = 20.0 + 280.0 * erfc(depth / (2 * np.sqrt(alpha * 7200.0)))
    assert float(np.max(np.abs(wall.temperature[0] - exact)[depth < 0.15])) < 1.5


def test_a_dry_wall_answers_a_gas_as_the_textbook_says() -> None:
    """Incropera Eq. 5.60, x = 0, h = 20 W/m²K, 300 °C: 103.44, 168.24, 194.60 °C."""
    wall = PoreWall([[brick()]], 50.0, 20.0)
    seen = {}
    for step in range(1, 361):
        wall.step(20.0, around(wall, 300.0, 20.0))
        seen[step * 20] = float(wall.surface[0])
    assert [seen[600], seen[3600], seen[7200]] == pytest.approx([103.44, 168.24, 194.60], abs=1.5)


def test_water_and_heat_are_neither_made_nor_lost() -> None:
    wall = PoreWall([[brick(0.09, 60.0)], [brick(0.08, 70.0)]], 0.4, 15.0)
    had = wall.water_kg_m2()
    for step in range(720):
        fire = 250.0 if step < 450 else 20.0
        wall.step(20.0, around(wall, fire, 25.0))
    assert wall.water_kg_m2() == pytest.approx(had - wall.vapour_out, rel=1e-9)
    assert wall.heat_in == pytest.approx(
        wall.heat_out + wall.stored + LATENT_J_KG * wall.vapour_out, rel=1e-9
    )
    assert np.all(wall.vapour_out > 0.2 * had)


def test_the_water_kept_in_the_books_is_the_water_in_the_pores() -> None:
    wall = PoreWall([[brick(0.09, 60.0)]], 0.4, 15.0)
    for _ in range(450):
        wall.step(20.0, around(wall, 250.0, 25.0))
    content = wall._isotherm(wall.temperature, wall.pressure)[0]
    assert float(np.max(np.abs(content - wall.water))) < 1.0  # kg/m³ of 60


def test_water_does_not_boil_away_from_a_cool_wall() -> None:
    wall = PoreWall([[brick(0.09, 60.0)]], 0.4, 15.0)
    for _ in range(360):
        wall.step(20.0, around(wall, 60.0, 25.0))
    assert float(wall.vapour_out[0] / (60.0 * 0.09)) < 0.1
    assert float(wall.pressure.max()) < ATMOSPHERE_PA


def peak_kpa(permeability: float, fire_c: float = 400.0, water: float = 60.0) -> float:
    wall = PoreWall([[brick(0.09, water, permeability)]], 0.4, 15.0)
    peak = 0.0
    for _ in range(540):
        wall.step(20.0, around(wall, fire_c, 40.0))
        peak = max(peak, float(wall.pressure.max()))
    return peak / 1e3


def test_a_tighter_wall_and_a_hotter_fire_press_harder() -> None:
    usual = peak_kpa(1e-16)
    assert peak_kpa(1e-17) > 1.5 * usual
    assert peak_kpa(1e-15) < 0.7 * usual
    assert peak_kpa(1e-16, fire_c=200.0) < usual


def led_kpa(permeability: float, face_c: float) -> float:
    """Highest overpressure (kPa) in a 90 mm slab led to ``face_c`` at 100 K/h and held 2 h, no
    heat and no steam leaving behind."""
    course = Course(0.09, 1.1, 2200.0, 1000.0, 60.0, permeability, 70.6, 0.2, 0.004, True)
    wall, peak, seconds = PoreWall([[course]], 50.0, 12.0), 0.0, 0.0
    while seconds < ((face_c - 12.0) / 100.0 + 2.0) * 3600.0:
        face = min(face_c, 12.0 + seconds / 36.0)
        wall.step(30.0, around(wall, face, 1e5, outer_h=1e-3))
        peak, seconds = max(peak, float(wall.pressure.max())), seconds + 30.0
    return (peak - ATMOSPHERE_PA) / 1e3


@pytest.mark.parametrize(
    ("permeability", "face_c", "front_kpa"),
    [(1e-16, 155.0, 221.0), (1e-16, 185.0, 398.0), (1e-17, 155.0, 344.0), (1e-17, 185.0, 665.0)],
)
def test_the_pressure_is_of_the_size_of_a_sharp_fronts(
    permeability: float, face_c: float, front_kpa: float
) -> None:
    """An explicit solver, 1 mm and 0.15 s, all wet cells at one boiling point and every gram of
    steam through the dry crust (recomputed for this test, steam tables by CoolProp). Pores that
    hold water back and dry below boiling stay below it; with diffusion that needed no air
    they fell to a third."""
    assert 0.55 * front_kpa < led_kpa(permeability, face_c) < front_kpa


def test_steam_that_cannot_leave_presses_as_hard_as_its_temperature_makes_it() -> None:
    """Next to no permeability: within a third of saturation at the face."""
    saturated = (float(saturation_pa(np.array([155.0]))[0][0]) - ATMOSPHERE_PA) / 1e3
    assert 0.66 * saturated < led_kpa(1e-20, 155.0) < saturated


def test_the_drying_pressure_stays_below_the_closed_form_for_a_front_that_only_vents_inward() -> (
    None
):
    """P² - P₀² = 2μ(R/M)T k(T_surface - T_front)/(κL): all heat boils, all steam comes back
    through the crust. A real field loses some both ways, so it is an upper bound here."""
    kappa, surface = 1e-16, 400.0
    front = np.linspace(100.0, 390.0, 2000)
    saturated = saturation_pa(front)[0]
    crust_k = (surface + front) / 2 + 273.15
    bound = ATMOSPHERE_PA**2 + 2 * 2e-5 * 461.5 * crust_k * 1.1 * (surface - front) / (
        kappa * LATENT_J_KG
    )
    ceiling = saturated[np.argmin(np.abs(saturated**2 - bound))] / 1e3
    assert 0.15 * ceiling < peak_kpa(kappa) < ceiling
