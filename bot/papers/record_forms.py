"""The record of an oven in the forms that people take it away in."""

from typing import Final

from bot.papers.record import OvenRecord
from bot.papers.record_pdf import record_pdf
from bot.papers.record_rest import Photos
from bot.papers.record_tables import record_csv, record_json

FORMS: Final = ("pdf", "csv", "json")


def record_as(form: str, paper: OvenRecord, photos: Photos) -> bytes:
    """The file of that form. A table begins with the mark by which a spreadsheet knows its letters.

    Raises ValueError for a form that there is not.
    """
    match form:
        case "pdf":
            return record_pdf(paper, photos)
        case "csv":
            return record_csv(paper).encode("utf-8-sig")
        case "json":
            return record_json(paper).encode()
    raise ValueError(f"no record is made as {form!r}")
