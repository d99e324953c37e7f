from collections.abc import Callable
from datetime import timedelta

import pytest

from scheduling.alarm import AlarmName
from scheduling.choice import Tending
from scheduling.firing.aim import Action
from scheduling.happening import CAME_BACK, Delivery
from scheduling.journal import Constructed, FiringEnded, HazardClosed, Silent
from scheduling.meaning import Advice, Alert, FiringStatus, Nudge, SecondTold, Unattended
from scheduling.outcome import BUILDER
from scheduling.record import Phase
from scheduling.record.need import needs_of, phase_of
from scheduling.record.standing import Concern
from scheduling.remark import Sky, WeatherSaid
from tests.scheduling.road import ANA, Road, lit


def test_silence_is_repeated_once_then_told_then_taken_to_be_unattended() -> None:
    road = lit(builder="beth")
    road.wait(hours=2)
    kinds = [
        type(m.meaning)
        for m in road.said
        if isinstance(m.meaning, Nudge | Unattended)
        or (isinstance(m.meaning, Alert) and not m.meaning.again)
    ]
    assert kinds == [Nudge, Nudge, Alert, Unattended]
    assert [nudge.repeat for nudge in road.all_said(Nudge)] == [False, True]
    assert [one.step for one in road.entries(Silent)] == ["told", "unattended"]
    assert [one.what for one in needs_of(road.record, road.now)] == [Concern.SILENT]


def test_the_builder_hears_of_it_and_so_does_the_second_person() -> None:
    road = lit(builder="beth")
    road.press(Tending(person="ben"))
    road.wait(hours=2)
    told = [m for m in road.said if isinstance(m.meaning, SecondTold)]
    assert [m.to for m in told] == ["ben"]
    alerts = [m for m in road.said if isinstance(m.meaning, Alert)]
    assert {m.to for m in alerts} == {BUILDER}
    assert sum(not alert.again for alert in road.all_said(Alert)) == 1


def test_a_late_reply_is_welcome_and_adds_nothing_before_it_is_understood() -> None:
    road = lit()
    road.wait(hours=1.4)
    road.reads(60)
    advice = road.last(Advice)
    assert advice.late
    assert road.record.session is not None
    assert road.record.session.silent is None
    assert needs_of(road.record, road.now) == ()


def test_an_unattended_fire_is_asked_about_once_an_hour_and_an_answer_is_used() -> None:
    road = lit()
    road.wait(hours=2)
    asked = len(road.all_said(Nudge))
    road.wait(60)
    assert len(road.all_said(Nudge)) == asked + 1
    assert all(nudge.kg is None for nudge in road.all_said(Nudge))
    road.reads(60)
    assert road.last(Advice).late
    assert road.record.session is not None


def test_an_unattended_fire_ends_by_itself_and_does_not_count() -> None:
    road = lit()
    road.wait(hours=8)
    ended = road.entries(FiringEnded)[-1]
    assert ended.why == "unattended"
    assert not ended.completed
    assert road.record.promise[0].plateau_c == 150.0
    assert phase_of(road.record, road.now) is Phase.WAITING


def test_after_a_downtime_the_overdue_nudges_are_one() -> None:
    road = lit()
    due = road.alarms[AlarmName.NUDGE]
    road.sleep_through(due + timedelta(minutes=50))
    nudges = road.heard_of(Nudge)
    assert len(nudges) == 1
    assert nudges[0].late_minutes == 50


def test_a_restart_goes_on_with_the_conversation() -> None:
    road = lit()
    road.sleep_through(road.alarms[AlarmName.NUDGE] + timedelta(minutes=3))
    road.reads(50)
    assert road.action is Action.ADD


def test_any_word_ends_the_silence() -> None:
    road = lit()
    road.wait(45)
    assert road.all_said(Nudge)
    road.say()
    assert AlarmName.SILENCE not in road.alarms
    assert AlarmName.NUDGE in road.alarms


@pytest.mark.parametrize(
    "answer",
    [
        lambda road: road.sees("smoke"),
        lambda road: road.say(photo="telegram:f1"),
        lambda road: road.say(WeatherSaid(what=Sky.WIND)),
    ],
    ids=["smoke", "photo", "wind"],
)
@pytest.mark.parametrize("after", [3.0, 15.0], ids=["the nudge", "the repeat"])
def test_an_answer_without_a_number_does_not_end_the_watch_over_the_fire(
    answer: Callable[[Road], object], after: float
) -> None:
    road = lit(builder="beth")
    road.until(road.alarms[AlarmName.NUDGE])
    road.wait(after)
    answer(road)
    said = len(road.said)
    road.wait(hours=3)
    since = [type(one.meaning) for one in road.said[said:]]
    assert {Nudge, Alert, Unattended} <= set(since)


def test_what_a_builder_writes_down_from_afar_is_no_sign_of_life_at_the_fire() -> None:
    road = lit(builder="beth")
    road.wait(hours=1.1)
    before = road.record.session
    assert before is not None
    assert before.silent is not None
    layers = road.record.makeup.layers if road.record.makeup is not None else ()
    entries = (
        HazardClosed(at=road.now, by="beth", what="crack"),
        Constructed(
            at=road.now,
            by="beth",
            construction="own",
            layers=layers,
            characteristic_strength_mpa=20.0,
        ),
    )
    for entry in entries:
        after = road.record.with_entries((entry,)).session
        assert after is not None
        assert after.silent is not None
        assert after.heard_at == before.heard_at


def test_who_lets_the_bot_in_again_at_a_burning_fire_is_asked_at_once() -> None:
    road = lit()
    road.wait(31)
    road.reads(60)
    road.happen(Delivery(ANA, reached=False, why="blocked"))
    road.wait(50)
    road.happen(Delivery(ANA, reached=True, why=CAME_BACK))
    assert [type(one) for one in road.heard] == [Nudge, FiringStatus]
    assert AlarmName.REPEAT in road.alarms
    assert AlarmName.SILENCE not in road.alarms


def test_who_is_back_with_a_word_is_answered_and_not_asked_as_well() -> None:
    road = lit()
    road.wait(31)
    road.happen(Delivery(ANA, reached=False, why="blocked"))
    road.happen(Delivery(ANA, reached=True))
    assert not road.heard_of(Nudge)
