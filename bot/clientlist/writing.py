"""Writes files of clients, with the columns that are read and some that only tell."""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

from bot.clientlist.columns import COLUMNS, TOLD
from bot.clientlist.reading import FORMULA, HIDDEN

PASSED_ON = ("name", "link", "code", "good until", "message")
"""Columns of a file of new invitations."""


def written(rows: Iterable[Mapping[str, str]], columns: Sequence[str] = (*COLUMNS, *TOLD)) -> str:
    """A file with one row for each; what a row does not have stays empty."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([_harmless(row.get(column, "")) for column in columns])
    return out.getvalue()


def _harmless(cell: str) -> str:
    """Words of others: a spreadsheet must not take them for a formula."""
    plain = " ".join(cell.split())
    is_number = plain.lstrip("-").replace(".", "", 1).isdigit()
    return HIDDEN + plain if plain[:1] in FORMULA and not is_number else plain
