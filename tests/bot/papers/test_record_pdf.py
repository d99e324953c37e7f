"""The record as a document: read back with another library, page by page."""

import io
import re
import shutil
import subprocess
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pypdf import PdfReader

from bot.papers.record import OvenRecord
from bot.papers.record_pdf import record_pdf
from bot.papers.typeface import printable
from scheduling.journal import Described, FireLit, Joined, Noted, Opened
from tests.bot.papers.five_fires import NAMES, OWNER, journal, paper, photo

PHOTOS = {"photo-hair": photo(), "photo-open": photo("#556677")}


@pytest.fixture(scope="module")
def content() -> bytes:
    return record_pdf(paper(), PHOTOS)


@pytest.fixture(scope="module")
def document(content: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(content), strict=True)


@pytest.fixture(scope="module")
def pages(document: PdfReader) -> list[str]:
    return [page.extract_text() for page in document.pages]


def test_each_page_has_its_number_the_oven_and_the_place(pages: list[str]) -> None:
    for number, page in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in page
        assert "Garden oven of Zoë, Little Hollow" in page


def test_names_come_out_in_their_own_letters(pages: list[str]) -> None:
    text = "\n".join(pages)
    for name in NAMES.values():
        assert name in text


@pytest.mark.parametrize(
    "part",
    [
        "The fires", "The oven", "The mortar", "Limits set by the builder", "Cautions",
        "Cracks and dangers reported", "Orders of the builder", "Days as they were laid",
        "Notes, talk and repairs", "Taken back", "Signatures",
    ],
)  # fmt: skip
def test_every_part_is_there(pages: list[str], part: str) -> None:
    assert part in "\n".join(pages)


def test_each_fire_has_its_heading(pages: list[str]) -> None:
    text = "\n".join(pages)
    assert re.findall(r"Fire (\d): ", text) == ["1", "2", "3", "4", "5"]


def test_a_table_that_runs_over_a_page_repeats_its_heads(pages: list[str]) -> None:
    logs = [page for page in pages if "put on 3 pieces" in page]
    assert len(logs) > 2
    assert all("Crown °C" in page for page in logs)


def test_a_reading_told_as_rough_cannot_be_taken_for_a_cold_one(pages: list[str]) -> None:
    text = "\n".join(pages)
    assert "ca 154" in text
    assert "ca: told as rough" in text


def test_an_order_names_who_when_and_why(pages: list[str]) -> None:
    text = " ".join("\n".join(pages).split())
    assert "no fires until further word “I want to see the crown first”" in text
    assert "Ole Åström" in text
    assert "taken back by Ole Åström, 6 Jun 2026, 21:01" in text


def test_the_pictures_of_fires_are_lines_and_only_photos_are_pixels(document: PdfReader) -> None:
    images = [image for page in document.pages for image in page.images]
    assert len(images) == len(PHOTOS)
    charts = [page for page in document.pages if "range to hold" in page.extract_text()]
    assert len(charts) == 5


def test_the_letters_are_in_the_file_and_can_be_selected(document: PdfReader) -> None:
    for page in document.pages:
        fonts = page["/Resources"]["/Font"].values()  # type: ignore[index]
        used = [font.get_object() for font in fonts if "DejaVu" in font.get_object()["/BaseFont"]]
        assert used
        assert all("/ToUnicode" in font for font in used)
        assert all("/FontFile2" in font["/FontDescriptor"].get_object() for font in used)


def test_five_fires_with_photos_stay_under_a_megabyte(content: bytes) -> None:
    assert len(content) < 1_000_000


def test_the_same_record_is_the_same_file_byte_for_byte(content: bytes) -> None:
    assert record_pdf(paper(), PHOTOS) == content


def test_one_who_reads_fahrenheit_gets_it_on_their_own_paper() -> None:
    document = PdfReader(io.BytesIO(record_pdf(paper("F"))))
    text = "\n".join(page.extract_text() for page in document.pages)
    assert "300 °F, range 250–335 °F" in text
    assert "Crown °F" in text
    assert "900 mm (35.4 in)" in text
    assert "°C" not in text.replace("at 20 °C", "")
    assert float(document.pages[0].mediabox.width) == 612.0


def test_a_photo_that_is_not_at_hand_or_no_picture_is_named_in_its_place() -> None:
    document = PdfReader(io.BytesIO(record_pdf(paper(), {"photo-open": b"not a picture"})))
    text = " ".join(" ".join(page.extract_text() for page in document.pages).split())
    assert "was not at hand for this paper" in text
    assert "The photo could not be read" in text


def test_where_a_photo_was_taken_is_not_handed_on() -> None:
    from PIL import Image

    kept, exif = io.BytesIO(), Image.Exif()
    exif[0x010E] = "52.1234 north, taken at home"
    Image.new("RGB", (400, 300)).save(kept, format="JPEG", exif=exif)
    assert b"52.1234 north" in kept.getvalue()
    assert b"52.1234 north" not in record_pdf(paper(), {"photo-open": kept.getvalue()})


def test_words_of_people_are_shown_and_never_obeyed(pages: list[str]) -> None:
    assert "Sheet is tied down ‹well›" in "\n".join(pages)


def test_a_sign_that_no_face_has_becomes_a_square_and_joiners_vanish() -> None:
    assert printable("Ana \N{SLICE OF PIZZA}\ufe0f!\u200d\x07") == "Ana □!"
    assert printable("e\u0301") == "é"


def _only(*kinds: type) -> OvenRecord:
    return paper(entries=tuple(entry for entry in journal() if isinstance(entry, kinds)))


def test_an_oven_that_has_only_been_entered_has_a_record_already() -> None:
    document = PdfReader(io.BytesIO(record_pdf(_only(Opened, Joined))))
    text = "\n".join(page.extract_text() for page in document.pages)
    assert "The oven has not been described yet." in text
    assert "No fire has been lit yet." in text


def test_a_fire_without_a_single_reading_has_its_page() -> None:
    document = PdfReader(io.BytesIO(record_pdf(_only(Opened, Described, FireLit))))
    assert "not read" in "\n".join(page.extract_text() for page in document.pages)


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler is not installed")
def test_poppler_opens_it_without_a_word(content: bytes, tmp_path: Path) -> None:
    file = tmp_path / "record.pdf"
    file.write_bytes(content)
    for tool in (["pdftotext", str(file), "-"], ["pdftoppm", "-r", "30", "-png", str(file), "p"]):
        done = subprocess.run(tool, cwd=tmp_path, capture_output=True, check=True)
        assert done.stderr == b""


def test_the_file_says_that_it_was_made_when_its_record_ends(document: PdfReader) -> None:
    information = document.metadata
    assert information is not None
    assert information.creation_date == datetime(2026, 6, 7, 9, tzinfo=UTC)
    assert information.modification_date == information.creation_date


def test_no_word_of_the_inside_is_on_any_page(pages: list[str]) -> None:
    text = " ".join(pages).lower()
    for word in ("takenback", "journal", "unattended", "counted as", "the cure", "trouble"):
        assert word not in text


def test_what_was_said_again_and_again_stands_once_with_how_often() -> None:
    at = journal()[-1].at
    notes = [Noted(at=at + timedelta(minutes=n), by=OWNER, text="still wet") for n in range(4)]
    document = PdfReader(io.BytesIO(record_pdf(paper(entries=(*journal(), *notes)))))
    text = " ".join(" ".join(page.extract_text() for page in document.pages).split())
    assert text.count("still wet") == 1
    assert "note: “still wet”; again three times, the last time 7 Jun 2026, 9:03" in text
