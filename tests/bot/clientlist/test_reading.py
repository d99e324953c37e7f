"""Files of clients as spreadsheets write them."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.clientlist.columns import COLUMNS, column, lines_in
from bot.clientlist.reading import MOST_ROWS, decoded, is_sheet, read_sheet
from bot.clientlist.writing import written


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_cells_may_stand_between_commas_semicolons_or_tabs(separator: str) -> None:
    sheet = read_sheet(separator.join(("name", "town")) + f"\r\nRosa{separator}Leeds\r\n")
    assert sheet.faults == ()
    assert dict(sheet.rows[0].cells) == {"name": "Rosa", "town": "Leeds"}


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252"])
def test_a_file_is_read_however_it_was_saved(encoding: str) -> None:
    text = decoded("name,town\nZoë,Köln\n".encode(encoding))
    assert text is not None
    assert read_sheet(text).rows[0].name == "Zoë"


def test_what_is_no_text_is_none() -> None:
    assert decoded(b"PK\x03\x04\x00\x00") is None


def test_a_row_is_known_by_the_line_on_which_it_begins() -> None:
    sheet = read_sheet('name,town\n\n"Rosa\nGreen",Leeds\nIvy,Kew\n')
    assert [(row.line, row.name) for row in sheet.rows] == [(3, "Rosa Green"), (5, "Ivy")]


@pytest.mark.parametrize(
    ("text", "what", "line"),
    [
        ("town,size\nLeeds,3", "no_header", 1),
        ("name,siz\nRosa,3", "unknown_column", 1),
        ("name,size,width\nRosa,3,4", "twice", 1),
        ("name\nRosa\n\nrosa", "twice", 4),
        ("name,town\n,Leeds", "no_name", 2),
        ("name,town\nRosa,Leeds,more", "cells", 2),
        (f"name\n{'R' * 300}", "too_long", 2),
        ("name,town\n", "no_rows", None),
        ("", "no_rows", None),
        ("name\n" + "\n".join(f"c{n}" for n in range(MOST_ROWS + 1)), "too_many", MOST_ROWS + 2),
    ],
)
def test_a_fault_has_its_line(text: str, what: str, line: int | None) -> None:
    fault = read_sheet(text).faults[0]
    assert (fault.what, fault.line) == (what, line)


def test_rows_without_a_fault_are_read_beside_those_with_one() -> None:
    sheet = read_sheet("name,town\nRosa,Leeds\n,Kew\nIvy,Kew\n")
    assert [row.name for row in sheet.rows] == ["Rosa", "Ivy"]
    assert [one.line for one in sheet.faults] == [3]


@pytest.mark.parametrize("typed", ["152", "top 152", "name", "name Rosa", "hello\nname", ""])
def test_words_are_no_file(typed: str) -> None:
    assert not is_sheet(typed)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("size: 80 cm", (("size", "80 cm"),)),
        ("Size = 80 cm\n\nlast wet work: 2 May", (("size", "80 cm"), ("finished", "2 May"))),
        ("model: Garden 80", (("model", "Garden 80"),)),
        ("size: 80 cm\nhello", ()),
        ("note: the size is 80", ()),
        ("name: Rosa", ()),
        ("size", ()),
    ],
)
def test_lines_of_keys_we_know_are_about_the_make_up(
    typed: str, told: tuple[tuple[str, str], ...]
) -> None:
    assert lines_in(typed) == told


@given(st.lists(st.fixed_dictionaries({key: st.text(max_size=20) for key in ("name", "town")})))
@settings(max_examples=60, deadline=None)
def test_whatever_is_written_is_read_back(rows: list[dict[str, str]]) -> None:
    plain = [{key: " ".join(cell.split()) for key, cell in row.items()} for row in rows]
    sheet = read_sheet(written(rows, ("name", "town")))
    read = {row.name: row.cells.get("town", "") for row in sheet.rows}
    for row in plain:
        kept = [one for one in plain if one["name"].casefold() == row["name"].casefold()]
        if row["name"] and kept[0] == row and row["name"] in read:
            assert read[row["name"]] == row["town"]


@pytest.mark.parametrize("cell", ["=1+1", "+44 1632", "@x", "-x"])
def test_a_cell_that_would_be_a_formula_is_hidden_and_read_back(cell: str) -> None:
    text = written([{"name": cell}], ("name",))
    assert f"'{cell}" in text
    assert read_sheet(text).rows[0].name == cell


def test_every_column_is_known_by_its_own_name() -> None:
    assert [column(one) for one in COLUMNS] == list(COLUMNS)
    assert column("Last wet work:") == "finished"
    assert column("colour") is None
