"""Reads a file of clients: its rows, and every fault with its line and column.

Spreadsheets write commas, semicolons or tabs between cells, in UTF-8 or in the code page of old
Windows; all of that is read. Nothing is looked up here: what a cell means is for who knows towns
and constructions.
"""

import csv
import difflib
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from bot.clientlist.columns import COLUMNS, NAME, TOLD, column
from scheduling.meaning import RowFault

MOST_ROWS: Final = 500
MOST_LETTERS: Final = 120
"""Of one cell: a name, a town, a few words."""

SEPARATORS: Final = (",", ";", "\t")

HIDDEN: Final = "'"
"""Stands before a cell that a spreadsheet would else take for a formula."""


@dataclass(frozen=True, slots=True)
class Row:
    """A client: what stands in each column, empty cells left out."""

    line: int
    cells: Mapping[str, str]

    @property
    def name(self) -> str:
        """What the builder calls them."""
        return self.cells.get(NAME, "")


@dataclass(frozen=True, slots=True)
class Sheet:
    """Rows that can be looked at further, and what is wrong with the others."""

    rows: tuple[Row, ...] = ()
    faults: tuple[RowFault, ...] = field(default=())


def is_sheet(text: str) -> bool:
    """Whether the first line reads like the headings of such a file."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    known = [column(one) for one in _cells(first, _separator(first))]
    return NAME in known and (len(known) > 1 or len(text.strip().splitlines()) > 1)


def decoded(content: bytes) -> str | None:
    """The text of a file, in UTF-8 or else as Windows wrote it; None for what is no text."""
    if b"\x00" in content:
        return None
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return content.decode(encoding)
        except UnicodeDecodeError:
            continue
    return None


def read_sheet(text: str) -> Sheet:
    """The rows of a file, and its faults in the order of their lines."""
    text = text.lstrip("\ufeff")
    first = next((line for line in text.splitlines() if line.strip()), "")
    reader = csv.reader(io.StringIO(text), delimiter=_separator(first))
    numbered: list[tuple[int, list[str]]] = []
    begins = 1
    for cells in reader:
        if any(cell.strip() for cell in cells):
            numbered.append((begins, [_bare(cell) for cell in cells]))
        begins = reader.line_num + 1
    if not numbered:
        return Sheet(faults=(RowFault(what="no_rows"),))
    head, faults = _headings(*numbered[0])
    if faults:
        return Sheet(faults=tuple(faults))
    if len(numbered) == 1:
        return Sheet(faults=(RowFault(what="no_rows"),))
    if len(numbered) - 1 > MOST_ROWS:
        line = numbered[MOST_ROWS + 1][0]
        return Sheet(faults=(RowFault(what="too_many", line=line, most=MOST_ROWS),))
    return _rows(head, numbered[1:])


def _rows(head: Sequence[str], numbered: Sequence[tuple[int, list[str]]]) -> Sheet:
    rows: list[Row] = []
    faults: list[RowFault] = []
    named: dict[str, int] = {}
    for line, cells in numbered:
        told = dict(zip(head, cells, strict=False))
        row = Row(line, {key: cell for key, cell in told.items() if cell and key not in TOLD})
        found = _fault(row, head, cells, named)
        if found is not None:
            faults.append(found)
            continue
        named[row.name.casefold()] = line
        rows.append(row)
    return Sheet(tuple(rows), tuple(faults))


def _fault(
    row: Row, head: Sequence[str], cells: Sequence[str], named: Mapping[str, int]
) -> RowFault | None:
    if any(cell for cell in cells[len(head) :]):
        return RowFault(what="cells", line=row.line, most=len(head))
    if not row.name:
        return RowFault(what="no_name", line=row.line, column=NAME)
    if row.name.casefold() in named:
        return RowFault(what="twice", line=row.line, column=NAME, value=row.name)
    long = next((key for key, cell in row.cells.items() if len(cell) > MOST_LETTERS), None)
    if long is not None:
        value = row.cells[long][:40]
        return RowFault(what="too_long", line=row.line, column=long, value=value, most=MOST_LETTERS)
    return None


def _headings(line: int, cells: Sequence[str]) -> tuple[tuple[str, ...], list[RowFault]]:
    faults: list[RowFault] = []
    head: list[str] = []
    for cell in cells:
        known = column(cell)
        if known is None and cell:
            near = difflib.get_close_matches(cell.lower(), COLUMNS, n=1)
            told = {"line": line, "column": cell[:40], "near": near[0] if near else ""}
            faults.append(RowFault.model_validate({"what": "unknown_column"} | told))
        elif known in head:
            faults.append(RowFault(what="twice", line=line, column=cell[:40]))
        head.append(known or "")
    if NAME not in head:
        faults.insert(0, RowFault(what="no_header", line=line))
    while head and not head[-1]:
        head.pop()
    return tuple(head), faults


def _separator(first: str) -> str:
    return max(SEPARATORS, key=first.count)


def _cells(line: str, separator: str) -> list[str]:
    return next(csv.reader([line], delimiter=separator), [])


def _bare(cell: str) -> str:
    """One line, without the mark that hides a formula."""
    plain = " ".join(cell.split())
    return plain[1:] if plain[:1] == HIDDEN and plain[1:2] in FORMULA else plain


FORMULA: Final = ("=", "+", "-", "@")
"""What a spreadsheet takes for the beginning of a formula."""
