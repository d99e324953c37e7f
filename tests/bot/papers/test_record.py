"""What the record of an oven holds, against a journal written by hand."""

from datetime import UTC, date, datetime, timedelta

import pytest

from bot.papers.departures import unasked
from bot.papers.record import People, record_of
from scheduling.firing.aim import Action
from scheduling.journal import (
    Asked,
    Capped,
    CrackSeen,
    DoorMoved,
    HazardClosed,
    Held,
    Jotted,
    LimitsSet,
    Measured,
    Nudged,
    Undone,
)
from scheduling.record import Record
from scheduling.remark import Sky
from tests.bot.papers.five_fires import BUILDER, OWNER, SECOND, journal, paper
from tests.bot.papers.one_fire import asked, asked_again, fire, over, read, wood, wood_asked
from tests.bot.papers.one_fire import at as minute
from tests.bot.papers.one_fire import paper as paper_of_one


def test_every_fire_is_there_in_the_order_of_lighting() -> None:
    logs = paper().firings
    assert [log.number for log in logs] == [1, 2, 3, 4, 5]
    assert [log.lit_on for log in logs] == [
        date(2026, 5, 30), date(2026, 5, 31), date(2026, 6, 2), date(2026, 6, 3), date(2026, 6, 6),
    ]  # fmt: skip


def test_the_wood_of_a_fire_is_what_was_put_on_and_unasked_wood_is_counted() -> None:
    third = paper().firings[2]
    charges = third.session.stokes
    assert third.wood_kg == pytest.approx(0.75 * (len(charges) - 1) + 1.0)
    assert [one.kg for one in unasked(third)] == [1.0]
    assert third.all_kg == pytest.approx((third.wood_kg or 0.0) + 0.8)


def test_a_peak_above_its_range_is_kept_as_it_was_read() -> None:
    third = paper().firings[2]
    assert third.aim is not None
    assert third.peak_c == 295.0
    assert third.aim.high_c == 280.0


def test_a_doubtful_reading_is_in_the_log_and_in_no_figure() -> None:
    first = paper().firings[0]
    doubtful = [row for row in first.rows if row.reading and not row.reading.believed]
    assert [row.reading.top_c for row in doubtful if row.reading] == [410.0]
    assert first.peak_c == 150.0
    assert first.climb is not None
    assert first.climb.k_h == pytest.approx(92.0)  # 104 to 150 °C in half an hour


def test_a_reading_and_the_advice_on_it_stand_in_one_row() -> None:
    first = paper().firings[0]
    row = next(row for row in first.rows if row.reading and row.reading.top_c == 61.0)
    assert row.advised is not None
    assert row.advised.action is Action.ADD
    assert row.wood is None


def test_only_a_request_that_had_to_be_repeated_has_a_row() -> None:
    third = paper().firings[2]
    asked = [told for row in third.rows for told in row.told if isinstance(told, Nudged)]
    assert len(asked) == 1
    assert third.asked > 10


def test_the_morning_reading_and_the_evening_door_belong_to_their_fire() -> None:
    first = paper().firings[0]
    assert first.rows[0].at < first.session.lit_at
    assert first.door_on_at == first.rows[-1].at
    assert paper().between == ()


def test_a_fire_has_the_forecast_of_its_hours_and_what_was_told_that_day() -> None:
    second = paper().firings[1]
    assert second.weather.said == (Sky.RAIN,)
    assert second.weather.air_low_c == pytest.approx(9.0 + 8 / 2)
    assert second.weather.source is not None
    assert second.weather.attribution == "MET Norway, CC BY 4.0"


def test_a_crack_tells_its_fire_its_photo_and_who_looked_at_it() -> None:
    hairline, open_crack = paper().signs
    assert isinstance(open_crack.seen, CrackSeen)
    assert (open_crack.firing, open_crack.seen.photo) == (5, "photo-open")
    assert isinstance(open_crack.closed, HazardClosed)
    assert open_crack.closed.by == BUILDER
    assert hairline.firing == 4
    assert hairline.closed is None  # looking at the open one settles nothing here


def test_orders_are_told_with_their_numbers_and_one_taken_back_as_taken_back() -> None:
    told = paper()
    kinds = [type(one.order) for one in told.orders]
    assert kinds[:2] == [LimitsSet, Held]
    capped = next(one for one in told.orders if isinstance(one.order, Capped))
    assert capped.back is not None
    assert capped.order == told.record.entries[capped.seq - 1]


