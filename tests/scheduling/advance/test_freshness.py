"""A number counts from when it was said, and only a number of the crown calls for wood."""

from dataclasses import replace
from datetime import timedelta

from scheduling.choice import Saying
from scheduling.firing.aim import Action
from scheduling.journal import Measured
from scheduling.meaning import Doubtful, NotClear
from scheduling.remark import Doubt, Reading
from tests.scheduling.road import Road, lit

NO_WOOD = (Action.READ_AGAIN, Action.LET_FALL, Action.SPREAD, Action.ADD_NOTHING)


def at_150() -> Road:
    """A first fire on its plateau, climbing no more, its wood burnt down."""
    road = lit()
    for top_c in (45, 75, 105, 130, 150, 155):
        road.wait(30)
        road.reads(top_c)
    return road


# ---------------------------------------------------------------- when it was said


def test_a_choice_pressed_later_counts_from_when_its_number_was_sent() -> None:
    road = lit()
    road.wait(40)
    sent = road.now
    road.say(
        doubt=Doubt(why="which_number", choices=(Reading(top_c=60.0), Reading(top_c=66.0))),
        text="6o",
    )
    chosen = road.last(NotClear).doubt.choices[0]
    road.wait(45)
    road.press(Saying(remarks=(chosen,)))
    assert road.entries(Measured)[-1].at == sent
    assert road.action in NO_WOOD


def test_a_choice_that_names_its_own_time_keeps_it() -> None:
    road = lit()
    road.wait(40)
    said_at = road.now - timedelta(minutes=10)
    road.say(doubt=Doubt(why="which_number", choices=(Reading(top_c=60.0, at=said_at),)))
    chosen = road.last(NotClear).doubt.choices[0]
    assert isinstance(chosen, Reading)
    assert chosen.at == said_at


def test_what_is_asked_of_a_doubtful_reading_names_when_it_was_read() -> None:
    road = at_150()
    road.wait(10)
    road.reads(312)
    assert road.last(Doubtful).at == road.now


# ---------------------------------------------------------------- the crown, not the sides


def test_a_side_read_after_the_crown_never_calls_for_wood() -> None:
    road = at_150()
    road.wait(10)
    road.say(Reading(sides_c=(60.0,)))
    assert road.action in NO_WOOD


def test_sides_alone_never_call_for_wood() -> None:
    road = lit()
    road.wait(30)
    road.say(Reading(sides_c=(35.0,)))
    assert road.action is Action.READ_AGAIN


def test_sides_alone_still_show_a_fire_that_is_too_hot() -> None:
    road = lit()
    for side_c in (60, 110, 150, 190):
        road.wait(40)
        road.say(Reading(sides_c=(float(side_c),)))
    assert road.action in (Action.SPREAD, Action.LET_FALL)


def test_a_number_of_the_floor_does_not_make_an_impossible_crown_possible() -> None:
    road = at_150()
    road.wait(2)
    road.say(Reading(hearth_c=90.0))
    road.wait(5)
    road.reads(60)
    assert not road.entries(Measured)[-1].believed
    assert road.action not in (Action.ADD, Action.WAIT)


def test_a_number_of_a_side_does_not_make_an_impossible_crown_possible() -> None:
    road = at_150()
    road.wait(2)
    road.say(Reading(sides_c=(120.0,)))
    road.wait(5)
    road.reads(60)
    assert not road.entries(Measured)[-1].believed


def test_a_number_of_floor_or_side_lifts_no_doubt_about_the_crown() -> None:
    for other in (Reading(hearth_c=70.0), Reading(sides_c=(80.0,))):
        road = lit()
        for top_c in (45, 72, 97):
            road.wait(30)
            road.reads(top_c)
        road.wait(3)
        road.reads(300)
        road.wait(3)
        road.say(other)
        session = road.record.session
        assert session is not None
        assert session.doubted is not None
        assert road.action in NO_WOOD


def test_a_later_number_of_the_crown_settles_a_doubt_about_it() -> None:
    road = at_150()
    road.wait(3)
    road.reads(480)
    road.wait(3)
    road.reads(156)
    session = road.record.session
    assert session is not None
    assert session.doubted is None
    assert replace(session, readings=session.readings[:-1]).doubted is not None
