"""A finished oven teaches the next of its model, once its owner has agreed and five have."""

from functools import cache

import pytest

from scheduling.choice import About, Agreeing, Keep
from scheduling.happening import Begun, WaysTaken
from scheduling.journal import ENTRY, Agreed, Entry, Learnt, Model, Opened, Promised, Taught
from scheduling.journal.forgetting import Forgotten, without
from scheduling.meaning import DaysMoved
from scheduling.oven.lesson import Told
from scheduling.oven.prior import Narrowed
from scheduling.record import Record
from scheduling.record.crown import known_of
from scheduling.record.lesson import fires_range, lesson_of, lessons_for
from scheduling.record.wall import believe
from tests.scheduling.road import ANA, ANSWERS, START, Road, fired

FEW = 12


@cache
def done() -> Road:
    """A break-in from first to last, by the rule alone; nothing is agreed yet."""
    road = Road().begin(builder="team-b")
    for _ in range(9):
        if not road.record.promise or road.record.finished:
            break
        fired(road)
    assert road.record.finished
    return road


def walled(keeps: Keep | None = Keep.NAMELESS, builder: str | None = "team-b") -> Record:
    """That journal with the wall behind it, and with what was agreed at its end."""
    entries: list[Entry] = [
        one.model_copy(update={"builder": builder}) if isinstance(one, Opened) else one
        for one in done().record.entries
    ]
    if keeps is not None:
        entries.append(Agreed(at=done().now, by=ANA, keeps=keeps))
    return Record(tuple(entries), members=FEW)


def taught(wood: float = 0.2, fires: int = 7, diameter: str = "900") -> Taught:
    """What one oven of a model may have taught."""
    makeup = Road().begin({About.SIZE: diameter}).record.makeup
    assert makeup is not None
    told = (Told(quantity="taken_up", mean=wood, sd=0.1),)
    return Taught(at=START, model=Model.of(makeup), told=told, fires=fires, promised=7, days=9)


def begun(*learnt: Learnt, members: int = FEW) -> Road:
    """An oven that begins with what was learnt."""
    road = Road(record=Record(members=members))
    given = tuple(ANSWERS.items())
    ways = WaysTaken(person="", learnt=learnt)
    road.happen(Begun(ANA, "Dome", "team-b", given=given, ways=ways))
    return road


def test_it_teaches_of_its_wood_and_its_door_and_how_many_fires_it_took() -> None:
    record = walled()
    lesson = lesson_of(record, done().now)
    assert lesson is not None
    assert {one.quantity for one in lesson.told} <= {"taken_up", "door_on"}
    assert "taken_up" in {one.quantity for one in lesson.told}
    assert lesson.fires == len(record.ended_sessions)
    assert lesson.days >= lesson.fires
    assert ENTRY.validate_json(ENTRY.dump_json(lesson)) == lesson


@pytest.mark.parametrize(
    ("keeps", "builder"), [(None, "team-b"), (Keep.NOTHING, "team-b"), (Keep.NAMED, None)]
)
def test_without_an_agreement_or_a_builder_it_teaches_nothing(
    keeps: Keep | None, builder: str | None
) -> None:
    assert lesson_of(walled(keeps, builder), done().now) is None


def test_it_teaches_once_when_the_owner_agrees_after_the_end() -> None:
    road = Road(done().now, walled(None), dict(done().alarms), [], count=done().count)
    road.press(Agreeing(keeps=Keep.NAMED))
    road.press(Agreeing(keeps=Keep.NAMELESS))
    assert len(road.record.all_of(Taught)) == 1


def test_what_it_taught_names_nobody_and_stays_with_the_figures() -> None:
    lesson = lesson_of(walled(), done().now)
    assert lesson is not None
    gone = Forgotten(frozenset({ANA}), ("Ana",), wholly=True)
    (left,) = without((lesson,), gone)
    assert left == lesson
    assert "ana" not in lesson.model_dump_json().lower()


def test_four_finished_ovens_teach_nothing_and_five_do_model_by_model() -> None:
    assert lessons_for([taught()] * 4, START) == ()
    others = [taught(diameter="700")] * 3
    (learnt,) = lessons_for([*[taught()] * 5, *others], START)
    assert (learnt.ovens, learnt.model) == (5, taught().model)
    (one,) = learnt.narrowed
    assert one.width < 0.8
    assert one.shift > 0.3


def test_how_many_fires_such_ovens_take_is_told_as_a_range_around_what_is_promised() -> None:
    (more,) = lessons_for([taught(fires=9)] * 8, START)
    (same,) = lessons_for([taught(fires=7)] * 8, START)
    low, high = fires_range(more, 7) or (0, 0)
    assert low <= 9 <= high
    assert (fires_range(same, 7) or (0, 0))[1] < high


def test_the_next_oven_of_the_model_begins_with_it_and_another_does_not() -> None:
    (learnt,) = lessons_for([taught()] * 6, START)
    (other,) = lessons_for([taught(diameter="700")] * 6, START)
    same, not_same = begun(learnt).record, begun(other).record
    assert same.learnt is not None
    assert same.learnt.ovens == 6
    assert not_same.learnt is None
    with_it, without_it = believe(same, START), believe(not_same, START)
    assert with_it is not None
    assert without_it is not None
    logs = [one.ensemble.draws.of("taken_up") for one in (with_it, without_it)]
    assert logs[0].std() < logs[1].std()
    assert logs[0].mean() > logs[1].mean() + 0.3


def test_it_is_replayed_from_the_journal_alone() -> None:
    (learnt,) = lessons_for([taught()] * 6, START)
    record = begun(learnt).record
    again = believe(Record(record.entries, members=FEW), START)
    first = believe(record, START)
    assert first is not None
    assert again is not None
    assert (first.ensemble.draws.normals == again.ensemble.draws.normals).all()


def test_wood_that_gave_more_makes_a_first_charge_smaller_and_less_leaves_it() -> None:
    gains = []
    for wood in (0.3, 0.0, -0.4):
        (learnt,) = lessons_for([taught(wood)] * 6, START)
        record = begun(learnt, members=0).record
        gains.append(known_of(record, START).guess_k_kg)
    assert gains[0] > 1.1 * gains[1]
    assert gains[2] == pytest.approx(known_of(begun(members=0).record, START).guess_k_kg)


def test_a_builder_who_wants_no_learning_any_more_takes_it_from_the_running_ones() -> None:
    (learnt,) = lessons_for([taught(0.3)] * 6, START)
    road = begun(learnt)
    off = Learnt(at=road.now, model=learnt.model, ovens=0)
    road.happen(WaysTaken(person="beth", learnt=(off,)))
    assert road.record.learnt is None
    alone = begun()
    assert [one.plateau_c for one in road.record.promise] == [
        one.plateau_c for one in alone.record.promise
    ]


def test_days_that_move_for_it_are_told_to_whoever_tends_the_oven() -> None:
    model = taught().model
    door = Narrowed(quantity="door_on", shift=2.0, width=0.4)
    road = begun(Learnt(at=START, model=model, ovens=6, narrowed=(door,)))
    before = len(road.record.promise)
    road.happen(WaysTaken(person="beth", learnt=(Learnt(at=START, model=model, ovens=0),)))
    assert len(road.record.promise) < before
    (moved,) = road.heard_of(DaysMoved)
    assert len(moved.lines) == len(road.record.promise)


def test_old_journals_know_nothing_of_it() -> None:
    record = done().record
    assert record.learnt is None
    assert not record.all_of(Taught)
    assert len(record.all_of(Promised)) > 1
