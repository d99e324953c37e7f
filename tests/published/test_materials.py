"""Materials against the standards and the library that collects them."""

import pytest
from ht import ASHRAE, refractory_VDI_Cp, refractory_VDI_k
from scipy import integrate

from scheduling.oven.materials import (
    Mix,
    concrete_conductivity_w_mk,
    concrete_density_share,
    concrete_heat_capacity_j_kgk,
    effusivity_w_s05_m2k,
)
from scheduling.oven.preset import shipped


@pytest.mark.parametrize(
    ("temperature_c", "lower", "upper"),
    # EN 1992-1-2:2004 3.3.3
    [
        (20, 1.3330, 1.9514),
        (100, 1.2297, 1.7656),
        (200, 1.1108, 1.5526),
        (400, 0.9072, 1.1908),
        (500, 0.8225, 1.0420),
    ],
)
def test_conductivity_of_concrete(temperature_c: float, lower: float, upper: float) -> None:
    assert concrete_conductivity_w_mk(temperature_c) == pytest.approx((lower, upper), abs=1e-4)


@pytest.mark.parametrize(
    ("temperature_c", "share"),
    # EN 1992-1-2:2004 3.3.2(3)
    [(150, 0.99176), (200, 0.98), (300, 0.965), (400, 0.95), (1200, 0.88)],
)
def test_density_of_heated_concrete(temperature_c: float, share: float) -> None:
    assert concrete_density_share(temperature_c) == pytest.approx(share, abs=1e-5)


def test_heat_capacity_of_concrete() -> None:
    # EN 1992-1-2:2004 3.3.2 (from memory): 900 to 100 °C, + (T - 100), + (T - 200)/2, then 1100
    points = [20, 100, 150, 200, 300, 400, 600]
    assert [concrete_heat_capacity_j_kgk(t) for t in points] == pytest.approx(
        [900, 900, 950, 1000, 1050, 1100, 1100]
    )


def test_the_standards_moisture_peak_pays_for_the_water_that_leaves() -> None:
    # EN 1992-1-2 3.3.2 (from memory): at 1.5 % water a peak of 1470 J/kgK from 100 to 115 °C, then
    # straight down to 1000 at 200 °C. What it adds is the latent heat of that water (2256 kJ/kg).
    def peak(temperature_c: float) -> float:
        if temperature_c <= 115:
            return 1470.0
        return 1470.0 + (1000.0 - 1470.0) * (temperature_c - 115) / 85

    excess, _ = integrate.quad(
        lambda t: peak(t) - concrete_heat_capacity_j_kgk(t), 100, 200, points=[115]
    )
    assert excess / (0.015 * 2256.4e3) == pytest.approx(1.0, abs=0.07)


@pytest.mark.parametrize(
    ("hydration", "evaporable"),
    # Powers & Brownyard 1947 (from memory): 350 kg/m³ of cement at w/c 0.5
    [(1.0, 94.5), (0.74, 115.4)],
)
def test_water_left_in_a_mix(hydration: float, evaporable: float) -> None:
    mix = Mix(cement_kg_m3=350, water_cement=0.5)
    assert mix.evaporable_water_kg_m3(hydration) == pytest.approx(evaporable, abs=0.05)


@pytest.mark.parametrize(
    ("water_cement", "share"),
    # Mills 1966 (from memory)
    [(0.35, 0.6633), (0.4, 0.6943), (0.5, 0.7428), (0.6, 0.7791)],
)
def test_how_much_cement_can_hydrate(water_cement: float, share: float) -> None:
    mix = Mix(cement_kg_m3=350, water_cement=water_cement)
    assert mix.ultimate_hydration() == pytest.approx(share, abs=1e-4)


def test_fireclay_in_the_catalogue_is_that_of_the_heat_atlas() -> None:
    tile = shipped().materials["fireclay-tile"]
    # ht 1.2: VDI Heat Atlas, 2nd ed. 2010, fireclay at 400 °C (673.15 K)
    conductivity: float = refractory_VDI_k("Fireclay", 673.15)  # type: ignore[no-untyped-call]
    heat_capacity: float = refractory_VDI_Cp("Fireclay", 673.15)  # type: ignore[no-untyped-call]
    assert tile.conductivity_w_mk == pytest.approx(conductivity, abs=0.01)
    assert tile.heat_capacity_j_kgk == pytest.approx(heat_capacity, abs=1)


def test_perlite_concrete_in_the_catalogue_is_that_of_ashrae() -> None:
    # ht 1.2: ASHRAE Fundamentals 2013, low-density aggregate concrete with perlite
    rows = [row for name, row in ASHRAE.items() if name.startswith("Concrete, Perlite")]
    densities = {row[0]: row[2] for row in rows}
    for key in ("perlite-concrete", "light-castable"):
        material = shipped().materials[key]
        assert material.conductivity_w_mk == pytest.approx(densities[material.density_kg_m3])


def test_dense_castable_conducts_no_better_than_the_standard_allows() -> None:
    lower, upper = concrete_conductivity_w_mk(200)
    assert lower - 0.02 <= shipped().materials["dense-castable"].conductivity_w_mk <= upper


def test_effusivity_gives_the_surface_rise_of_the_handbook() -> None:
    # Incropera Eq. 5.59, Carslaw & Jaeger §2.9: 5 kW/m² for an hour on k=1, ρ=2050, c=960
    effusivity = effusivity_w_s05_m2k(1.0, 2050, 960)
    rise_k = 2 * 5000 * (3600 / 3.141592653589793) ** 0.5 / effusivity
    assert rise_k == pytest.approx(241.30, abs=0.1)
