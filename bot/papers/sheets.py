"""The sheet that a paper is set on: margins, a running head, "page 2 of 6", and tables."""

import io
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import mm
from reportlab.lib.utils import TimeStamp
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    PageTemplate,
    Paragraph,
    Table,
)

from bot.papers.typeface import (
    INK,
    QUIET,
    RULE,
    SHADE,
    TEXT,
    escaped,
    faces,
    printable,
    styles,
    width,
)

LEFT, RIGHT = 20 * mm, 16 * mm
TOP, BOTTOM = 22 * mm, 18 * mm
"""The left margin is wide enough to be punched and filed."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """What stands on every page: at the head, at the foot, and in the file's own description."""

    title: str
    head_left: str
    head_right: str
    foot: str
    made_at: datetime
    """What the file itself says of when it was made."""
    letter: bool = False
    """US letter in place of A4."""

    @property
    def size(self) -> tuple[float, float]:
        """Width and height in points."""
        wide, high = LETTER if self.letter else A4
        return float(wide), float(high)

    @property
    def text_width(self) -> float:
        """Between the margins, in points."""
        return float(self.size[0] - LEFT - RIGHT)


def set_paper(sheet: Sheet, story: Sequence[Flowable]) -> bytes:
    """``story`` as PDF. The same content gives the same bytes."""
    faces()
    buffer = io.BytesIO()
    document = BaseDocTemplate(
        buffer,
        pagesize=sheet.size,
        leftMargin=LEFT,
        rightMargin=RIGHT,
        topMargin=TOP,
        bottomMargin=BOTTOM,
        title=printable(sheet.title),
        author="stokewatch",
        subject=printable(sheet.head_left),
        creator="stokewatch",
        lang="en-GB",
        invariant=1,
        pageCompression=1,
    )
    frame = Frame(
        LEFT, BOTTOM, sheet.text_width, sheet.size[1] - TOP - BOTTOM,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
    document.addPageTemplates([PageTemplate("page", [frame])])
    document.build(list(story), canvasmaker=lambda *args, **more: _Numbered(sheet, *args, **more))
    return buffer.getvalue()


class _MadeAt(TimeStamp):  # type: ignore[misc]
    """An instant that the content gives: the library knows only now, or the year 2000."""

    def __init__(self, at: datetime) -> None:
        super().__init__(invariant=1)
        utc = at.astimezone(UTC)
        self.t, self.lt, self.YMDhms = utc.timestamp(), utc.timetuple(), tuple(utc.timetuple())[:6]


class _Numbered(Canvas):  # type: ignore[misc]
    """A canvas that puts head and foot on at the end, when the number of pages is known."""

    def __init__(self, sheet: Sheet, *args: Any, **more: Any) -> None:
        super().__init__(*args, **(more | {"initialFontName": TEXT}))
        self._doc._timeStamp = _MadeAt(sheet.made_at)
        self._sheet = sheet
        self._pages: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802 - the library calls it by this name
        """Lay the page aside."""
        self._pages.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        """Take every page up again, number it, and write the file."""
        for number, page in enumerate(self._pages, 1):
            self.__dict__.update(page)
            self._frame(number, len(self._pages))
            super().showPage()
        super().save()

    def _frame(self, number: int, of: int) -> None:
        sheet, (page_width, height) = self._sheet, self._sheet.size
        right = page_width - RIGHT
        self.setStrokeColor(HexColor(RULE))
        self.setLineWidth(0.6)
        self.line(LEFT, height - 16 * mm, right, height - 16 * mm)
        self.line(LEFT, 13 * mm, right, 13 * mm)
        self.setFillColor(HexColor(QUIET))
        self.setFont(TEXT, 7.4)
        room = sheet.text_width - width(sheet.head_right, TEXT, 7.4) - 12
        self.drawString(LEFT, height - 14 * mm, fitted(printable(sheet.head_left), room, 7.4))
        self.drawRightString(right, height - 14 * mm, sheet.head_right)
        self.drawString(LEFT, 9.5 * mm, sheet.foot)
        self.drawRightString(right, 9.5 * mm, f"page {number} of {of}")


def fitted(text: str, room: float, size: float, face: str = TEXT) -> str:
    """``text``, cut with an ellipsis where it is wider than ``room`` points."""
    if width(text, face, size) <= room:
        return text
    while text and width(text + "…", face, size) > room:
        text = text[:-1]
    return text.rstrip() + "…"


def paragraph(text: str, style: str = "body") -> Paragraph:
    """Plain text as a paragraph; what looks like markup is shown as it is."""
    return Paragraph(escaped(text), styles()[style])


def heading(text: str, *, second: bool = False, room: float = 90.0) -> list[Flowable]:
    """A heading that never stands at the foot of a page without ``room`` points under it."""
    return [CondPageBreak(room), paragraph(text, "second" if second else "head")]


def table(
    heads: Sequence[str],
    rows: Sequence[Sequence[str | Flowable]],
    widths: Sequence[float],
    *,
    right: Sequence[int] = (),
    marked: Sequence[int] = (),
) -> Table:
    """A ruled table that repeats its heads on each page; a row is never torn apart.

    ``widths`` are shares of the text's width, in points. Columns in ``right`` are set flush
    right, as figures are; rows in ``marked`` (from 0) stand on a shade, their first cell strong.
    """
    body = [[paragraph(h, "column_right" if i in right else "column") for i, h in enumerate(heads)]]
    body += [
        [
            paragraph(cell, _style(i, n, right, marked)) if isinstance(cell, str) else cell
            for i, cell in enumerate(row)
        ]
        for n, row in enumerate(rows)
    ]
    spaced = [("RIGHTPADDING", (i, 0), (i, -1), 11) for i in right]
    shaded = [("BACKGROUND", (0, row + 1), (-1, row + 1), HexColor(SHADE)) for row in marked]
    return Table(
        body,
        colWidths=list(widths),
        repeatRows=1,
        splitInRow=0,
        hAlign="LEFT",
        style=[*_RULED, ("LINEBELOW", (0, 0), (-1, 0), 0.8, HexColor(INK)), *spaced, *shaded],
    )


def _style(column: int, row: int, right: Sequence[int], marked: Sequence[int]) -> str:
    if column in right:
        return "right"
    return "strong" if column == 0 and row in marked else "cell"


def pairs(rows: Sequence[tuple[str, str]], text_width: float, columns: int = 2) -> Table:
    """Names and values beside each other, in so many columns."""
    share = text_width / columns
    cells = [[paragraph(name, "label"), paragraph(value, "cell")] for name, value in rows if value]
    depth = -(-len(cells) // columns)
    empty: list[Any] = [paragraph(""), paragraph("")]
    lines = [
        [part for c in range(columns) for part in _at(cells, c * depth + line, empty)]
        for line in range(depth)
    ]
    widths = [share * 0.36, share * 0.64] * columns
    return Table(lines or [empty * columns], widths, style=_RULED, hAlign="LEFT")


def _at(cells: list[list[Any]], index: int, empty: list[Any]) -> list[Any]:
    return cells[index] if index < len(cells) else empty


_RULED: list[tuple[Any, ...]] = [
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 6),
    ("TOPPADDING", (0, 0), (-1, -1), 2.2),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2.6),
    ("LINEBELOW", (0, 0), (-1, -1), 0.4, HexColor(RULE)),
]
