"""The emissivity correction against Planck's law and published tables of it."""

import numpy as np
import pytest
from ht import blackbody_spectral_radiance
from scipy import integrate

from scheduling.oven.infrared import band_fraction, band_radiance, corrected_c, temperature_of


@pytest.mark.parametrize(
    ("shown_c", "emissivity", "background_c", "true_c"),
    # Planck's law (CODATA 2018) integrated over 8-14 µm; instrument set to 0.95
    [
        (300, 0.80, 25, 334.7),
        (300, 0.80, 250, 308.9),
        (300, 0.80, 300, 300.0),
        (100, 0.80, 25, 110.9),
        (200, 0.90, 25, 206.9),
        (400, 0.75, 25, 467.0),
    ],
)
def test_a_reading_is_corrected_to_a_fifth_of_a_degree(
    shown_c: float, emissivity: float, background_c: float, true_c: float
) -> None:
    assert corrected_c(shown_c, 0.95, emissivity, background_c) == pytest.approx(true_c, abs=0.2)


@pytest.mark.parametrize(
    ("temperature_c", "fraction"),
    # Planck's law (CODATA 2018), share of all radiation that lies in 8-14 µm
    [(25, 0.3744), (100, 0.3909), (200, 0.3443), (300, 0.2801), (500, 0.1762)],
)
def test_the_share_of_the_band(temperature_c: float, fraction: float) -> None:
    assert band_fraction(temperature_c) == pytest.approx(fraction, abs=5e-5)


@pytest.mark.parametrize("temperature_c", [-20.0, 5.0, 150.0, 400.0, 700.0])
def test_the_series_equals_the_integral_of_plancks_law(temperature_c: float) -> None:
    # ht 1.2 gives the spectral radiance (W/m²sr per m), scipy.integrate.quad sums it
    expected, _ = integrate.quad(
        lambda wavelength: blackbody_spectral_radiance(temperature_c + 273.15, wavelength),
        8e-6,
        14e-6,
        epsrel=1e-10,
    )
    assert band_radiance(temperature_c) == pytest.approx(expected, rel=1e-6)


def test_a_grey_correction_would_be_too_small_for_a_bright_background() -> None:
    # Stefan-Boltzmann grey form, ASTM E2758 / E1933: 323.4 °C where the band gives 334.7
    kelvin = (0.95 * 573.15**4 + (0.80 - 0.95) * 298.15**4) / 0.80
    grey_c = kelvin**0.25 - 273.15
    assert grey_c == pytest.approx(323.4, abs=0.1)
    assert corrected_c(300, 0.95, 0.80, 25) > grey_c + 10


def test_radiance_and_temperature_are_each_others_inverse() -> None:
    temperatures_c = np.linspace(-40, 900, 95)
    assert temperature_of(band_radiance(temperatures_c)) == pytest.approx(temperatures_c, abs=1e-6)