def test_what_was_taken_back_is_told_and_counts_nowhere() -> None:
    told = paper()
    (gone,) = told.withdrawn
    assert isinstance(gone.entry, Measured)
    assert gone.entry.top_c == 1520.0
    assert all(
        row.reading is None or row.reading.top_c != 1520.0
        for log in told.firings
        for row in log.rows
    )


def test_days_are_told_each_time_they_changed_and_not_when_a_fire_left_the_list() -> None:
    told = paper()
    assert [one.why for one in told.days] == ["first", "weather"]


def test_every_reading_of_the_journal_is_told_once() -> None:
    told = paper()
    rows = [row for log in told.firings for row in log.rows] + list(told.between)
    shown = [id(row.reading) for row in rows if row.reading is not None]
    counted = [id(entry) for entry in told.record.all_of(Measured)]
    assert sorted(shown) == sorted(counted)


def test_notes_and_talk_are_told_but_not_what_the_builder_jotted_for_themselves() -> None:
    texts = [one.text for one in paper().notes]
    assert texts == ["Bring the key", "The key hangs by the door", "Sheet is tied down <well>"]


def test_a_private_note_that_was_taken_back_is_not_told_either() -> None:
    entries = journal()
    seq = next(i for i, e in enumerate(entries, 1) if isinstance(e, Jotted) and not e.shown)
    gone = Undone(at=entries[-1].at, by=BUILDER, seqs=(seq,))
    withdrawn = paper(entries=(*entries, gone)).withdrawn
    assert not any(isinstance(one.entry, Jotted) for one in withdrawn)


def test_photos_are_named_in_the_order_they_were_sent() -> None:
    assert paper().photos == ("photo-hair", "photo-open", "photo-note")


def test_people_are_known_by_their_names_and_strangers_by_none() -> None:
    people = People({OWNER: "Zoë"})
    assert (people.name(OWNER), people.name(SECOND)) == ("Zoë", "")


def test_a_place_without_a_name_is_told_by_its_degrees() -> None:
    told = record_of(Record(journal(), "o", members=0), People({}), journal()[-1].at)
    assert told.place == "52.20° N, 1.50° W"


def test_a_record_can_be_made_in_the_middle_of_a_fire() -> None:
    entries = journal()
    middle = next(i for i, e in enumerate(entries) if isinstance(e, Measured) and e.top_c == 104.0)
    until = entries[: middle + 1]
    told = record_of(Record(until, "o", members=0), People({}), until[-1].at + timedelta(minutes=1))
    (log,) = told.firings
    assert log.ended is None
    assert told.finished_at is None


def test_an_oven_without_a_journal_has_no_record() -> None:
    with pytest.raises(ValueError, match="empty journal"):
        record_of(Record((), "o", members=0), People({}), datetime(2026, 1, 1, tzinfo=UTC))


def test_a_row_tells_when_its_number_its_wood_and_its_match_were_asked_for() -> None:
    log = fire(
        asked(28), read(30, 60.0), wood_asked(30), wood(33), asked(60), asked_again(72),
        read(75, 80.0), wood(80, advised=False),
    )  # fmt: skip
    asked_at = [(row.at, row.asked_at) for row in log.rows if row.reading or row.wood]
    assert asked_at == [
        (minute(-5), None), (minute(30), minute(28)), (minute(33), minute(30)),
        (minute(75), minute(60)), (minute(80), None),
    ]  # fmt: skip


def test_a_door_that_is_told_of_three_times_went_on_once() -> None:
    doors = [DoorMoved(at=minute(n), by=OWNER, on=True) for n in (200, 201, 202)]
    rows = [row for row in fire(read(60, 130.0), *doors).rows if row.told]
    assert [row.at for row in rows if isinstance(row.told[0], DoorMoved)] == [minute(200)]


def test_a_reading_of_another_day_answers_no_question_of_the_day_before() -> None:
    morning = Asked(at=minute(60), what="morning", expect="reading")
    late = read(60 * 20, 30.0)
    rows = paper_of_one(read(10, 20.0), *over(30), morning, late).between
    assert [row.asked_at for row in rows if row.reading] == [None]
