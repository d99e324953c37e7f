"""Who did as they were told has departed from nothing, however the dome answered."""

import pytest

from bot.papers.comparison import Compared, comparison
from bot.papers.departures import What, departures, too_fast
from bot.papers.firing_log import FiringLog
from bot.papers.told import Telling
from bot.wording.summary import otherwise
from scheduling.journal import FireLit, Held, Silent, TakenBack, Unheard
from scheduling.record import Record
from tests.bot.papers.one_fire import (
    BUILDER,
    LIT,
    OWNER,
    asked,
    asked_again,
    at,
    fire,
    journal,
    let_die,
    over,
    paper,
    paper_of,
    read,
    wood,
    wood_asked,
)


def kinds(log: FiringLog) -> dict[What, bool]:
    return {one.what: one.asked for one in departures(log)}


def line(told: FiringLog, what: str) -> Compared:
    sheet = Telling.of(paper(), 400.0)
    return next(one for one in comparison(sheet, told) if one.what == what)


STEEP = (read(16, 60.0), read(36, 75.0))


def test_the_first_minutes_after_a_fire_was_lit_as_told_are_no_departure() -> None:
    log = fire(*STEEP)
    assert log.climb is not None
    assert log.climb.k_h == pytest.approx(161.25)
    assert log.climb.limit_k_h == 100.0
    assert too_fast(log) is None
    climb = line(log, "Steepest climb")
    assert climb.went == "161 °C/h, 8:00 to 8:16, on the wood asked for"
    assert not climb.marked


def test_nor_are_the_minutes_after_wood_that_was_asked_for() -> None:
    log = fire(read(30, 60.0), wood_asked(30), wood(33), read(50, 100.0))
    assert log.climb is not None
    assert log.climb.k_h == pytest.approx(120.0)
    assert What.TOO_FAST not in kinds(log)


def test_a_climb_on_wood_that_nobody_had_asked_for_is_told_as_such() -> None:
    log = fire(read(30, 60.0), wood(33, advised=False), read(50, 100.0))
    assert kinds(log)[What.TOO_FAST] is False
    assert line(log, "Steepest climb").marked
    assert line(log, "Wood").marked


def test_so_is_one_on_far_more_wood_than_was_asked_for() -> None:
    log = fire(read(30, 60.0), wood_asked(30, 2), wood(33, 5), read(50, 100.0))
    assert kinds(log) == {What.MORE_WOOD: False, What.TOO_FAST: False}
    assert "1.25 kg for 0.50 kg" in line(log, "Wood").went


def test_one_piece_more_is_what_anybody_may_do() -> None:
    log = fire(read(30, 60.0), wood_asked(30, 2), wood(33, 3), read(50, 100.0))
    assert kinds(log) == {}


def test_wood_of_an_hour_before_drives_no_climb_any_more() -> None:
    log = fire(wood(10, advised=False), read(70, 60.0), wood_asked(70), wood(71), read(90, 100.0))
    assert too_fast(log) is None


def test_a_fire_lit_against_the_advice_is_judged_from_the_match_on() -> None:
    lit = FireLit(at=LIT, by=OWNER, aim=None, too_early=True)
    before = journal()[:-1]
    log = paper_of((*before, lit, *STEEP)).firings[0]
    assert set(kinds(log)) >= {What.AGAINST_ADVICE, What.TOO_FAST}


HOT = (read(60, 120.0), wood_asked(60), read(90, 200.0), *over(300))


def test_a_peak_over_the_range_on_the_wood_asked_for_is_the_fires_doing() -> None:
    log = fire(*HOT, wood(62))
    assert kinds(log)[What.OVER] is True
    peak = line(log, "Peak of the crown")
    assert peak.went == "200 °C, 30 °C above the range, on the wood asked for"
    assert not peak.marked


def test_the_same_peak_on_wood_put_on_besides_is_marked() -> None:
    log = fire(*HOT, wood(62), wood(70, advised=False))
    assert kinds(log)[What.OVER] is False
    assert line(log, "Peak of the crown").marked


def test_a_hold_that_was_ended_by_advice_is_told_as_advised() -> None:
    log = fire(read(60, 130.0), read(120, 140.0), let_die(120, "session"), *over(200))
    (short,) = departures(log)
    assert (short.what, short.asked, short.advised) == (What.SHORT, True, True)
    assert line(log, "Length").went == "3 h 20 min: let burn down, as advised"
    shown = paper(read(60, 130.0), read(120, 140.0), let_die(120, "session"), *over(200))
    assert otherwise(shown, Telling.of(shown, 1.0).m, asked=True) == (
        "Hold shorter than planned: fire 1 (1 h of 3 h, let burn down as advised).",
    )
    assert otherwise(shown, Telling.of(shown, 1.0).m, asked=False) == ("Nothing is on record.",)


def test_a_fire_that_never_came_into_its_range_was_held_for_none_of_its_hours() -> None:
    log = fire(read(30, 60.0), read(60, 90.0), *over(120, "short"))
    held = line(log, "In range or above")
    assert (held.planned, held.went, held.marked) == ("3 h", "none", False)


def test_silence_lasts_from_the_question_to_the_next_word_from_the_fire() -> None:
    log = fire(
        read(30, 60.0), asked(60), asked_again(72), Silent(at=at(85), step="told"),
        Silent(at=at(105), step="unattended"), read(150, 80.0),
    )  # fmt: skip
    assert log.silences == ((at(60), at(150)),)
    readings = line(log, "Readings")
    assert readings.went == "2 came; none from 9:00 to 10:30"
    assert readings.marked


def test_words_that_were_not_understood_are_an_answer_and_are_quoted() -> None:
    told = (
        asked(60), Unheard(at=at(62), by=OWNER, words="the arch looks odd,"), asked_again(75),
        Silent(at=at(88), step="told"), read(90, 80.0),
    )  # fmt: skip
    log = fire(*told)
    assert log.silences == ((at(75), at(90)),)
    words = [Telling.of(paper(), 1.0).told(one) for row in log.rows for one in row.told]
    assert "not understood, and asked back: “the arch looks odd”" in words


def test_who_has_no_thermometer_is_not_said_to_have_sent_no_reading() -> None:
    shown = paper(asked(30), asked(60), wood_asked(60), wood(62), *over(300), thermometer=False)
    told = comparison(Telling.of(shown, 400.0), shown.firings[0])
    assert not any(one.what in ("Readings", "Answers") for one in told)
    assert not any("nobody" in one.went or "none came" in one.went for one in told)


def test_an_order_that_was_taken_back_stays_in_the_log_of_its_fire() -> None:
    hold = Held(at=at(40), by=BUILDER, why="the render sounds hollow")
    entries = journal(read(30, 60.0), hold)
    back = TakenBack(at=at(45), by=BUILDER, seq=len(entries), why="misheard")
    shown = paper_of((*entries, back))
    t = Telling.of(shown, 400.0)
    told = [t.told(one) for row in shown.firings[0].rows for one in row.told]
    assert told == [
        "lit", "order: no fires until further word",
        "order taken back: no fires until further word",
    ]  # fmt: skip
    assert shown.record.held is None
    assert Record((*entries, back), "oven", members=0).held is None
