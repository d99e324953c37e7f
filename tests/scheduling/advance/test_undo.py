from scheduling.alarm import AlarmName
from scheduling.firing.aim import Action
from scheduling.journal import Advised, Measured, Undone
from scheduling.meaning import NothingToUndo, UndoneTold
from scheduling.remark import Reading
from tests.scheduling.road import Road, lit


def test_undo_takes_the_last_reading_back_with_all_but_the_wood_that_was_asked_for() -> None:
    road = lit()
    road.wait(31)
    before = road.record.facts
    road.reads(52)
    asked = road.entries(Advised)[-1]
    assert asked.action is Action.ADD
    road.undoes()
    assert road.last(UndoneTold).top_c == 52
    assert road.record.facts == (*before, asked)
    assert road.record.session is not None
    assert road.record.session.last is None


def test_after_an_undo_a_fresh_reading_is_asked_for_soon() -> None:
    road = lit()
    road.wait(31)
    road.reads(52)
    road.undoes()
    assert (road.alarms[AlarmName.NUDGE] - road.now).total_seconds() <= 300


def test_undo_of_the_lighting_puts_the_fire_out_of_the_book() -> None:
    road = lit()
    road.undoes()
    assert road.record.session is None
    assert AlarmName.MORNING in road.alarms


def test_there_may_be_nothing_to_undo() -> None:
    road = Road()
    road.undoes()
    assert road.heard_of(NothingToUndo)


def test_an_edited_message_replaces_what_it_said_first() -> None:
    road = lit()
    road.wait(31)
    road.say(Reading(top_c=25.0), key="u1")
    road.say(Reading(top_c=52.0), key="u2", amends="u1")
    assert [one.top_c for one in road.record.readings] == [14, 52.0]
    assert isinstance(next(e for e in road.record.entries if e.kind == "undone"), Undone)
    road.say(Reading(top_c=53.0), key="u3", amends="u1")
    assert [one.top_c for one in road.record.readings] == [14, 53.0]


def test_the_journal_forgets_nothing() -> None:
    road = lit()
    road.wait(31)
    road.reads(52)
    count = len(road.record.entries)
    road.undoes()
    assert len(road.record.entries) == count + 1
    assert any(isinstance(e, Measured) and e.top_c == 52 for e in road.record.entries)


def test_wood_asked_for_on_a_reading_taken_back_is_not_followed_by_more() -> None:
    road = lit()
    road.wait(31)
    road.reads(52)
    assert road.action is Action.ADD
    road.undoes()
    road.wait(2)
    road.reads(50)
    assert road.action is not None
    assert road.action is not Action.ADD
