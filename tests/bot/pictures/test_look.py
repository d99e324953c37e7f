"""Pictures read on a phone, by day and by night, and without telling red from green."""

import itertools

import numpy as np
import pytest
from matplotlib.colors import to_rgb

from bot.pictures.look import DAYLIGHT, EVENING, Look, shorten

LOOKS = pytest.mark.parametrize("look", [DAYLIGHT, EVENING], ids=["daylight", "evening"])

# Machado, Oliveira & Fernandes (2009), severity 1.0, on linear RGB (from memory)
SEEN_AS = {
    "deuteranopia": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "protanopia": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
}


def linear(colour: str) -> np.ndarray:
    rgb = np.array(to_rgb(colour))
    return np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)


def luminance(colour: str) -> float:
    return float(linear(colour) @ np.array([0.2126, 0.7152, 0.0722]))


def contrast(one: str, other: str) -> float:
    """Contrast ratio of WCAG 2.1."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def lab(rgb_linear: np.ndarray) -> np.ndarray:
    """CIE L*a*b* of a linear sRGB colour (D65)."""
    to_xyz = np.array(
        [
            [0.4124564, 0.3575761, 0.1804375],
            [0.2126729, 0.7151522, 0.0721750],
            [0.0193339, 0.1191920, 0.9503041],
        ]
    )
    x, y, z = (to_xyz @ np.clip(rgb_linear, 0, 1)) / np.array([0.95047, 1.0, 1.08883])
    fx, fy, fz = (np.cbrt(v) if v > 0.008856 else 7.787 * v + 16 / 116 for v in (x, y, z))
    return np.array([116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)])


@LOOKS
def test_words_are_legible_on_both_grounds(look: Look) -> None:
    for ground, words in itertools.product((look.ground, look.panel), (look.ink, look.quiet)):
        # WCAG 2.1, 1.4.3: 4.5 to 1 for text
        assert contrast(words, ground) >= 4.5


@LOOKS
def test_coloured_words_and_lines_stand_out(look: Look) -> None:
    for colour in (look.warn, look.water, look.crown, look.wood):
        # WCAG 2.1, 1.4.3: 3 to 1 for large text; 1.4.11: 3 to 1 for graphics
        assert contrast(colour, look.panel) >= 3.0


@LOOKS
@pytest.mark.parametrize("eye", list(SEEN_AS))
def test_lines_that_share_a_panel_differ_to_every_eye(look: Look, eye: str) -> None:
    colours = (look.crown, look.side, look.wood, look.water)
    seen = [lab(SEEN_AS[eye] @ linear(colour)) for colour in colours]
    for one, other in itertools.combinations(seen, 2):
        assert np.linalg.norm(one - other) > 15  # CIE76; about 2.3 is just noticeable


@LOOKS
def test_heat_reads_in_grey(look: Look) -> None:
    lightness = [luminance(colour) for colour in look.heat]
    steps = np.diff(lightness)
    assert np.all(steps < 0) or np.all(steps > 0)


def test_long_names_are_cut_with_an_ellipsis() -> None:
    assert shorten("short", 10) == "short"
    assert shorten("a very long name indeed", 10) == "a very lo…"
