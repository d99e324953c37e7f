"""The record as data."""

import csv
import io
import json

from bot.papers.record_tables import COLUMNS, harmless, record_csv, record_json
from scheduling.journal import Measured, WoodPutOn
from tests.bot.papers.five_fires import BUILDER, OWNER, SECOND, paper
from tests.bot.papers.one_fire import asked, paper_of, read, wood, wood_asked
from tests.bot.papers.one_fire import journal as one_fire


def _rows() -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(record_csv(paper()))))


def test_the_table_has_a_row_for_every_reading_and_every_charge() -> None:
    rows, record = _rows(), paper().record
    assert tuple(rows[0]) == COLUMNS
    assert sum(bool(row["counts"]) for row in rows) == len(record.all_of(Measured))
    assert sum(bool(row["wood_asked_for"]) for row in rows) == len(record.all_of(WoodPutOn))


def test_rows_are_in_order_and_tell_the_ovens_own_clock() -> None:
    times = [row["at"] for row in _rows()]
    assert times == sorted(times)
    assert all(at.endswith("+01:00") for at in times)


def test_a_reading_that_does_not_count_says_why() -> None:
    (doubtful,) = [row for row in _rows() if row["counts"] == "no"]
    assert (doubtful["crown_c"], doubtful["doubt"]) == ("410.0", "flame in the spot")


def test_numbers_are_celsius_whoever_reads() -> None:
    assert record_csv(paper("F")) == record_csv(paper("C"))
    assert record_json(paper("F")) == record_json(paper("C"))


def test_people_are_named_and_no_id_is_handed_out() -> None:
    for text in (record_csv(paper()), record_json(paper())):
        assert "Zoë Łukášová-Ñíguez" in text
        assert not any(person in text for person in (OWNER, SECOND, BUILDER))


def test_json_holds_what_the_paper_holds() -> None:
    told, shown = json.loads(record_json(paper())), paper()
    assert told["stokewatch_record"] == 1
    assert [fire["peak_c"] for fire in told["fires"]] == [log.peak_c for log in shown.firings]
    assert [one["number"] for one in told["orders"]] == [one.seq for one in shown.orders]
    assert told["signs"][1]["photo"] == "photo-open"
    assert told["makeup"]["inner_diameter_mm"] == 900.0
    assert told["limits"]["cure_floor_d"] == 28


def test_a_cell_is_never_a_formula() -> None:
    assert harmless("=1+2") == "'=1+2"
    assert harmless("@sum") == "'@sum"
    assert harmless("-12.5") == "-12.5"
    assert harmless("-²") == "'-²"
    assert harmless("--5") == "'--5"
    assert harmless("＝1+2") == "'＝1+2"
    assert harmless("\n=1") == "'\n=1"


def test_a_row_of_the_table_tells_when_its_answer_was_asked_for() -> None:
    shown = paper_of(one_fire(asked(28), read(30, 60.0), wood_asked(30), wood(33)))
    rows = list(csv.DictReader(io.StringIO(record_csv(shown))))
    assert [(row["at"][11:16], row["asked_at"][11:16]) for row in rows[-2:]] == [
        ("08:30", "08:28"), ("08:33", "08:30"),
    ]  # fmt: skip


def test_the_data_tells_departures_and_whose_doing_they_were() -> None:
    shown = paper_of(one_fire(read(30, 60.0), wood(33, advised=False), read(50, 100.0)))
    (fire,) = json.loads(record_json(shown))["fires"]
    assert fire["departures"] == [
        {"what": "unasked_wood", "as_asked": False, "told": "one charge, 0.50 kg"},
        {"what": "too_fast", "as_asked": False, "told": "120 for 100 °C/h at most"},
    ]
    assert fire["held_was_read"] is True
