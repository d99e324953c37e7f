"""A code to scan reads on any ground: black on white, with its light border."""

import io

import matplotlib.image
import numpy as np
import pytest

from bot.pictures.painter import paint
from bot.pictures.qr import LONGEST, QUIET_MODULES, SCALE, draw_qr

LINK = "https://t.me/a_rather_long_name_for_a_bot?start=31fRaFoMd8CXE8Dd7pTH"


def grey(picture: bytes) -> np.ndarray:
    read = np.asarray(matplotlib.image.imread(io.BytesIO(picture)))
    return read if read.ndim == 2 else read[..., 0]


def test_it_is_black_on_an_opaque_white_ground_with_a_quiet_zone() -> None:
    picture = draw_qr(LINK)
    shown = grey(picture)
    quiet = QUIET_MODULES * SCALE
    assert set(np.unique(shown)) == {0.0, 1.0}
    for edge in (shown[:quiet], shown[-quiet:], shown[:, :quiet], shown[:, -quiet:]):
        assert (edge == 1.0).all()
    # The three finders stand in the corners, a dark ring of seven modules.
    corner = shown[quiet : quiet + 7 * SCALE : SCALE, quiet : quiet + 7 * SCALE : SCALE]
    assert (corner[0] == 0).all()
    assert (corner[:, 0] == 0).all()
    assert (corner[1, 1:6] == 1).all()
    assert read_alpha(picture) is None


def read_alpha(picture: bytes) -> float | None:
    read = np.asarray(matplotlib.image.imread(io.BytesIO(picture)))
    return float(read[..., 3].min()) if read.ndim == 3 and read.shape[2] == 4 else None


def test_the_painter_knows_it() -> None:
    assert paint("qr", {"content": LINK}) == draw_qr(LINK)


@pytest.mark.parametrize("content", ["", "x" * (LONGEST + 1)])
def test_what_could_not_be_scanned_is_not_drawn(content: str) -> None:
    with pytest.raises(ValueError, match="scan"):
        draw_qr(content)
