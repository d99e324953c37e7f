from scheduling.alarm import AlarmName
from scheduling.choice import Command, CommandName
from scheduling.firing.aim import Action
from scheduling.journal import Finished, FiringEnded
from scheduling.meaning import (
    Advice,
    BreakInDone,
    DoorNoted,
    FiringDone,
    FiringStatus,
    IdleAsked,
    MorningAfterAsk,
    MorningNoted,
    PictureShown,
    PlanTold,
)
from scheduling.record import Phase
from scheduling.record.need import phase_of
from scheduling.record.outlook import aims_of
from tests.scheduling.road import Road, fired, lit, stoking


def test_when_the_fire_has_burnt_down_the_door_is_asked_for_and_the_firing_summed_up() -> None:
    road = stoking(lit(), 152)
    road.until(road.alarms[AlarmName.EMBERS])
    assert road.action is Action.SHUT_DOOR
    road.shuts_door()
    done = road.last(FiringDone)
    assert done.why == "held"
    assert done.door_on
    assert done.shown.peak_c == 152
    assert done.shown.readings
    assert done.next_aim is not None
    assert done.next_aim.number == 2
    assert road.record.session is None
    statuses = [one for one in road.said if isinstance(one.meaning, FiringStatus)]
    assert road.last(FiringStatus).shown.ended_at == road.now
    assert len({one.slot for one in statuses}) == 1


def test_without_a_word_about_the_door_the_firing_ends_all_the_same() -> None:
    road = stoking(lit(), 152)
    road.wait(hours=5)
    assert road.entries(FiringEnded)[-1].completed
    assert phase_of(road.record, road.now) is Phase.WAITING


def test_the_door_on_a_burning_fire_is_told_to_come_off() -> None:
    road = lit()
    road.shuts_door()
    assert road.last(DoorNoted).early


def test_a_firing_that_fell_short_is_done_again() -> None:
    road = stoking(lit(), 100, times=4)
    road.fire_dies()
    ended = road.entries(FiringEnded)[-1]
    assert not ended.completed
    assert road.last(FiringDone).change == "repeat"
    again = aims_of(road.record, road.now)[0]
    assert (again.number, again.plateau_c) == (2, 150.0)


def test_the_morning_after_asks_for_a_reading_and_uses_it() -> None:
    road = fired(Road().begin({**_weekends()}))
    road.wait(hours=20)
    assert road.all_said(MorningAfterAsk) or road.record.promise[0].day == road.now.date()
    if road.all_said(MorningAfterAsk):
        road.reads(44)
        assert road.last(MorningNoted).top_c == 44


def _weekends() -> dict:  # type: ignore[type-arg]
    from scheduling.choice import About

    return {About.DAYS: "5"}


def test_a_careful_owner_comes_through_the_whole_break_in() -> None:
    road = Road().begin()
    aims: list[float] = []
    for _ in range(8):
        if road.record.finished:
            break
        aims.append(road.record.promise[0].plateau_c)
        fired(road)
    assert road.record.finished
    assert aims == sorted(aims)
    assert len(aims) == 5
    done = road.last(BreakInDone)
    assert done.firings == 5
    assert road.entries(Finished)
    assert not road.record.promise
    assert phase_of(road.record, road.now) is Phase.DONE


def test_a_finished_oven_long_idle_is_offered_gentle_fires() -> None:
    road = Road().begin()
    while not road.record.finished:
        fired(road)
    road.wait(days=61)
    idle = road.last(IdleAsked)
    assert idle.days >= 60
    question = road.record.question
    assert question is not None
    road.confirms(question.proposal or "")
    assert phase_of(road.record, road.now) is not Phase.DONE
    assert road.record.promise[0].plateau_c < 400.0


def test_the_picture_is_of_the_last_firing() -> None:
    road = fired(Road().begin())
    road.press(Command(name=CommandName.PICTURE))
    shown = road.last(PictureShown).shown
    assert shown is not None
    assert shown.aim.number == 1
    assert shown.spans_held


def test_the_plan_can_be_asked_for_between_firings() -> None:
    road = fired(Road().begin())
    road.press(Command(name=CommandName.PLAN))
    assert road.last(PlanTold).lines[0].number == 2


def test_no_wood_is_asked_for_while_it_burns_down() -> None:
    road = stoking(lit(), 152)
    before = len(road.all_said(Advice))
    road.wait(20)
    road.reads(130)
    road.wait(20)
    road.reads(110)
    assert all(a.action is not Action.ADD for a in road.all_said(Advice)[before:])


def _fire_for(road: Road, held_minutes: float, top_c: float = 150.0) -> FiringEnded:
    """A fire that is up within an hour, held so long, and then dies."""
    road.until(road.record.promise[0].start)
    road.reads(20)
    road.lights()
    for read_c in (60.0, 100.0, top_c):
        road.wait(minutes=25)
        road.reads(read_c)
    for _ in range(round(held_minutes / 15)):
        road.wait(minutes=15)
        road.reads(top_c)
    road.fire_dies()
    return road.entries(FiringEnded)[-1]


def test_short_fires_add_up_whatever_came_between_them() -> None:
    road = Road().begin()
    hold_h = road.record.promise[0].hold_h
    first = _fire_for(road, 15)
    assert not first.completed
    assert not _fire_for(road, 15, top_c=90.0).completed, "it never came near"
    last = _fire_for(road, 60.0 * (0.5 * hold_h - first.held_h))
    assert last.held_h < 0.5 * hold_h
    assert last.completed
    assert road.record.promise[0].plateau_c > 150.0


def test_fires_that_never_came_there_do_not_add_up() -> None:
    road = Road().begin()
    for _ in range(4):
        assert not _fire_for(road, 45, top_c=90.0).completed
    assert road.record.promise[0].plateau_c == 150.0
