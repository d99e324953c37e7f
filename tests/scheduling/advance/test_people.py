"""Who tends an oven, who looks after it, and what is asked at the end."""

from scheduling.advance.people import ask_keeping
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.choice import Agreeing, Command, CommandName, Keep, LookingAfter, Tending
from scheduling.happening import Begun
from scheduling.journal import Agreed, Finished, FireLit, LookedAfter
from scheduling.meaning import (
    KeepAsked,
    KeepNoted,
    LookedAfterTold,
    NothingToUndo,
    OvenGone,
    PersonJoined,
    Welcome,
)
from scheduling.outcome import BUILDER, TENDERS, team
from scheduling.record import Phase
from scheduling.record.need import needs_of, phase_of
from tests.scheduling.road import ANA, Road


def begun(builder: str | None = "team-b") -> Road:
    road = Road()
    road.happen(Begun(ANA, "Ana's oven", builder, "Alder Ovens"))
    return road


def ended(builder: str | None = "team-b", times: int = 1) -> Road:
    road = begun(builder)
    for _ in range(times):
        turn = Turn(road.record, road.now, ANA)
        turn.write(Finished(at=road.now))
        ask_keeping(turn)
        outcome = turn.outcome()
        road.record = road.record.with_entries(outcome.entries)
        road.said += outcome.messages
        road.alarms |= {alarm.name: alarm.due for alarm in outcome.set_alarms}
    return road


def test_an_invited_owner_is_told_the_builders_name() -> None:
    assert begun().last(Welcome).by == "Alder Ovens"


def test_at_the_end_the_owner_is_asked_once_what_may_be_kept() -> None:
    road = ended(times=3)
    assert len(road.all_said(KeepAsked)) == 1
    assert road.said[-1].to == ANA


def test_an_owner_alone_is_not_asked() -> None:
    assert not ended(builder=None).all_said(KeepAsked)


def test_who_has_said_so_before_is_not_asked() -> None:
    road = begun()
    road.press(Agreeing(keeps=Keep.NAMELESS))
    assert not road.last(KeepNoted).ended
    turn = Turn(road.record, road.now, ANA)
    turn.write(Finished(at=road.now))
    ask_keeping(turn)
    assert not turn.said_anything


def test_silence_for_a_month_means_nothing_is_kept() -> None:
    road = ended()
    road.wait(days=29)
    assert not road.entries(LookedAfter)
    road.wait(days=2)
    assert road.record.agreed is Keep.NOTHING
    assert road.record.builder is None
    gone = next(m for m in road.said if isinstance(m.meaning, OvenGone))
    assert gone.to == team("team-b")


def test_an_answer_ends_the_waiting() -> None:
    road = ended()
    road.press(Agreeing(keeps=Keep.NAMED))
    assert AlarmName.PARTING not in road.alarms
    road.wait(days=60)
    assert road.record.builder == "team-b"


def test_who_moves_on_is_told_and_so_are_both_builders() -> None:
    road = begun()
    road.press(LookingAfter(builder="team-e", name="Elm"))
    assert road.record.builder == "team-e"
    told = {(m.to, type(m.meaning)) for m in road.said[road.mark :]}
    assert told == {
        (TENDERS, LookedAfterTold),
        (team("team-b"), OvenGone),
        (BUILDER, LookedAfterTold),
    }
    road.press(LookingAfter(builder="team-e", name="Elm"))
    assert road.heard == []


def test_when_the_last_has_gone_nothing_is_asked_and_the_builder_is_told() -> None:
    road = begun()
    road.press(Tending(person="ben"))
    road.press(Tending(person=ANA, joined=False))
    assert road.heard_of(PersonJoined)
    assert not road.heard_of(OvenGone)
    assert road.alarms
    road.press(Tending(person="ben", joined=False, keeps=Keep.NAMED), by="ben")
    assert road.last(OvenGone).keeps is Keep.NAMED
    assert road.alarms == {}
    assert road.record.is_left
    assert phase_of(road.record, road.now) is Phase.LEFT
    assert needs_of(road.record, road.now) == ()


def test_a_fire_that_burns_counts_even_where_all_have_left() -> None:
    road = begun()
    road.record = road.record.with_entries([FireLit(at=road.now, aim=None)])
    road.press(Tending(person=ANA, joined=False))
    assert phase_of(road.record, road.now) is Phase.LIT


def test_what_others_have_acted_on_is_not_undone() -> None:
    road = begun()
    road.press(Agreeing(keeps=Keep.NAMED))
    road.press(LookingAfter(builder="team-e", name="Elm"))
    road.wait(minutes=1)
    road.press(Command(name=CommandName.UNDO))
    assert road.heard_of(NothingToUndo)
    assert road.entries(LookedAfter)
    assert road.record.last_of(Agreed) is not None
    assert road.record.builder == "team-e"
