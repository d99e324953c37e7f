"""Pictures on paper: made small, upright, and without where and how they were taken."""

import io
from collections.abc import Sequence
from typing import Final

from PIL import Image as Picture
from PIL import ImageOps
from reportlab.platypus import Flowable, Image, Spacer, Table

from bot.papers.sheets import paragraph

WIDE: Final = 150.0
HIGH: Final = 130.0
"""The room of one photo, in points."""

PIXELS: Final = 640
MOST_PIXELS: Final = 40_000_000
"""A picture that unfolds to more was not taken by a telephone."""


def gallery(text_width: float, pictures: Sequence[tuple[bytes | None, str]]) -> list[Flowable]:
    """Pictures three in a row, each with what it shows; one that is not at hand is named."""
    if not pictures:
        return []
    cells = [[_photo(content), paragraph(caption, "quiet")] for content, caption in pictures]
    cells += [[paragraph("")]] * (-len(cells) % 3)
    rows = [cells[index : index + 3] for index in range(0, len(cells), 3)]
    return [
        Spacer(0, 8),
        Table(rows, [text_width / 3] * 3, hAlign="LEFT", style=[
            ("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ]),
    ]  # fmt: skip


def picture(content: bytes, wide: float, high: float) -> Flowable:
    """A picture in a room of so many points; a word in its place where it cannot be read."""
    try:
        with Picture.open(io.BytesIO(content)) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                raise ValueError("too large")
            upright = _on_white(ImageOps.exif_transpose(opened))
    except (OSError, ValueError, SyntaxError, Picture.DecompressionBombError):
        return paragraph("[The photo could not be read.]")
    upright.thumbnail((PIXELS, PIXELS))
    small = io.BytesIO()
    upright.save(small, format="JPEG", quality=78)
    scale = min(wide / upright.width, high / upright.height)
    return Image(small, upright.width * scale, upright.height * scale, hAlign="LEFT")


def _photo(content: bytes | None) -> Flowable:
    if content is None:
        return paragraph("[The photo stands in the chat; it was not at hand for this paper.]")
    return picture(content, WIDE, HIGH)


def _on_white(image: Picture.Image) -> Picture.Image:
    """What is clear in a mark is white on paper, not black."""
    clear = image.convert("RGBA")
    ground = Picture.new("RGBA", clear.size, "white")
    return Picture.alpha_composite(ground, clear).convert("RGB")
