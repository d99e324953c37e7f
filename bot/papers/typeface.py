"""The face of our papers: DejaVu, which has the letters of all Latin, Greek and Cyrillic names.

It comes with matplotlib. Only the glyphs that are used go into a file, with the table that lets
a reader select and search the text.
"""

import unicodedata
from functools import cache
from pathlib import Path
from typing import Final

import matplotlib
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

TEXT: Final = "Paper"
BOLD: Final = "Paper-Bold"
SLANTED: Final = "Paper-Slanted"
HEAD: Final = "Paper-Head"

_FILES: Final = {
    TEXT: "DejaVuSans.ttf",
    BOLD: "DejaVuSans-Bold.ttf",
    SLANTED: "DejaVuSans-Oblique.ttf",
    HEAD: "DejaVuSerif-Bold.ttf",
}

INK: Final = "#221C18"
QUIET: Final = "#6B6159"
RULE: Final = "#CFC4B4"
SHADE: Final = "#F3E9D6"
MARK: Final = "#8F1D4B"

NO_GLYPH: Final = "\N{WHITE SQUARE}"


@cache
def faces() -> dict[str, TTFont]:
    """Register the faces once; by their names."""
    folder = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    made = {name: TTFont(name, str(folder / file)) for name, file in _FILES.items()}
    for face in made.values():
        pdfmetrics.registerFont(face)
    pdfmetrics.registerFontFamily(TEXT, normal=TEXT, bold=BOLD, italic=SLANTED, boldItalic=BOLD)
    return made


def printable(text: str) -> str:
    """``text`` in letters that every face has: composed, without controls, and a square for
    each sign that none of our faces knows (a pictograph in a name)."""
    known, composed = _known(), unicodedata.normalize("NFC", text)
    seen = (c for c in composed if not _is_unseen(c))
    return "".join(c if ord(c) in known else _instead(c) for c in seen)


@cache
def _known() -> frozenset[int]:
    """The signs that all faces have, by their code points."""
    return frozenset.intersection(*(frozenset(f.face.charToGlyph) for f in faces().values()))


def _is_unseen(sign: str) -> bool:
    """A control, a joiner, a mark that turns the direction, or one that picks a variant."""
    return unicodedata.category(sign) in ("Cc", "Cf", "Cs") or "\ufe00" <= sign <= "\ufe0f"


def _instead(sign: str) -> str:
    """A square, once for a letter with its marks."""
    return "" if unicodedata.category(sign) == "Mn" else NO_GLYPH


def escaped(text: str) -> str:
    """The same for a paragraph, where three signs would be markup."""
    plain = printable(text)
    return plain.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def width(text: str, face: str, size: float) -> float:
    """How wide ``text`` comes out, in points."""
    faces()
    return float(pdfmetrics.stringWidth(text, face, size))


@cache
def styles() -> dict[str, ParagraphStyle]:
    """Paragraphs by what they are: title, heads of two ranks, body, quiet, and cells."""
    faces()
    body = ParagraphStyle("body", fontName=TEXT, fontSize=8.6, leading=12.2, textColor=INK)
    cell = ParagraphStyle("cell", parent=body, fontSize=7.6, leading=9.8)
    return {
        "title": ParagraphStyle(
            "title", parent=body, fontName=HEAD, fontSize=20, leading=25, spaceAfter=2
        ),
        "under": ParagraphStyle(
            "under", parent=body, fontSize=11, leading=15, textColor=QUIET, spaceAfter=8
        ),
        "head": ParagraphStyle(
            "head", parent=body, fontName=HEAD, fontSize=12.5, leading=16, spaceBefore=14,
            spaceAfter=5,
        ),
        "second": ParagraphStyle(
            "second", parent=body, fontName=BOLD, fontSize=8.8, leading=12, spaceBefore=8,
            spaceAfter=3,
        ),
        "body": body,
        "quiet": ParagraphStyle("quiet", parent=body, fontSize=7.6, leading=10.4, textColor=QUIET),
        "cell": cell,
        "strong": ParagraphStyle("strong", parent=cell, fontName=BOLD),
        "label": ParagraphStyle("label", parent=cell, textColor=QUIET),
        "right": ParagraphStyle("right", parent=cell, alignment=2),
        "sender": ParagraphStyle("sender", parent=body, fontName=BOLD, alignment=2),
        "sender_line": ParagraphStyle("sender_line", parent=cell, textColor=QUIET, alignment=2),
        "column": ParagraphStyle(
            "column", parent=cell, fontName=BOLD, fontSize=7.2, leading=9.2, textColor=QUIET
        ),
        "column_right": ParagraphStyle(
            "column_right", parent=cell, fontName=BOLD, fontSize=7.2, leading=9.2,
            textColor=QUIET, alignment=2,
        ),
    }  # fmt: skip
